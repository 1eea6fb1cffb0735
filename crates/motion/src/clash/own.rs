//! Where a limb would pass through the own body.
//!
//! Every part is a line with half a girth about it, a little less than it is drawn with, so that what only touches does not count.

use crate::body::{Segment, Side};
use crate::grip::Contact;
use crate::key::Pair;
use crate::posture::Posture;
use crate::space::Vector;

/// Half the girth of each part, of stature. Ours.
const TRUNK: f64 = 0.045;
const TRUNK_HALF_BREADTH: f64 = 0.030;
const HEAD: f64 = 0.050;
const UPPER_ARM: f64 = 0.018;
const FOREARM: f64 = 0.015;
const HAND: f64 = 0.012;
const THIGH: f64 = 0.032;
const SHANK: f64 = 0.024;
const FOOT: f64 = 0.017;

/// A line with a girth.
struct Rod {
    of: Segment,
    ends: [Vector; 2],
    half_m: f64,
}

/// Every pair of segments of which one is inside the other, and how deep. What a hand lies on does not count for its arm.
pub(crate) fn crossings(
    posture: &Posture,
    hands: &Pair<Option<Contact>>,
) -> Vec<(Segment, Segment, f64)> {
    let mut found = Vec::new();
    for side in Side::BOTH {
        let mut near = trunk(posture);
        near.extend(legs(posture, side));
        near.extend(legs(posture, side.other()));
        near.extend(arm(posture, side.other()));
        for mine in forearm(posture, side) {
            let others = near.iter().filter(|other| !lies_on(hands, side, other.of));
            found.extend(others.filter_map(|other| deep(&mine, other)));
        }
    }
    let [left, right] = Side::BOTH.map(|side| legs(posture, side));
    for mine in &left {
        let others = right
            .iter()
            .filter(|other| !is_thigh(mine.of) || !is_thigh(other.of));
        found.extend(others.filter_map(|other| deep(mine, other)));
    }
    found
}

const fn is_thigh(segment: Segment) -> bool {
    matches!(segment, Segment::Thigh(_))
}

/// Whether one of the two hands that could meet here lies on the other's segment.
fn lies_on(hands: &Pair<Option<Contact>>, side: Side, other: Segment) -> bool {
    let on = |side| match hands.of(side) {
        Some(Contact::Own(segment)) => Some(segment),
        _ => None,
    };
    let trunk = |segment| {
        matches!(
            segment,
            Segment::Pelvis | Segment::Abdomen | Segment::Thorax
        )
    };
    let of_arm = |segment, side| {
        segment == Segment::UpperArm(side)
            || segment == Segment::Forearm(side)
            || segment == Segment::Hand(side)
    };
    let mine = on(side).is_some_and(|under| {
        under == other
            || trunk(under) && trunk(other)
            || of_arm(under, side.other()) && of_arm(other, side.other())
    });
    // Both hands on the trunk may lie over one another; so may an arm that the other hand holds.
    let crossed = of_arm(other, side.other())
        && (on(side).is_some_and(trunk) && on(side.other()).is_some_and(trunk)
            || on(side.other()).is_some_and(|under| of_arm(under, side)));
    mine || crossed
}

/// How deep two parts are in one another, if they are.
fn deep(one: &Rod, other: &Rod) -> Option<(Segment, Segment, f64)> {
    let deep_m = one.half_m + other.half_m - distance(one.ends, other.ends);
    (deep_m > 0.0).then_some((one.of, other.of, deep_m))
}

fn rod(posture: &Posture, of: Segment, ends: [Vector; 2], half: f64) -> Rod {
    Rod {
        of,
        ends,
        half_m: half * posture.body().stature_m(),
    }
}

fn forearm(posture: &Posture, side: Side) -> [Rod; 2] {
    let (forearm, hand) = (Segment::Forearm(side), Segment::Hand(side));
    let wrist = posture.frame(hand).at;
    // The fingers bend out of the way, the elbow belongs to the upper arm.
    let elbow = posture.frame(forearm).at;
    let from = elbow + (wrist - elbow) * 0.25;
    let to = wrist + (posture.end(hand) - wrist) * 0.7;
    [
        rod(posture, forearm, [from, wrist], FOREARM),
        rod(posture, hand, [wrist, to], HAND),
    ]
}

fn arm(posture: &Posture, side: Side) -> Vec<Rod> {
    let upper = Segment::UpperArm(side);
    let ends = [posture.frame(upper).at, posture.end(upper)];
    let mut rods = vec![rod(posture, upper, ends, UPPER_ARM)];
    rods.extend(forearm(posture, side));
    rods
}

fn legs(posture: &Posture, side: Side) -> [Rod; 3] {
    let body = posture.body();
    let line = |segment| [posture.frame(segment).at, posture.end(segment)];
    let sole = [body.heel(), body.ball()].map(|inner| {
        let above = Vector::UP * (FOOT * body.stature_m());
        posture.foot_point(side, inner) + posture.frame(Segment::Foot(side)).turned.apply(above)
    });
    [
        rod(
            posture,
            Segment::Thigh(side),
            line(Segment::Thigh(side)),
            THIGH,
        ),
        rod(
            posture,
            Segment::Shank(side),
            line(Segment::Shank(side)),
            SHANK,
        ),
        rod(posture, Segment::Foot(side), sole, FOOT),
    ]
}

fn trunk(posture: &Posture) -> Vec<Rod> {
    let stature_m = posture.body().stature_m();
    let mut rods = Vec::new();
    for segment in [Segment::Pelvis, Segment::Abdomen, Segment::Thorax] {
        let left = posture.frame(segment).turned.left * (TRUNK_HALF_BREADTH * stature_m);
        let (from, to) = (posture.frame(segment).at, posture.end(segment));
        for beside in [left, Vector::ZERO, -left] {
            rods.push(rod(posture, segment, [from + beside, to + beside], TRUNK));
        }
    }
    let head = posture.frame(Segment::Head);
    let middle = |up: f64| head.point(Vector::new(0.013, 0.0, up) * stature_m);
    rods.push(rod(
        posture,
        Segment::Head,
        [middle(0.09), middle(0.125)],
        HEAD,
    ));
    rods
}

/// The least distance between two lines from end to end.
fn distance([a, b]: [Vector; 2], [c, d]: [Vector; 2]) -> f64 {
    let (first, second, between) = (b - a, d - c, a - c);
    let (aa, ee) = (first.dot(first), second.dot(second));
    let (af, ef) = (first.dot(between), second.dot(between));
    let ae = first.dot(second);
    let spread = aa * ee - ae * ae;
    let mut on_first = if spread > 1e-12 {
        ((ae * ef - af * ee) / spread).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let on_second = ((ae * on_first + ef) / ee.max(1e-12)).clamp(0.0, 1.0);
    on_first = ((ae * on_second - af) / aa.max(1e-12)).clamp(0.0, 1.0);
    (a + first * on_first).distance(c + second * on_second)
}

#[cfg(test)]
mod tests {
    use super::distance;
    use crate::space::Vector;
    use proptest::prelude::*;

    fn point() -> impl Strategy<Value = Vector> {
        (-1.0..1.0, -1.0..1.0, -1.0..1.0).prop_map(|(x, y, z)| Vector::new(x, y, z))
    }

    proptest! {
        #[test]
        fn law_no_two_points_of_two_lines_are_nearer_than_their_distance(
            a in point(), b in point(), c in point(), d in point(),
        ) {
            const PARTS: u32 = 40;
            let found = distance([a, b], [c, d]);
            let mut least = f64::INFINITY;
            for i in 0..=PARTS {
                for j in 0..=PARTS {
                    let share = |part: u32| f64::from(part) / f64::from(PARTS);
                    let (p, q) = (a + (b - a) * share(i), c + (d - c) * share(j));
                    least = least.min(p.distance(q));
                }
            }
            prop_assert!(found <= least + 1e-9 && least - found < 0.06, "{found} {least}");
        }
    }
}

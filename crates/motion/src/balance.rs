//! Balance: where the body is borne, and how far its centre of mass is from the edge of that.

use crate::body::{Body, Segment, Side};
use crate::cycle::{Bearing, Cycle};
use crate::evidence::{EXTRAPOLATED_CENTRE, SUPPORT_OURS, SourceId};
use crate::grip::Contact;
use crate::held::palm;
use crate::posture::Posture;
use crate::room::Room;
use crate::settle::Unsettled;
use crate::space::Vector;

/// Sources of the numbers in this file.
pub const SOURCES: [SourceId; 2] = [EXTRAPOLATED_CENTRE, SUPPORT_OURS];

/// A point of a foot bears when it is no higher than this. Ours.
const TOUCHES_M: f64 = 0.002;
/// How far the seat bears behind the hips, of stature. Ours.
const SEAT_BEHIND_HIPS: f64 = 0.05;
/// How much of the thigh lies on a seat that is deep enough. Ours.
const THIGH_ON_SEAT: f64 = 0.75;
/// Acceleration of a falling body.
const GRAVITY_M_PER_S2: f64 = 9.81;

/// What bears the body, seen from above: the convex outline of every point that does.
#[derive(Clone, Debug, PartialEq)]
pub struct Support {
    /// Corners in the order of left turns.
    outline: Vec<[f64; 2]>,
}

impl Support {
    /// The support of a posture.
    pub fn of(posture: &Posture, bearing: &Bearing, room: &Room) -> Self {
        let mut points = Vec::new();
        for side in Side::BOTH {
            if bearing.feet.of(side) {
                points.extend(sole(posture, room, side));
            }
            if let Some(Contact::On(_)) = bearing.hands.of(side) {
                points.push(palm(posture, side));
            }
        }
        if bearing.seat {
            points.extend(seat(posture, room));
        }
        Self::around(points.into_iter().map(|point| [point.x, point.y]).collect())
    }

    /// Whether a point of a foot is low enough over floor or step to bear.
    pub fn bears(body: &Body, room: &Room, point: Vector) -> bool {
        point.z - room.ground_m(body, point) <= TOUCHES_M
    }

    /// The outline of points on the floor.
    fn around(mut points: Vec<[f64; 2]>) -> Self {
        points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
        let mut outline = half_outline(points.iter());
        let back = half_outline(points.iter().rev());
        // Each half ends where the other one begins.
        outline.pop();
        outline.extend(back);
        if outline.len() > 1 {
            outline.pop();
        }
        Self { outline }
    }

    /// How far inside the edge the point above it is; less than 0 outside. None where nothing bears.
    pub fn margin_m(&self, above: Vector) -> Option<f64> {
        let point = [above.x, above.y];
        let corners = self.outline.len();
        let edges = (0..corners).map(|at| [self.outline[at], self.outline[(at + 1) % corners]]);
        let nearest_m = edges
            .clone()
            .map(|edge| distance(edge, point))
            .min_by(f64::total_cmp)?;
        let inside = corners > 2 && edges.clone().all(|[from, to]| turn(from, to, point) >= 0.0);
        Some(if inside { nearest_m } else { -nearest_m })
    }
}

/// The lower or upper half of the outline of sorted points.
fn half_outline<'a>(points: impl Iterator<Item = &'a [f64; 2]>) -> Vec<[f64; 2]> {
    let mut half: Vec<[f64; 2]> = Vec::new();
    for &point in points {
        while let [.., from, to] = half[..]
            && turn(from, to, point) <= 0.0
        {
            half.pop();
        }
        half.push(point);
    }
    half
}

/// More than 0 where the way from one point over the next to a third turns left.
fn turn(from: [f64; 2], to: [f64; 2], then: [f64; 2]) -> f64 {
    (to[0] - from[0]) * (then[1] - from[1]) - (to[1] - from[1]) * (then[0] - from[0])
}

/// How far a point is from an edge.
fn distance([from, to]: [[f64; 2]; 2], point: [f64; 2]) -> f64 {
    let edge = [to[0] - from[0], to[1] - from[1]];
    let way = [point[0] - from[0], point[1] - from[1]];
    let long2 = edge[0] * edge[0] + edge[1] * edge[1];
    let share = if long2 > 0.0 {
        ((way[0] * edge[0] + way[1] * edge[1]) / long2).clamp(0.0, 1.0)
    } else {
        0.0
    };
    libm::hypot(way[0] - share * edge[0], way[1] - share * edge[1])
}

/// The corners of a sole that touch the ground.
fn sole(posture: &Posture, room: &Room, side: Side) -> impl Iterator<Item = Vector> {
    let body = posture.body();
    let half = Vector::LEFT * (body.foot_breadth_m() / 2.0);
    [body.heel(), body.ball(), body.toe_tip()]
        .into_iter()
        .flat_map(move |middle| [middle + half, middle - half])
        .map(move |inner| posture.foot_point(side, inner))
        .filter(move |point| Support::bears(body, room, *point))
}

/// The corners of what lies on the seat.
fn seat(posture: &Posture, room: &Room) -> Vec<Vector> {
    let body: &Body = posture.body();
    let hips = posture.frame(Segment::Pelvis).at;
    let on_thighs_m = THIGH_ON_SEAT * body.length_m(Segment::Thigh(Side::Left));
    let front_m = room.chair.map_or(hips.x, |chair| {
        chair.front_m(body).min(hips.x + on_thighs_m)
    });
    let back_m = hips.x - SEAT_BEHIND_HIPS * body.stature_m();
    let half_m = body.hip_half_breadth_m();
    [back_m, front_m]
        .into_iter()
        .flat_map(|x| [-half_m, half_m].map(|y| Vector::new(x, hips.y + y, hips.z)))
        .collect()
}

/// How well a body is balanced at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// How far inside the support the centre of mass is.
    pub margin_m: f64,
    /// The same for the extrapolated centre, which tells whether the body would tip if nothing more were done.
    pub extrapolated_m: f64,
}

/// How well a body is balanced at a moment of a cycle; none where nothing bears it.
///
/// The extrapolated centre of mass is x + v / w with w = sqrt(g / l): x and v place and speed of the centre of mass over the floor,
/// l the length of the pendulum, here the height of the centre.
/// Source: Hof, Gazendam and Sinke 2005, recalled.
// Departure: the paper takes l from the length of the leg; the height of the centre also serves somebody who sits.
///
/// # Errors
/// When a limb does not reach at that moment.
pub fn balance(cycle: &Cycle, ms: f64) -> Result<Option<Balance>, Unsettled> {
    const STEP_MS: f64 = 1.0;
    let posture_at = |ms| Ok(Posture::of(cycle.body(), &cycle.at_ms(ms)?));
    let posture = posture_at(ms)?;
    let centre_of = |posture: &Posture| cycle.held().centre_of_mass(posture);
    let centre = centre_of(&posture);
    let way = centre_of(&posture_at(ms + STEP_MS)?) - centre_of(&posture_at(ms - STEP_MS)?);
    let speed = way * (1000.0 / (2.0 * STEP_MS));
    let pendulum_s = libm::sqrt(centre.z.max(0.0) / GRAVITY_M_PER_S2);
    let support = Support::of(&posture, &cycle.bearing(ms), cycle.room());
    let margins = (
        support.margin_m(centre),
        support.margin_m(centre + speed * pendulum_s),
    );
    Ok(match margins {
        (Some(margin_m), Some(extrapolated_m)) => Some(Balance {
            margin_m,
            extrapolated_m,
        }),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::{Support, balance};
    use crate::body::{Body, Side};
    use crate::cycle::{Bearing, Cycle};
    use crate::held::Held;
    use crate::key::{Arm, Foot, FootOn, Hand, HandOn, Hips, Key, Leg, Pair, Pause, Tilt};
    use crate::movement::Movement;
    use crate::posture::Posture;
    use crate::posture::tests::{Tilts, worked};
    use crate::room::{Chair, Room, Worktop};
    use crate::space::{Vector, sin_cos_deg};
    use proptest::prelude::*;

    const BOTH_FEET: Bearing = Bearing {
        feet: Pair::both(true),
        hands: Pair::both(None),
        seat: false,
    };

    fn margin_m(posture: &Posture, bearing: &Bearing) -> f64 {
        Support::of(posture, bearing, &Room::EMPTY)
            .margin_m(posture.centre_of_mass())
            .unwrap()
    }

    #[test]
    fn reference_worked_poses_have_the_printed_margins() {
        // Worked out by hand from winter-2009 and drillis-contini-1966 at 1.70 m: the lesser of the distances to heel and toes, to a
        // millimetre; below 0 the body falls back.
        let rows = [
            ("standing", [0.0, 0.0, 0.0, 0.0], 0.067),
            ("partial squat", [20.0, -40.0, 30.0, 60.0], 0.125),
            ("sitting back", [5.0, -45.0, 0.0, 0.0], -0.132),
            (
                "sitting back, trunk forward",
                [5.0, -45.0, 45.0, 0.0],
                0.026,
            ),
            (
                "leaving the seat, arms forward",
                [20.0, -80.0, 45.0, 90.0],
                0.063,
            ),
        ];
        for (name, [shank, thigh, trunk, upper_arm], expected_m) in rows {
            let posture = worked(&Tilts {
                shank,
                thigh,
                trunk,
                upper_arm,
                elbow: 0.0,
            });
            let found_m = margin_m(&posture, &BOTH_FEET);
            assert!((found_m - expected_m).abs() < 0.000_51, "{name}: {found_m}");
        }
    }

    #[test]
    fn on_one_foot_the_body_falls_to_the_other_side_until_the_weight_is_shifted() {
        let upright = worked(&Tilts {
            shank: 0.0,
            thigh: 0.0,
            trunk: 0.0,
            upper_arm: 0.0,
            elbow: 0.0,
        });
        let left_only = Bearing {
            feet: Pair {
                left: true,
                right: false,
            },
            ..BOTH_FEET
        };
        // The hips are .0955 of stature beside the middle, half the foot's breadth is .0275: .068 of 1.70 m outside.
        assert!((margin_m(&upright, &left_only) + 0.068 * 1.70).abs() < 1e-9);
        assert!(margin_m(&upright, &BOTH_FEET) > 0.0);
    }

    fn key() -> Key {
        let foot = |side: Side| {
            Leg::Placed(Foot {
                x: 0.0,
                y: side.sign() * 0.06,
                on: FootOn::Floor,
                heading_deg: 0.0,
                pitch_deg: 0.0,
            })
        };
        Key {
            pause: Pause::Hold { ms: 200 },
            to_next_ms: 600,
            hips: Hips::Borne {
                knee_deg: 10.0,
                along: 0.4,
                to_left: 0.5,
            },
            tilt: Tilt::NONE,
            middle_deg: [0.0; 6],
            legs: Pair {
                left: foot(Side::Left),
                right: foot(Side::Right),
            },
            arms: Pair::both(Arm::HANGING),
            girdle: Pair::both([0.0; 2]),
        }
    }

    #[test]
    fn a_hand_on_the_worktop_and_a_seat_widen_the_support() {
        let body = Body::of_stature_m(1.62).unwrap();
        let room = Room {
            chair: Some(Chair {
                seat_m: 0.45,
                back_x: -0.35,
                depth_m: 0.42,
                breadth_m: 0.45,
                arms_m: None,
            }),
            worktop: Some(Worktop {
                top_m: 0.90,
                edge_x: 0.15,
            }),
            ..Room::EMPTY
        };
        let ahead = Vector::new(0.3, 0.0, 0.0);
        let behind = Vector::new(-0.35, 0.0, 0.0);
        let margins = |key: Key, ahead_or_behind| {
            let movement = Movement {
                room,
                keys: vec![key, key],
                alternates: false,
                held: Held::NOTHING,
            };
            let cycle = Cycle::of(&body, &movement).unwrap();
            let posture = Posture::of(&body, &cycle.at_ms(0.0).unwrap());
            let support = Support::of(&posture, &cycle.bearing(0.0), &room);
            support.margin_m(ahead_or_behind).unwrap()
        };
        let hand = Hand {
            on: HandOn::Worktop { x: 0.22 },
            out: 0.12,
            inward_deg: 0.0,
        };
        let holding = Key {
            arms: Pair::both(Arm::Placed(hand)),
            ..key()
        };
        let sitting = Key {
            hips: Hips::Seated { x: -0.22 },
            ..key()
        };
        assert!(margins(key(), ahead) < 0.0 && margins(holding, ahead) > 0.0);
        assert!(margins(key(), behind) < 0.0 && margins(sitting, behind) > 0.0);
    }

    #[test]
    fn the_extrapolated_centre_runs_ahead_of_one_that_moves_and_stays_with_one_that_rests() {
        let body = Body::of_stature_m(1.62).unwrap();
        let forward = Key {
            hips: Hips::Borne {
                knee_deg: 10.0,
                along: 0.7,
                to_left: 0.5,
            },
            ..key()
        };
        let movement = Movement {
            room: Room::EMPTY,
            keys: vec![key(), forward],
            alternates: false,
            held: Held::NOTHING,
        };
        let cycle = Cycle::of(&body, &movement).unwrap();
        let at = |ms| balance(&cycle, ms).unwrap().unwrap();
        let resting = at(100.0);
        assert!((resting.margin_m - resting.extrapolated_m).abs() < 1e-6);
        // Half way, the centre goes at 1.875 times the mean speed of .3 foot lengths of .152 of 1.62 m in 0.6 s.
        let moving = at(200.0 + 300.0);
        let speed = 1.875 * 0.3 * 0.152 * 1.62 / 0.6;
        let centre = Posture::of(&body, &cycle.at_ms(500.0).unwrap()).centre_of_mass();
        let runs_ahead_m = speed * libm::sqrt(centre.z / 9.81);
        assert!(
            (moving.margin_m - moving.extrapolated_m - runs_ahead_m).abs() < 0.002,
            "{moving:?}"
        );
    }

    #[test]
    fn nothing_bears_nobody() {
        assert_eq!(Support::around(Vec::new()).margin_m(Vector::ZERO), None);
        let one = Support::around(vec![[0.3, 0.4]]);
        assert_eq!(one.margin_m(Vector::ZERO), Some(-0.5));
        let line = Support::around(vec![[-1.0, 0.2], [1.0, 0.2], [0.0, 0.2]]);
        assert!((line.margin_m(Vector::ZERO).unwrap() + 0.2).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn law_the_margin_is_the_least_over_all_directions(
            points in proptest::collection::vec((-0.3..0.3, -0.3..0.3), 3..12), x in -0.4..0.4, y in -0.4..0.4
        ) {
            const DIRECTIONS: u32 = 7200;
            let points: Vec<[f64; 2]> = points.into_iter().map(|(x, y)| [x, y]).collect();
            let found = Support::around(points.clone()).margin_m(Vector::new(x, y, 0.0)).unwrap();
            let mut least = f64::INFINITY;
            for step in 0..DIRECTIONS {
                let (sin, cos) = sin_cos_deg(f64::from(step) * 360.0 / f64::from(DIRECTIONS));
                let reach = |point: &[f64; 2]| point[0] * cos + point[1] * sin;
                let furthest = points.iter().map(reach).fold(f64::NEG_INFINITY, f64::max);
                least = least.min(furthest - reach(&[x, y]));
            }
            prop_assert!((found - least).abs() < 1e-3, "{found} {least}");
        }
    }
}

//! Laws of cycles over random movements.

use super::{Cycle, CycleFault};
use crate::body::{Body, Segment, Side};
use crate::held::Held;
use crate::key::{Arm, Foot, FootOn, Hand, HandOn, Hips, Key, Leg, Pair, Pause, Tilt};
use crate::movement::{Movement, Untimed};
use crate::posture::Posture;
use crate::room::{Room, Worktop};
use crate::settle::Unsettled;
use proptest::prelude::*;

fn body() -> Body {
    Body::of_stature_m(1.62).unwrap()
}

fn foot(side: Side, on: FootOn, pitch_deg: f64) -> Leg {
    Leg::Placed(Foot {
        x: 0.0,
        y: side.sign() * 0.06,
        on,
        heading_deg: side.sign() * 5.0,
        pitch_deg,
    })
}

fn room() -> Room {
    Room {
        worktop: Some(Worktop {
            top_m: 0.90,
            edge_x: 0.15,
        }),
        ..Room::EMPTY
    }
}

/// A key pose on both feet, with one hand on the worktop or both in the air.
fn standing() -> impl Strategy<Value = Key> {
    let numbers = (
        10.0..60.0,
        0.3..0.7,
        0.2..0.8,
        0.0..15.0,
        0.0..20.0,
        0.0..100.0,
    );
    (numbers, 5_u32..30, proptest::bool::ANY, 0_u32..4).prop_map(
        |((knee_deg, along, to_left, forward_deg, bend_deg, arm_deg), frames, holds, rest)| Key {
            pause: if holds {
                Pause::Hold { ms: 40 * rest }
            } else {
                Pause::Pass
            },
            to_next_ms: 40 * frames,
            hips: Hips::Borne {
                knee_deg,
                along,
                to_left,
            },
            tilt: Tilt {
                forward_deg,
                ..Tilt::NONE
            },
            middle_deg: [bend_deg, 0.0, 0.0, 0.0, 0.0, 0.0],
            legs: Pair {
                left: foot(Side::Left, FootOn::Floor, 0.0),
                right: foot(Side::Right, FootOn::Floor, 0.0),
            },
            arms: Pair::both(Arm::Angles([arm_deg, 10.0, 0.0, 20.0, 0.0, 0.0, 0.0])),
            girdle: Pair::both([0.0; 2]),
        },
    )
}

/// Movements on both feet in which the left foot may step up and down again between two key poses.
fn movements() -> impl Strategy<Value = Movement> {
    let lifts = proptest::collection::vec((proptest::bool::ANY, 0.04..0.12, 0.0..5.0), 6);
    (
        proptest::collection::vec(standing(), 2..6),
        lifts,
        proptest::bool::ANY,
    )
        .prop_map(|(mut keys, lifts, alternates)| {
            for (key, (up, lift, pitch_deg)) in keys.iter_mut().zip(lifts) {
                if up {
                    key.legs.left = foot(Side::Left, FootOn::Air { lift }, pitch_deg);
                }
            }
            Movement {
                room: room(),
                keys,
                alternates,
                held: Held::NOTHING,
            }
        })
}

/// The cycle of a movement, or none where a leg does not reach on the way between two key poses.
fn made(movement: &Movement) -> Option<Cycle> {
    match Cycle::of(&body(), movement) {
        Err(CycleFault::OnTheWay { .. }) => None,
        other => Some(other.unwrap()),
    }
}

fn posture(cycle: &Cycle, ms: f64) -> Posture {
    Posture::of(cycle.body(), &cycle.at_ms(ms).unwrap())
}

#[test]
fn times_that_do_not_fit_are_refused_with_what_to_do() {
    let movement = |times: &[u32]| {
        let key = |ms: &u32| Key {
            pause: Pause::Pass,
            to_next_ms: *ms,
            hips: Hips::Borne {
                knee_deg: 5.0,
                along: 0.4,
                to_left: 0.5,
            },
            tilt: Tilt::NONE,
            middle_deg: [0.0; 6],
            legs: Pair {
                left: foot(Side::Left, FootOn::Floor, 0.0),
                right: foot(Side::Right, FootOn::Floor, 0.0),
            },
            arms: Pair::both(Arm::HANGING),
            girdle: Pair::both([0.0; 2]),
        };
        Movement {
            room: Room::EMPTY,
            keys: times.iter().map(key).collect(),
            alternates: false,
            held: Held::NOTHING,
        }
    };
    let refused = |times: &[u32]| Cycle::of(&body(), &movement(times)).unwrap_err();
    assert_eq!(refused(&[]), CycleFault::Untimed(Untimed::TooFewKeys));
    assert_eq!(refused(&[400]), CycleFault::Untimed(Untimed::TooFewKeys));
    assert_eq!(
        refused(&[400, 0]),
        CycleFault::Untimed(Untimed::NoTime { key: 2 })
    );
    let said = refused(&[400, 410]).to_string();
    assert!(
        said.contains("810 ms") && said.contains("multiple of 40"),
        "{said}"
    );
    let mut holding = movement(&[400, 400]);
    holding.keys[1].arms.right = Arm::Placed(Hand {
        on: HandOn::Worktop { x: 0.2 },
        out: 0.1,
        inward_deg: 0.0,
    });
    let why = Unsettled::NoWorktop;
    assert_eq!(
        Cycle::of(&body(), &holding),
        Err(CycleFault::Key { key: 2, why })
    );
    assert!(Cycle::of(&body(), &movement(&[400, 400])).is_ok());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn law_the_loop_closes_and_no_speed_jumps(movement in movements()) {
        const STEP_MS: f64 = 0.01;
        /// What a force that a body can bear adds in one step, and rounding.
        const JUMP_M_PER_S: f64 = 0.005;
        let Some(cycle) = made(&movement) else {
            return Err(TestCaseError::reject("a leg does not reach on the way"));
        };
        let period_ms = f64::from(cycle.period_ms());
        prop_assert_eq!(cycle.period_ms() % 40, 0);
        for (knot_ms, at_rest) in cycle.knots() {
            let [before, start, here, end, after] = [-2.0, -1.0, 0.0, 1.0, 2.0]
                .map(|steps| posture(&cycle, knot_ms + period_ms + steps * STEP_MS));
            for segment in Segment::ALL {
                let jump = end.end(segment).distance(start.end(segment));
                prop_assert!(jump < 1e-4, "{segment:?} jumps {jump} m at {knot_ms}");
                let speed = |from: &Posture, to: &Posture| {
                    (to.end(segment) - from.end(segment)) * (1000.0 / STEP_MS)
                };
                let (arriving, leaving) = (speed(&before, &start), speed(&end, &after));
                let jump = arriving.distance(leaving);
                prop_assert!(jump < JUMP_M_PER_S, "{segment:?} {jump} m/s at {knot_ms}");
                prop_assert!(!at_rest || leaving.length() < JUMP_M_PER_S, "{segment:?} at {knot_ms} should rest");
            }
            prop_assert!(here.end(Segment::Head).z > 0.5);
        }
    }

    #[test]
    fn law_what_stands_does_not_slide_and_nothing_sinks(movement in movements()) {
        let Some(cycle) = made(&movement) else {
            return Err(TestCaseError::reject("a leg does not reach on the way"));
        };
        let mut last: Option<(crate::cycle::Bearing, Posture)> = None;
        for ms in (0..cycle.period_ms()).step_by(10).map(f64::from) {
            let (bearing, posture) = (cycle.bearing(ms), posture(&cycle, ms));
            for side in Side::BOTH {
                for inner in [body().heel(), body().ball(), body().toe_tip()] {
                    let point = posture.foot_point(side, inner);
                    prop_assert!(point.z > -1e-9, "{side:?} sinks {} at {ms}", point.z);
                    if let Some((before, other)) = &last
                        && before.feet.of(side) && bearing.feet.of(side)
                    {
                        prop_assert!(point.distance(other.foot_point(side, inner)) < 1e-9);
                    }
                }
            }
            last = Some((bearing, posture));
        }
    }

    #[test]
    fn law_an_alternating_movement_is_its_own_mirror_half_a_period_later(movement in movements(), share in 0.0..1.0) {
        let movement = Movement { alternates: true, ..movement };
        let Some(cycle) = made(&movement) else {
            return Err(TestCaseError::reject("a leg does not reach on the way"));
        };
        let period_ms = f64::from(cycle.period_ms());
        let (now, later) = (posture(&cycle, share * period_ms), posture(&cycle, (share + 0.5) * period_ms));
        for segment in Segment::ALL {
            let differs = later.end(segment.mirrored()).distance(now.end(segment).mirrored());
            prop_assert!(differs < 1e-6, "{segment:?} {differs}");
        }
    }
}

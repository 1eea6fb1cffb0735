//! Every law breaks for the movement that breaks it, and for no other reason.

use crate::movements;
use crate::{cycle, judged};
use motion::body::{Body, Segment, Side};
use motion::clash::Furniture;
use motion::cycle::{Cycle, CycleFault};
use motion::joint::{Freedom, Limb, Ranges};
use motion::judge::{ArmsUpTo, Fault, Kind, Marks, judge_marked};
use motion::key::{Arm, Foot, FootOn, Hand, HandOn, Hips, Leg};
use motion::movement::Movement;
use motion::room::Room;
use motion::settle::Unsettled;

fn faults(movement: &Movement) -> Vec<Fault> {
    judged(&cycle(movement, 1.62)).faults
}

fn kinds(movement: &Movement) -> Vec<Kind> {
    faults(movement).iter().map(|fault| fault.kind).collect()
}

fn foot(leg: &mut Leg) -> &mut Foot {
    match leg {
        Leg::Placed(foot) => foot,
        Leg::Angles(_) => panic!("the foot of this movement is placed"),
    }
}

#[test]
fn a_joint_beyond_its_range_is_found() {
    let mut movement = movements::mini_squat();
    movement.keys[1].middle_deg[0] = 90.0;
    let Some(fault) = faults(&movement).into_iter().find(|fault| {
        fault.kind == Kind::OutOfRange(Freedom::Middle(motion::joint::Middle::TrunkFlexion))
    }) else {
        panic!("a spine bends 80 degrees forwards");
    };
    assert!((fault.by - 10.0).abs() < 1e-9);
    assert!(
        fault
            .to_string()
            .contains("trunk-flexion is 10.0 degrees beyond its range"),
        "{fault}"
    );
}

#[test]
fn a_foot_that_slides_is_found() {
    let mut movement = movements::march();
    foot(&mut movement.keys[1].legs.right).x = 0.01;
    let expected = Side::BOTH.map(Kind::FootSlides);
    assert_eq!(kinds(&movement), expected);
    let slid_m = faults(&movement)[0].by;
    assert!(slid_m > 0.016, "there and back by .01 of 1.62 m: {slid_m}");
}

#[test]
fn a_hand_that_slides_is_found() {
    let mut movement = movements::heel_raise();
    movement.keys[2].arms.left = Arm::Placed(Hand {
        on: HandOn::Worktop { x: 0.205 },
        out: 0.125,
        inward_deg: 20.0,
    });
    assert_eq!(kinds(&movement), [Kind::HandSlides(Side::Left)]);
}

#[test]
fn hips_that_slide_on_the_seat_are_found() {
    let mut movement = movements::seated_march();
    movement.keys[1].hips = Hips::Seated { x: -0.23 };
    assert_eq!(kinds(&movement), [Kind::SeatSlides]);
}

#[test]
fn a_foot_below_the_floor_is_found() {
    let mut movement = movements::march();
    let up = foot(&mut movement.keys[1].legs.left);
    up.on = FootOn::Air { lift: 0.01 };
    up.pitch_deg = 40.0;
    let found = kinds(&movement);
    for side in Side::BOTH {
        assert!(found.contains(&Kind::Sinks(side)), "{found:?}");
    }
}

#[test]
fn a_body_that_falls_is_found() {
    let mut movement = movements::march();
    for key in &mut movement.keys {
        key.hips = Hips::Borne {
            knee_deg: 8.0,
            along: 0.38,
            to_left: 0.5,
        };
    }
    let Some(fault) = faults(&movement)
        .into_iter()
        .find(|fault| fault.kind == Kind::Falls)
    else {
        panic!("the weight is between the feet and one of them is up");
    };
    // The middle is .05 of stature from the foot, of which .0275 lies inwards of its own middle; the way to the knee sways a little.
    let least_m = 0.0225 * 1.62;
    assert!(
        fault.by > least_m - 0.002 && fault.by < least_m + 0.02,
        "{fault}"
    );
}

#[test]
fn a_body_that_nothing_bears_is_found() {
    let mut movement = movements::march();
    // From one knee up straight to the other.
    movement.keys = vec![movement.keys[1]];
    let found = kinds(&movement);
    assert!(found.contains(&Kind::Flies), "{found:?}");
}

#[test]
fn a_body_inside_the_chair_is_found() {
    // The knee bend, the place of the chair, and how deep.
    for (knee_deg, back_x) in [(50.0, -0.10), (105.0, -0.34)] {
        let mut movement = movements::mini_squat();
        movement.keys[1].hips = Hips::Borne {
            knee_deg,
            along: 0.42,
            to_left: 0.5,
        };
        movement.room.chair = movement.room.chair.map(|mut chair| {
            chair.back_x = back_x;
            chair
        });
        let found = kinds(&movement);
        let pelvis = Kind::Clashes(Segment::Pelvis, Furniture::Chair);
        assert!(found.contains(&pelvis), "{found:?}");
    }
}

#[test]
fn a_body_inside_the_worktop_is_found() {
    let mut movement = movements::heel_raise();
    movement.room.worktop = movement.room.worktop.map(|mut worktop| {
        worktop.edge_x = 0.10;
        worktop
    });
    let found = kinds(&movement);
    assert!(
        found.contains(&Kind::Clashes(Segment::Pelvis, Furniture::Worktop)),
        "{found:?}"
    );
    assert!(
        found
            .iter()
            .all(|kind| matches!(kind, Kind::Clashes(_, Furniture::Worktop))),
        "{found:?}"
    );
}

#[test]
fn a_foot_inside_the_step_is_found() {
    let mut movement = movements::step_up();
    movement.room.step = movement.room.step.map(|mut step| {
        step.edge_x = 0.08;
        step
    });
    let found = kinds(&movement);
    for side in Side::BOTH {
        let inside = Kind::Clashes(Segment::Foot(side), Furniture::Step);
        assert!(found.contains(&inside), "{found:?}");
    }
}

#[test]
fn a_body_that_leans_into_the_bar_is_found() {
    let mut movement = movements::side_leg_lift();
    movement.room.bar = movement.room.bar.map(|mut bar| {
        bar.x = 0.08;
        bar
    });
    let found = kinds(&movement);
    let inside = Kind::Clashes(Segment::Pelvis, Furniture::Bar);
    assert!(found.contains(&inside), "{found:?}");
}

#[test]
fn a_step_or_bar_that_is_not_there_is_told() {
    let body = Body::of_stature_m(1.62).unwrap();
    let refused = |mut movement: Movement| {
        movement.room = Room::EMPTY;
        Cycle::of(&body, &movement).unwrap_err()
    };
    let why = Unsettled::NoStep;
    assert_eq!(
        refused(movements::step_up()),
        CycleFault::Key { key: 3, why }
    );
    let why = Unsettled::NoBar;
    let fault = refused(movements::side_leg_lift());
    assert_eq!(fault, CycleFault::Key { key: 1, why });
    assert_eq!(
        fault.to_string(),
        "key pose 1: a hand holds a bar and the room has none; add one"
    );
}

#[test]
fn a_limb_that_jumps_is_found() {
    let mut movement = movements::march();
    // The leg goes by its angles while the hips still move from the key pose before.
    let angles = [45.0, 0.0, 0.0, 60.0, 0.0, 0.0, 0.0];
    movement.keys[1].legs.left = Leg::Angles(angles);
    let found = kinds(&movement);
    assert!(
        found.contains(&Kind::Jumps(Segment::Shank(Side::Left))),
        "{found:?}"
    );
}

#[test]
fn an_arm_above_the_shoulder_is_told() {
    let mut movement = movements::mini_squat();
    movement.keys[1].arms.left = Arm::Angles([150.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]);
    let above_m = judged(&cycle(&movement, 1.62)).arms_above_shoulder_m;
    assert!(above_m > 0.2, "{above_m}");
}

#[test]
fn a_limb_through_the_own_body_is_found() {
    // The arm inwards through the trunk, through the thighs of somebody who sits, and one foot through the other.
    let mut standing = movements::mini_squat();
    standing.keys[1].arms.left = Arm::Angles([5.0, -28.0, 0.0, 60.0, 0.0, 0.0, 0.0]);
    let mut sitting = movements::seated_march();
    for key in &mut sitting.keys {
        key.arms.left = Arm::Angles([40.0, -8.0, 0.0, 5.0, 0.0, 0.0, 0.0]);
    }
    let mut crossed = movements::march();
    foot(&mut crossed.keys[1].legs.left).y = -0.05;
    foot(&mut crossed.keys[1].legs.left).x = 0.0;
    let forearm = Segment::Forearm(Side::Left);
    let rows = [
        (standing, forearm, Segment::Abdomen),
        (sitting, forearm, Segment::Thigh(Side::Left)),
        (
            crossed,
            Segment::Shank(Side::Left),
            Segment::Shank(Side::Right),
        ),
    ];
    for (movement, one, other) in rows {
        let found = kinds(&movement);
        assert!(found.contains(&Kind::Crosses(one, other)), "{found:?}");
    }
}

#[test]
fn an_arm_in_the_seat_of_the_chair_is_found() {
    let mut movement = movements::seated_march();
    for key in &mut movement.keys {
        key.arms.left = Arm::HANGING;
    }
    let found = kinds(&movement);
    let inside = Kind::Clashes(Segment::Hand(Side::Left), Furniture::Chair);
    assert!(found.contains(&inside), "{found:?}");
}

#[test]
fn a_knee_in_the_back_of_the_chair_that_is_held_is_found() {
    let mut movement = movements::side_leg_lift();
    movement.keys[2].legs.left = Leg::Placed(Foot {
        x: 0.05,
        y: 0.05,
        on: FootOn::Air { lift: 0.3 },
        heading_deg: 5.0,
        pitch_deg: 20.0,
    });
    let found = kinds(&movement);
    let inside = Kind::Clashes(Segment::Shank(Side::Left), Furniture::Bar);
    assert!(found.contains(&inside), "{found:?}");
}

#[test]
fn marks_that_a_movement_does_not_keep_are_found() {
    let marked = |movement: &Movement, arms, seated| -> Vec<Kind> {
        let marks = Marks { arms, seated };
        let judgement = judge_marked(&cycle(movement, 1.62), &Ranges::norm(), &marks).unwrap();
        judgement.faults.iter().map(|fault| fault.kind).collect()
    };
    let mut raise = movements::mini_squat();
    raise.room = Room::EMPTY;
    // Straight ahead and half as far again above it, from a trunk that leans.
    for (flexion_deg, arms, expected) in [
        (95.0, ArmsUpTo::BelowShoulder, vec![]),
        (122.0, ArmsUpTo::Shoulder, vec![]),
        (
            160.0,
            ArmsUpTo::Shoulder,
            Side::BOTH.map(Kind::ArmTooHigh).to_vec(),
        ),
        (
            160.0,
            ArmsUpTo::BelowShoulder,
            Side::BOTH.map(Kind::ArmTooHigh).to_vec(),
        ),
        (160.0, ArmsUpTo::Above, vec![]),
    ] {
        let up = Arm::Angles([flexion_deg, 4.0, 0.0, 5.0, 0.0, 0.0, 0.0]);
        raise.keys[1].arms.left = up;
        raise.keys[1].arms.right = up;
        assert_eq!(marked(&raise, arms, false), expected, "{flexion_deg}");
    }
    let below = ArmsUpTo::BelowShoulder;
    assert_eq!(marked(&movements::seated_march(), below, true), []);
    assert_eq!(
        marked(&movements::sit_to_stand(), below, true),
        [Kind::LeavesSeat]
    );
}

#[test]
fn every_fault_says_when_where_and_what_to_do() {
    let kinds = [
        Kind::OutOfRange(Freedom::Of(Side::Left, Limb::KneeFlexion)),
        Kind::FootSlides(Side::Left),
        Kind::HandSlides(Side::Right),
        Kind::SeatSlides,
        Kind::Sinks(Side::Right),
        Kind::Falls,
        Kind::Flies,
        Kind::Clashes(Segment::Pelvis, Furniture::Worktop),
        Kind::Crosses(Segment::Hand(Side::Left), Segment::Thigh(Side::Left)),
        Kind::ArmTooHigh(Side::Left),
        Kind::LeavesSeat,
        Kind::StickSlides,
        Kind::BandOverstretched,
        Kind::BandSlack,
        Kind::SlipsAway,
        Kind::Jumps(Segment::Head),
    ];
    for kind in kinds {
        let said = Fault {
            kind,
            at_ms: 40.0,
            by: 0.012,
        }
        .to_string();
        assert!(said.starts_with("40 ms: ") && said.contains("; "), "{said}");
        assert!(!said.contains('{') && !said.ends_with('.'), "{said}");
    }
}

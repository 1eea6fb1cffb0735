//! Every contact of a hand holds still where it is told, and says what it cannot reach and by how much.

use crate::movements::{borne, feet, sitting, standing};
use crate::{cycle, judged};
use motion::body::{Body, Segment, Side};
use motion::clash::Furniture;
use motion::cycle::{Cycle, CycleFault};
use motion::grip::Contact;
use motion::held::Held;
use motion::judge::Kind;
use motion::key::{Arm, Hand, HandOn, Hips, Key, OwnPart, Pair, Pause};
use motion::limb::Unreachable;
use motion::movement::Movement;
use motion::posture::Posture;
use motion::room::{Bar, Chair, Rail, RailOf, Room, Stick, Wall, Worktop};
use motion::settle::Unsettled;

fn furnished() -> Room {
    Room {
        chair: None,
        worktop: Some(Worktop {
            top_m: 0.90,
            edge_x: 0.16,
        }),
        ..Room::EMPTY
    }
}

fn armchair() -> Room {
    Room {
        chair: Some(Chair {
            seat_m: 0.45,
            back_x: -0.31,
            depth_m: 0.42,
            breadth_m: 0.45,
            arms_m: Some(0.66),
        }),
        ..Room::EMPTY
    }
}

/// A hand that lies on something, with where it lies and in which room.
struct Case {
    name: &'static str,
    room: Room,
    seated: bool,
    hand: Hand,
    on: Contact,
}

fn cases() -> Vec<Case> {
    let case = |name, room, seated, on, out, contact| Case {
        name,
        room,
        seated,
        hand: Hand {
            on,
            out,
            inward_deg: 0.0,
        },
        on: contact,
    };
    let empty = Room::EMPTY;
    let with = |add: fn(&mut Room)| {
        let mut room = Room::EMPTY;
        add(&mut room);
        room
    };
    let bar = with(|room| {
        room.bar = Some(Bar {
            top_m: 0.90,
            x: 0.22,
        });
    });
    let wall = with(|room| room.wall = Some(Wall { x: 0.30 }));
    let rail = with(|room| {
        room.rail = Some(Rail {
            of: RailOf::Stairs,
            y: 0.0,
            top_m: 0.90,
            slope_deg: 12.0,
        });
    });
    let stick = with(|room| room.stick = Some(Stick { long_m: 0.85 }));
    let own = |part| HandOn::Own(part);
    let furniture = |piece| Contact::On(piece);
    let left = Side::Left;
    vec![
        case(
            "worktop",
            furnished(),
            false,
            HandOn::Worktop { x: 0.2 },
            0.12,
            furniture(Furniture::Worktop),
        ),
        case(
            "chair back",
            bar,
            false,
            HandOn::Bar,
            0.12,
            furniture(Furniture::Bar),
        ),
        case(
            "seat",
            armchair(),
            true,
            HandOn::Seat { x: -0.19 },
            0.0,
            furniture(Furniture::Chair),
        ),
        case(
            "arm of the chair",
            armchair(),
            true,
            HandOn::ArmRest { x: -0.08 },
            0.15,
            furniture(Furniture::Chair),
        ),
        case(
            "wall",
            wall,
            false,
            HandOn::Wall { height: 0.72 },
            0.12,
            furniture(Furniture::Wall),
        ),
        case(
            "rail",
            rail,
            false,
            HandOn::Rail { x: 0.12 },
            0.16,
            furniture(Furniture::Rail),
        ),
        case(
            "walking stick",
            stick,
            false,
            HandOn::Stick { x: 0.08 },
            0.17,
            furniture(Furniture::Stick),
        ),
        case(
            "thigh",
            armchair(),
            true,
            own(OwnPart::Thigh { along: 0.6 }),
            0.0,
            Contact::Own(Segment::Thigh(left)),
        ),
        case(
            "belly",
            empty,
            false,
            own(OwnPart::Belly),
            0.0,
            Contact::Own(Segment::Abdomen),
        ),
        case(
            "hip",
            empty,
            false,
            own(OwnPart::Hip),
            0.0,
            Contact::Own(Segment::Pelvis),
        ),
        case(
            "other shoulder",
            empty,
            false,
            own(OwnPart::OtherShoulder),
            0.0,
            Contact::Own(Segment::Thorax),
        ),
    ]
}

/// The left hand holds on while the body bends its knees or nods forwards, and back.
fn movement(case: &Case) -> Movement {
    let base = if case.seated { sitting() } else { standing() };
    let holding = Key {
        pause: Pause::Hold { ms: 200 },
        to_next_ms: 800,
        arms: Pair {
            left: Arm::Placed(case.hand),
            right: base.arms.right,
        },
        ..base
    };
    let moved = if case.seated {
        let mut moved = holding;
        moved.middle_deg[0] = 8.0;
        moved.middle_deg[2] = 6.0;
        moved
    } else {
        Key {
            hips: borne(22.0, 0.45, 0.6),
            ..holding
        }
    };
    Movement {
        room: case.room,
        keys: vec![holding, moved],
        alternates: false,
        held: Held::NOTHING,
    }
}

#[test]
fn law_a_hand_stays_where_it_lies_while_the_body_moves() {
    const STILL_M: f64 = 0.001;
    for case in cases() {
        let cycle = cycle(&movement(&case), 1.62);
        let hand = Segment::Hand(Side::Left);
        let place = |ms: u32| {
            let posture = Posture::of(cycle.body(), &cycle.at_ms(f64::from(ms)).unwrap());
            let (wrist, tips) = (posture.frame(hand).at, posture.end(hand));
            match case.on {
                Contact::On(_) => [wrist, tips],
                Contact::Own(segment) => {
                    let under = posture.frame(segment);
                    [wrist, tips].map(|point| under.turned.inverse().apply(point - under.at))
                }
            }
        };
        let first = place(0);
        for ms in cycle.frames_ms() {
            let bearing = cycle.bearing(f64::from(ms));
            assert_eq!(bearing.hands.left, Some(case.on), "{}", case.name);
            assert_eq!(bearing.hands.right, None, "{}", case.name);
            for (now, then) in place(ms).into_iter().zip(first) {
                assert!(now.distance(then) < STILL_M, "{} at {ms}", case.name);
            }
        }
        let slides = judged(&cycle)
            .faults
            .into_iter()
            .any(|fault| matches!(fault.kind, Kind::HandSlides(_) | Kind::FootSlides(_)));
        assert!(!slides, "{}", case.name);
    }
}

#[test]
fn law_a_contact_out_of_reach_is_named_with_how_much_is_missing() {
    let body = Body::of_stature_m(1.62).unwrap();
    for case in cases() {
        // Nobody reaches 1.5 statures to the side.
        let far = Case {
            hand: Hand {
                out: 1.5,
                ..case.hand
            },
            ..case
        };
        let fault = Cycle::of(&body, &movement(&far)).unwrap_err();
        let CycleFault::Key {
            key: 1,
            why: Unsettled::Hand(Side::Left, on, Unreachable::TooFar { by_m }),
        } = fault
        else {
            panic!("{}: {fault}", far.name);
        };
        assert_eq!(on, far.on);
        assert!(by_m > 0.5 && by_m < 2.5, "{}: {by_m}", far.name);
        let said = fault.to_string();
        let named = format!(
            "the left hand cannot be on {on}: it is {:.1} mm too far away",
            by_m * 1000.0
        );
        assert!(said.contains(&named), "{said}");
    }
}

#[test]
fn what_is_not_there_is_told_by_its_name() {
    let body = Body::of_stature_m(1.62).unwrap();
    for case in cases() {
        let Contact::On(furniture) = case.on else {
            continue;
        };
        let bare = Case {
            room: Room::EMPTY,
            seated: false,
            ..case
        };
        let said = Cycle::of(&body, &movement(&bare)).unwrap_err().to_string();
        assert!(said.ends_with("add one"), "{said}");
        let word = if furniture == Furniture::Bar {
            "bar"
        } else {
            furniture.word()
        };
        assert!(said.contains(word), "{said}");
    }
    let mut stool = cases().remove(3);
    stool.room.chair = stool.room.chair.map(|chair| Chair {
        arms_m: None,
        ..chair
    });
    let said = Cycle::of(&body, &movement(&stool)).unwrap_err().to_string();
    assert_eq!(
        said,
        "key pose 1: a hand is on the arm of the chair and the chair has none; give it some"
    );
}

#[test]
fn a_hand_that_holds_the_other_arm_goes_with_it() {
    let own = Arm::Placed(Hand {
        on: HandOn::Own(OwnPart::OtherArm),
        out: 0.0,
        inward_deg: 0.0,
    });
    let across = |flexion_deg| Key {
        to_next_ms: 800,
        arms: Pair {
            left: own,
            right: Arm::Angles([flexion_deg, -20.0, 30.0, 60.0, 0.0, 0.0, 0.0]),
        },
        ..standing()
    };
    let movement = Movement {
        room: Room::EMPTY,
        keys: vec![across(60.0), across(75.0)],
        alternates: false,
        held: Held::NOTHING,
    };
    let cycle = cycle(&movement, 1.62);
    let grip = |ms| {
        let posture = Posture::of(cycle.body(), &cycle.at_ms(ms).unwrap());
        let under = posture.frame(Segment::UpperArm(Side::Right));
        let hand = posture.end(Segment::Hand(Side::Left));
        under.turned.inverse().apply(hand - under.at)
    };
    for ms in cycle.frames_ms() {
        assert!(grip(f64::from(ms)).distance(grip(0.0)) < 0.001, "{ms}");
    }
}

#[test]
fn who_leans_on_a_wall_is_as_straight_as_told_and_borne_by_hands_and_feet() {
    let arms = Pair::both(Arm::Placed(Hand {
        on: HandOn::Wall { height: 0.85 },
        out: 0.14,
        inward_deg: 20.0,
    }));
    let leaning = |forward_deg| Key {
        pause: Pause::Hold { ms: 200 },
        to_next_ms: 1000,
        hips: Hips::Leaning {
            knee_deg: 3.0,
            forward_deg,
        },
        tilt: motion::key::Tilt {
            forward_deg,
            ..motion::key::Tilt::NONE
        },
        legs: feet(0.0, 0.06),
        arms,
        ..standing()
    };
    let mut movement = Movement {
        room: Room {
            wall: Some(Wall { x: 0.36 }),
            ..Room::EMPTY
        },
        keys: vec![leaning(6.0), leaning(14.0)],
        alternates: false,
        held: Held::NOTHING,
    };
    let near = cycle(&movement, 1.62);
    assert_eq!(judged(&near).faults, []);
    let posture = Posture::of(near.body(), &near.at_ms(1200.0).unwrap());
    let (ankle, hips) = (
        posture.frame(Segment::Foot(Side::Left)).at,
        posture.frame(Segment::Pelvis).at,
    );
    let lean_deg = motion::space::atan2_deg(hips.x - ankle.x, hips.z - ankle.z);
    assert!((lean_deg - 14.0).abs() < 0.2, "{lean_deg}");
    // Further away and lower the shoes would have to hold more than they can.
    movement.room.wall = Some(Wall { x: 0.68 });
    for key in &mut movement.keys {
        let low = Hand {
            on: HandOn::Wall { height: 0.62 },
            out: 0.14,
            inward_deg: 0.0,
        };
        *key = Key {
            arms: Pair::both(Arm::Placed(low)),
            ..leaning(30.0)
        };
    }
    let kinds: Vec<Kind> = judged(&cycle(&movement, 1.62))
        .faults
        .iter()
        .map(|fault| fault.kind)
        .collect();
    assert!(kinds.contains(&Kind::SlipsAway), "{kinds:?}");
}

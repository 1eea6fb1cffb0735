//! Movements of the kinds that a session is made of, as test data.

use motion::body::Side;
use motion::held::Held;
use motion::key::{Arm, Foot, FootOn, Hand, HandOn, Hips, Key, Leg, Pair, Pause, Tilt};
use motion::movement::Movement;
use motion::room::{Bar, Chair, Room, Step, Worktop};

/// A foot on the floor.
fn foot(side: Side, x: f64, out: f64) -> Foot {
    Foot {
        x,
        y: side.sign() * out,
        on: FootOn::Floor,
        heading_deg: side.sign() * 6.0,
        pitch_deg: 0.0,
    }
}

/// Both feet on the floor.
pub(crate) fn feet(x: f64, out: f64) -> Pair<Leg> {
    Pair {
        left: Leg::Placed(foot(Side::Left, x, out)),
        right: Leg::Placed(foot(Side::Right, x, out)),
    }
}

/// Arms that hang a little bent.
const EASY_ARM: Arm = Arm::Angles([4.0, 6.0, 0.0, 14.0, 10.0, 0.0, 0.0]);

/// Arms of somebody who sits: forearms over the thighs.
pub(crate) const OVER_THIGHS: Arm = Arm::Angles([10.0, 8.0, -10.0, 72.0, 30.0, 0.0, 0.0]);

/// Arms that reach forwards from a trunk that leans.
const REACHING: Arm = Arm::Angles([125.0, 4.0, 0.0, 15.0, 20.0, 0.0, 0.0]);

/// Upright on both feet.
pub(crate) fn standing() -> Key {
    Key {
        pause: Pause::Hold { ms: 200 },
        to_next_ms: 800,
        hips: Hips::Borne {
            knee_deg: 6.0,
            along: 0.38,
            to_left: 0.5,
        },
        tilt: Tilt::NONE,
        middle_deg: [0.0; 6],
        legs: feet(0.0, 0.07),
        arms: Pair::both(EASY_ARM),
        girdle: Pair::both([0.0; 2]),
    }
}

/// Sitting with the forearms over the thighs.
pub(crate) fn sitting() -> Key {
    Key {
        hips: Hips::Seated { x: -0.2 },
        legs: feet(0.0, 0.08),
        arms: Pair::both(OVER_THIGHS),
        ..standing()
    }
}

fn leaning(forward_deg: f64) -> Tilt {
    Tilt {
        forward_deg,
        ..Tilt::NONE
    }
}

fn spine(flexion_deg: f64) -> [f64; 6] {
    // The face stays up: the neck gives back half of what the spine bends.
    [flexion_deg, 0.0, 0.0, -flexion_deg / 2.0, 0.0, 0.0]
}

pub(crate) fn borne(knee_deg: f64, along: f64, to_left: f64) -> Hips {
    Hips::Borne {
        knee_deg,
        along,
        to_left,
    }
}

fn chair(back_x: f64) -> Room {
    Room {
        chair: Some(Chair {
            seat_m: 0.45,
            back_x,
            depth_m: 0.42,
            breadth_m: 0.45,
            arms_m: None,
        }),
        ..Room::EMPTY
    }
}

/// Rising from a chair without hands and sitting down again.
pub(crate) fn sit_to_stand() -> Movement {
    let sitting = Key {
        pause: Pause::Hold { ms: 400 },
        to_next_ms: 600,
        hips: Hips::Seated { x: -0.18 },
        legs: feet(0.0, 0.08),
        arms: Pair::both(OVER_THIGHS),
        ..standing()
    };
    let leaning_forward = Key {
        pause: Pause::Pass,
        to_next_ms: 480,
        tilt: leaning(32.0),
        middle_deg: spine(40.0),
        arms: Pair::both(REACHING),
        ..sitting
    };
    let half_way = Key {
        to_next_ms: 520,
        hips: borne(70.0, 0.3, 0.5),
        tilt: leaning(28.0),
        middle_deg: spine(30.0),
        ..leaning_forward
    };
    let upright = Key {
        pause: Pause::Hold { ms: 400 },
        to_next_ms: 720,
        legs: feet(0.0, 0.08),
        ..standing()
    };
    Movement {
        room: chair(-0.31),
        keys: vec![
            sitting,
            leaning_forward,
            half_way,
            upright,
            Key {
                to_next_ms: 680,
                ..half_way
            },
            Key {
                to_next_ms: 800,
                ..leaning_forward
            },
        ],
        alternates: false,
        held: Held::NOTHING,
    }
}

/// Marching on the spot.
pub(crate) fn march() -> Movement {
    const OUT: f64 = 0.05;
    // The weight is over the right foot before the left one leaves the floor.
    let over_right = Key {
        pause: Pause::Pass,
        to_next_ms: 280,
        hips: borne(8.0, 0.38, 0.2),
        legs: feet(0.0, OUT),
        ..standing()
    };
    let up = Key {
        hips: borne(8.0, 0.38, 0.14),
        legs: Pair {
            left: Leg::Placed(Foot {
                on: FootOn::Air { lift: 0.09 },
                pitch_deg: 8.0,
                ..foot(Side::Left, 0.12, OUT)
            }),
            right: over_right.legs.right,
        },
        arms: Pair {
            left: Arm::Angles([-12.0, 6.0, 0.0, 30.0, 10.0, 0.0, 0.0]),
            right: Arm::Angles([28.0, 6.0, 0.0, 40.0, 10.0, 0.0, 0.0]),
        },
        ..over_right
    };
    let down = Key {
        to_next_ms: 320,
        ..over_right
    };
    Movement {
        room: Room::EMPTY,
        keys: vec![over_right, up, down],
        alternates: true,
        held: Held::NOTHING,
    }
}

/// Rising on the toes with both hands on a worktop.
pub(crate) fn heel_raise() -> Movement {
    let holding = Pair::both(Arm::Placed(Hand {
        on: HandOn::Worktop { x: 0.205 },
        out: 0.12,
        inward_deg: 20.0,
    }));
    let raised = |side| {
        Leg::Placed(Foot {
            pitch_deg: 28.0,
            ..foot(side, 0.0, 0.07)
        })
    };
    let down = Key {
        to_next_ms: 800,
        hips: borne(6.0, 0.6, 0.5),
        arms: holding,
        tilt: leaning(8.0),
        ..standing()
    };
    // The weight goes over the balls before the heels leave the floor.
    let forward = Key {
        pause: Pause::Pass,
        to_next_ms: 800,
        hips: borne(6.0, 0.77, 0.5),
        ..down
    };
    let up = Key {
        pause: Pause::Hold { ms: 400 },
        to_next_ms: 1000,
        legs: Pair {
            left: raised(Side::Left),
            right: raised(Side::Right),
        },
        ..forward
    };
    Movement {
        room: Room {
            worktop: Some(Worktop {
                top_m: 0.90,
                edge_x: 0.17,
            }),
            ..Room::EMPTY
        },
        keys: vec![down, forward, up, forward],
        alternates: false,
        held: Held::NOTHING,
    }
}

/// A small bend of the knees with a chair behind.
pub(crate) fn mini_squat() -> Movement {
    let upright = Key {
        to_next_ms: 1400,
        legs: feet(0.0, 0.09),
        ..standing()
    };
    let bent = Key {
        to_next_ms: 1000,
        hips: borne(50.0, 0.42, 0.5),
        tilt: leaning(22.0),
        middle_deg: spine(12.0),
        arms: Pair::both(Arm::Angles([60.0, 4.0, 0.0, 20.0, 20.0, 0.0, 0.0])),
        ..upright
    };
    Movement {
        room: chair(-0.40),
        keys: vec![upright, bent],
        alternates: false,
        held: Held::NOTHING,
    }
}

/// Marching on a chair.
pub(crate) fn seated_march() -> Movement {
    let sitting = Key {
        pause: Pause::Hold { ms: 0 },
        to_next_ms: 360,
        hips: Hips::Seated { x: -0.22 },
        legs: feet(0.02, 0.09),
        ..standing()
    };
    let up = Key {
        to_next_ms: 360,
        legs: Pair {
            left: Leg::Placed(Foot {
                on: FootOn::Air { lift: 0.07 },
                ..foot(Side::Left, 0.02, 0.09)
            }),
            right: sitting.legs.right,
        },
        ..sitting
    };
    Movement {
        room: chair(-0.34),
        keys: vec![sitting, up],
        alternates: true,
        held: Held::NOTHING,
    }
}

/// A step to the side, the other foot after it, and back again.
pub(crate) fn side_step() -> Movement {
    const APART: f64 = 0.11;
    const CLOSE: f64 = 0.05;
    let at = |side: Side, y: f64, on: FootOn| {
        Leg::Placed(Foot {
            y,
            on,
            pitch_deg: if on == FootOn::Floor { 0.0 } else { 12.0 },
            ..foot(side, 0.0, 0.0)
        })
    };
    let pose = |left: f64, left_on, right: f64, right_on, to_left, pause, to_next_ms| Key {
        pause,
        to_next_ms,
        hips: borne(12.0, 0.4, to_left),
        legs: Pair {
            left: at(Side::Left, left, left_on),
            right: at(Side::Right, right, right_on),
        },
        ..standing()
    };
    let (floor, air) = (FootOn::Floor, FootOn::Air { lift: 0.03 });
    let hold = Pause::Hold { ms: 0 };
    Movement {
        room: Room::EMPTY,
        keys: vec![
            // Both feet at the right, the weight over the right one, then the left foot on its way and down.
            pose(-APART + 2.0 * CLOSE, floor, -APART, floor, 0.1, hold, 240),
            pose(0.0, air, -APART, floor, 0.05, Pause::Pass, 240),
            pose(APART, floor, -APART, floor, 0.1, hold, 400),
            // The weight goes over and the right foot follows.
            pose(APART, floor, -APART, floor, 0.95, hold, 240),
            pose(APART, floor, 0.0, air, 0.95, Pause::Pass, 240),
        ],
        alternates: true,
        held: Held::NOTHING,
    }
}

/// Lifting one leg to the side with both hands on the back of a chair.
pub(crate) fn side_leg_lift() -> Movement {
    let holding = Pair::both(Arm::Placed(Hand {
        on: HandOn::Bar,
        out: 0.13,
        inward_deg: 18.0,
    }));
    let upright = Key {
        pause: Pause::Hold { ms: 240 },
        to_next_ms: 480,
        hips: borne(8.0, 0.5, 0.5),
        tilt: leaning(6.0),
        legs: feet(0.0, 0.05),
        arms: holding,
        ..standing()
    };
    // The weight is over the right foot before the left one leaves the floor.
    let over_right = Key {
        pause: Pause::Hold { ms: 0 },
        to_next_ms: 720,
        hips: borne(8.0, 0.5, 0.12),
        ..upright
    };
    let lifted = Key {
        pause: Pause::Hold { ms: 200 },
        to_next_ms: 800,
        hips: borne(8.0, 0.5, 0.02),
        legs: Pair {
            left: Leg::Placed(Foot {
                y: 0.20,
                on: FootOn::Air { lift: 0.05 },
                pitch_deg: 6.0,
                ..foot(Side::Left, 0.0, 0.05)
            }),
            right: upright.legs.right,
        },
        ..upright
    };
    let back = Key {
        to_next_ms: 480,
        ..over_right
    };
    Movement {
        room: Room {
            bar: Some(Bar {
                top_m: 0.90,
                x: 0.21,
            }),
            ..Room::EMPTY
        },
        keys: vec![upright, over_right, lifted, back],
        alternates: true,
        held: Held::NOTHING,
    }
}

/// Up on a step and down again, the other foot leading next time.
pub(crate) fn step_up() -> Movement {
    // Toes at the edge before, the whole foot on the step after.
    const EDGE: f64 = 0.12;
    const UP: f64 = EDGE + 0.045;
    const OUT: f64 = 0.045;
    let at = |side: Side, x: f64, on: FootOn, pitch_deg: f64| {
        Leg::Placed(Foot {
            on,
            pitch_deg,
            ..foot(side, x, OUT)
        })
    };
    let left = |x, on, pitch_deg| at(Side::Left, x, on, pitch_deg);
    let right = |x, on, pitch_deg| at(Side::Right, x, on, pitch_deg);
    let (floor, step, air) = (FootOn::Floor, FootOn::Step, |lift| FootOn::Air { lift });
    let key = |to_next_ms, hips, lean_deg, left, right| Key {
        pause: Pause::Pass,
        to_next_ms,
        hips,
        tilt: leaning(lean_deg),
        middle_deg: spine(0.8 * lean_deg),
        legs: Pair { left, right },
        ..standing()
    };
    let down_left = left(0.0, floor, 0.0);
    let down_right = right(0.0, floor, 0.0);
    let up_left = left(UP, step, 0.0);
    let up_right = right(UP, step, 0.0);
    Movement {
        room: Room {
            step: Some(Step {
                height_m: 0.10,
                edge_x: EDGE,
                depth_m: 0.50,
            }),
            ..Room::EMPTY
        },
        keys: vec![
            // The left foot goes up while the weight is over the right one.
            key(400, borne(10.0, 0.45, 0.12), 2.0, down_left, down_right),
            key(
                320,
                borne(12.0, 0.45, 0.05),
                4.0,
                left(-0.02, air(0.11), 32.0),
                down_right,
            ),
            key(800, borne(14.0, 0.45, 0.08), 8.0, up_left, down_right),
            key(400, borne(18.0, 0.5, 0.5), 18.0, up_left, down_right),
            // The weight goes over, the heel behind rises, and the right foot follows.
            key(
                400,
                borne(8.0, 0.40, 0.96),
                24.0,
                up_left,
                right(0.0, floor, 38.0),
            ),
            key(
                400,
                borne(34.0, 0.40, 0.97),
                16.0,
                up_left,
                right(-0.02, air(0.115), 40.0),
            ),
            key(800, borne(12.0, 0.42, 0.92), 4.0, up_left, up_right),
            // The left foot goes back down first.
            key(
                400,
                borne(14.0, 0.42, 0.08),
                6.0,
                left(UP, step, 25.0),
                up_right,
            ),
            key(
                480,
                borne(38.0, 0.40, 0.04),
                18.0,
                left(-0.02, air(0.115), 40.0),
                up_right,
            ),
            key(
                800,
                borne(8.0, 0.40, 0.04),
                24.0,
                left(0.0, floor, 38.0),
                up_right,
            ),
            key(400, borne(18.0, 0.5, 0.5), 18.0, down_left, up_right),
            key(400, borne(14.0, 0.45, 0.92), 8.0, down_left, up_right),
            key(
                320,
                borne(12.0, 0.45, 0.95),
                4.0,
                down_left,
                right(-0.02, air(0.11), 32.0),
            ),
        ],
        alternates: true,
        held: Held::NOTHING,
    }
}

/// A movement with the statures that can do it at the furniture it has.
pub(crate) struct Trial {
    pub(crate) name: &'static str,
    pub(crate) movement: Movement,
    pub(crate) tallest_m: f64,
}

/// All of them.
pub(crate) fn all() -> Vec<Trial> {
    let trial = |name, movement, tallest_m| Trial {
        name,
        movement,
        tallest_m,
    };
    vec![
        trial("sit to stand", sit_to_stand(), 1.86),
        trial("march", march(), 1.86),
        // On tiptoe somebody taller does not reach down to a worktop of 0.90 m without bending.
        trial("heel raise", heel_raise(), 1.74),
        trial("mini squat", mini_squat(), 1.86),
        trial("seated march", seated_march(), 1.86),
        trial("side step", side_step(), 1.86),
        trial("side leg lift", side_leg_lift(), 1.68),
        trial("step up", step_up(), 1.86),
    ]
}

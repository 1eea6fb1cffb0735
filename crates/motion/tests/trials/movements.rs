//! Six movements of the kinds that a session is made of, as test data.

use motion::body::Side;
use motion::key::{Arm, Foot, FootOn, Hips, Key, Leg, Pair, Palm, Pause, Tilt};
use motion::movement::Movement;
use motion::room::{Chair, Room, Worktop};

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
fn feet(x: f64, out: f64) -> Pair<Leg> {
    Pair {
        left: Leg::Placed(foot(Side::Left, x, out)),
        right: Leg::Placed(foot(Side::Right, x, out)),
    }
}

/// Arms that hang a little bent.
const EASY_ARM: Arm = Arm::Angles([4.0, 6.0, 0.0, 14.0, 10.0, 0.0, 0.0]);

/// Arms that reach forwards.
const REACHING: Arm = Arm::Angles([75.0, 4.0, 0.0, 15.0, 20.0, 0.0, 0.0]);

/// Upright on both feet.
fn standing() -> Key {
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

fn borne(knee_deg: f64, along: f64, to_left: f64) -> Hips {
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
        }),
        worktop: None,
    }
}

/// Rising from a chair without hands and sitting down again.
pub(crate) fn sit_to_stand() -> Movement {
    let sitting = Key {
        pause: Pause::Hold { ms: 400 },
        to_next_ms: 600,
        hips: Hips::Seated { x: -0.18 },
        legs: feet(0.0, 0.08),
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
    }
}

/// Rising on the toes with both hands on a worktop.
pub(crate) fn heel_raise() -> Movement {
    let holding = Pair::both(Arm::OnWorktop(Palm {
        x: 0.205,
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
            chair: None,
            worktop: Some(Worktop {
                top_m: 0.90,
                edge_x: 0.17,
            }),
        },
        keys: vec![down, forward, up, forward],
        alternates: false,
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
    }
}

/// A movement with the statures that can do it at the furniture it has.
pub(crate) struct Trial {
    pub(crate) name: &'static str,
    pub(crate) movement: Movement,
    pub(crate) tallest_m: f64,
}

/// All six.
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
    ]
}

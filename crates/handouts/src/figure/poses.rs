//! Start and end of every movement.

use super::arrow::Follow;
use super::base::{
    Base, DOWN_BACK, Hands, SOFT, STANCE, foot, free, seated, standing, standing_front,
};
use super::body::{Arm, Leg, Pose};
use super::choose::Facts;
use super::props::{Furniture, Held, RAIL_AT, SEAT, STEP, STEP_X, WALL_X};
use super::space::{Camera, v};
use rehab::assessment::{PlaceKind, Prop, Support};
use rehab::programme::{ArmHeight, Posture};

/// A movement as it is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Movement {
    pub(super) start: Pose,
    pub(super) end: Pose,
    pub(super) furniture: Furniture,
    pub(super) held: Held,
    pub(super) camera: Camera,
    pub(super) follow: Follow,
}

/// The movement of an exercise; an id that is not known yet is drawn as its posture alone.
pub(super) fn movement(facts: &Facts<'_>) -> Movement {
    let sits = facts.posture == Posture::Seated;
    let base = if sits {
        seated(facts.needs_arms)
    } else {
        standing(facts.support, facts.place)
    };
    let front = if sits {
        base
    } else {
        standing_front(facts.support)
    };
    let mut movement =
        known(facts, base, front).unwrap_or_else(|| plain(base, base.pose, Follow::Nothing));
    movement.held = held(facts, movement.held);
    movement
}

fn known(facts: &Facts<'_>, base: Base, front: Base) -> Option<Movement> {
    super::legs::movement(facts, base, front)
        .or_else(|| super::arms::movement(facts, base, front))
        .or_else(|| special(facts, base))
}

/// Whether an exercise has a movement of its own in this posture.
pub(super) fn is_known(facts: &Facts<'_>) -> bool {
    let base = if facts.posture == Posture::Seated {
        seated(facts.needs_arms)
    } else {
        standing(facts.support, facts.place)
    };
    known(facts, base, base).is_some()
}

fn held(facts: &Facts<'_>, drawn: Held) -> Held {
    if drawn != Held::Nothing {
        return drawn;
    }
    if facts.props.contains(&Prop::Weights) && facts.support == Support::OneHand {
        Held::OneWeight
    } else if facts.props.contains(&Prop::Weights) {
        Held::Weights
    } else if facts.props.contains(&Prop::Stick) {
        Held::Stick
    } else if facts.props.contains(&Prop::Band) {
        Held::Band
    } else {
        Held::Nothing
    }
}

/// From the base to another pose, seen from the side.
pub(super) fn plain(base: Base, end: Pose, follow: Follow) -> Movement {
    Movement {
        start: base.pose,
        end,
        furniture: base.furniture,
        held: Held::Nothing,
        camera: Camera::Side,
        follow,
    }
}

/// The same, seen from the front.
pub(super) fn facing(base: Base, end: Pose, follow: Follow) -> Movement {
    Movement {
        camera: Camera::Front,
        ..plain(base, end, follow)
    }
}

/// Movements of the whole body: rising, stepping, walking, leaning.
fn special(facts: &Facts<'_>, base: Base) -> Option<Movement> {
    Some(match facts.exercise {
        "sit-to-stand" | "sit-to-stand-brisk" => rise(facts),
        "step-ups" | "step-ups-brisk" | "low-step-ups" | "high-step-ups" | "stairs-up"
        | "stairs-up-and-down" => step_up(facts),
        "box-steps" => {
            let mut end = base.pose;
            end.near_leg = foot(end.hip.x + 300.0, 0.0, STANCE, 0.0);
            end.hip = v(end.hip.x + 150.0, SOFT - 20.0, 0.0);
            plain(base, end, Follow::NearFoot)
        }
        "walk" | "slow-walk" | "brisk-walk" | "heel-to-toe-walk" => walk(facts, base),
        "wall-press" if facts.posture != Posture::Seated => wall_press(),
        "calf-stretch" if facts.posture != Posture::Seated => calf_stretch(base),
        "small-squats" | "squats-with-reach" => squat(facts, base),
        "back-lunges" => lunge(base),
        "hip-stretch" if facts.posture != Posture::Seated => {
            let mut end = base.pose;
            end.near_leg = foot(base.pose.hip.x - 400.0, 40.0, STANCE, -22.0);
            end.far_leg = foot(base.pose.hip.x + 60.0, 0.0, -STANCE, 0.0);
            end.hip = v(base.pose.hip.x - 60.0, SOFT - 90.0, 0.0);
            end.lean = -4.0;
            plain(base, end, Follow::Nothing)
        }
        _ => return None,
    })
}

/// Standing up from a chair: the trunk comes forward first.
fn rise(facts: &Facts<'_>) -> Movement {
    let base = seated(facts.needs_arms);
    let mut start = base.pose;
    start.lean = 8.0;
    let feet = |z: f64| foot(60.0, 0.0, z, 0.0);
    start.near_leg = feet(100.0);
    start.far_leg = feet(-100.0);
    let mut end = start;
    end.hip = v(-62.0, SOFT - 46.0, 0.0);
    end.lean = 20.0;
    if facts.needs_arms {
        let arm_rest = |z: f64| Arm::At {
            hand: v(-20.0, 726.0, z),
            pole: DOWN_BACK,
        };
        start.near_arm = arm_rest(235.0);
        start.far_arm = arm_rest(-235.0);
        end.near_arm = free(-12.0, 12.0, 24.0);
        end.far_arm = free(26.0, 10.0, 24.0);
    } else {
        let crossed = |z: f64| free(38.0, z, 110.0);
        start.near_arm = crossed(-12.0);
        start.far_arm = crossed(-12.0);
        end.near_arm = free(42.0, -12.0, 106.0);
        end.far_arm = free(42.0, -12.0, 106.0);
    }
    Movement {
        start,
        end,
        furniture: base.furniture,
        held: Held::Nothing,
        camera: Camera::Side,
        follow: Follow::Head,
    }
}

fn step_up(facts: &Facts<'_>) -> Movement {
    let rail = facts.needs_rail || matches!(facts.support, Support::OneHand | Support::TwoHands);
    let mut start = standing(Support::None, None).pose;
    start.hip.x = -60.0;
    start.near_leg = foot(-60.0, 0.0, STANCE, 0.0);
    start.far_leg = foot(-60.0, 0.0, -STANCE, 0.0);
    let mut end = start;
    end.hip = v(150.0, SOFT + 30.0, 0.0);
    end.lean = 9.0;
    end.near_leg = foot(STEP_X + 90.0, STEP, STANCE, 0.0);
    end.far_leg = foot(-40.0, 52.0, -STANCE, -26.0);
    if rail {
        let hand = |x: f64| Arm::At {
            hand: v(x, RAIL_AT + (x - STEP_X) * 0.45 + 30.0, -300.0),
            pole: DOWN_BACK,
        };
        start.far_arm = hand(190.0);
        end.far_arm = hand(390.0);
    } else {
        end.near_arm = free(-22.0, 8.0, 30.0);
        end.far_arm = free(30.0, 8.0, 40.0);
    }
    Movement {
        start,
        end,
        furniture: if rail {
            Furniture::StepRail
        } else {
            Furniture::Step
        },
        held: Held::Nothing,
        camera: Camera::Side,
        follow: Follow::Head,
    }
}

fn walk(facts: &Facts<'_>, base: Base) -> Movement {
    let in_line = facts.exercise == "heel-to-toe-walk";
    if in_line && facts.posture != Posture::Walking {
        return stand_in_line(base);
    }
    let stride = match facts.exercise {
        "slow-walk" => 170.0,
        "brisk-walk" => 270.0,
        "heel-to-toe-walk" => 135.0,
        _ => 220.0,
    };
    let narrow = if in_line { 12.0 } else { 70.0 };
    let held = base.hands != Hands::Free;
    let swing = stride / 9.0;
    // Held on to is a stick, or the wall beside the way.
    let by_wall = in_line || facts.place == Some(PlaceKind::Wall);
    let far_hand = |x: f64, swing: f64| match (held, by_wall) {
        (false, _) => free(swing, 6.0, 14.0),
        (true, false) => free(16.0, 10.0, 34.0),
        (true, true) => Arm::At {
            hand: v(x + 190.0, 1130.0, -330.0),
            pole: v(-0.8, -1.0, -0.4),
        },
    };
    let step = |x: f64, near: f64, far: f64, near_swing: f64| {
        let lifted = |at: f64| if at < 0.0 { (26.0, -24.0) } else { (0.0, 14.0) };
        let ((near_up, near_pitch), (far_up, far_pitch)) = (lifted(near), lifted(far));
        Pose {
            hip: v(x, SOFT - stride * stride / 1900.0, 0.0),
            near_leg: foot(x + near, near_up, narrow, near_pitch),
            far_leg: foot(x + far, far_up, -narrow, far_pitch),
            near_arm: free(near_swing, 6.0, 14.0),
            far_arm: far_hand(x, -near_swing),
            ..base.pose
        }
    };
    Movement {
        start: step(-430.0, stride, -stride, -swing),
        end: step(0.0, -stride, stride, swing),
        furniture: if held && by_wall {
            Furniture::WallBeside
        } else {
            Furniture::Path
        },
        held: if held && !by_wall {
            Held::Cane
        } else {
            Held::Nothing
        },
        camera: Camera::Side,
        follow: Follow::Head,
    }
}

/// Standing with one foot before the other, the hands on what the place offers.
fn stand_in_line(base: Base) -> Movement {
    let x = base.pose.hip.x;
    let mut pose = base.pose;
    pose.near_leg = foot(x - 120.0, 0.0, 14.0, 0.0);
    pose.far_leg = foot(x + 120.0, 0.0, -14.0, 0.0);
    Movement {
        start: pose,
        ..plain(base, pose, Follow::Nothing)
    }
}

fn wall_press() -> Movement {
    let hand = |z: f64| Arm::At {
        hand: v(WALL_X - 62.0, 1215.0, z),
        pole: v(-0.4, -1.0, z / 160.0),
    };
    let at = |hip_x: f64, lean: f64| Pose {
        hip: v(hip_x, SOFT - 8.0, 0.0),
        lean,
        side: 0.0,
        twist: 0.0,
        nod: -lean * 0.5,
        shrug: 0.0,
        near_arm: hand(180.0),
        far_arm: hand(-180.0),
        near_leg: foot(-160.0, 0.0, STANCE, 0.0),
        far_leg: foot(-160.0, 0.0, -STANCE, 0.0),
    };
    Movement {
        start: at(-130.0, 2.0),
        end: at(-20.0, 13.0),
        furniture: Furniture::Wall,
        held: Held::Nothing,
        camera: Camera::Side,
        follow: Follow::Head,
    }
}

/// One leg straight behind, heel down; hands on a wall, or on what the place offers.
fn calf_stretch(base: Base) -> Movement {
    if !matches!(base.furniture, Furniture::Nothing | Furniture::Wall) {
        let mut pose = base.pose;
        pose.hip = v(-90.0, SOFT - 80.0, 0.0);
        pose.lean = 10.0;
        pose.near_leg = foot(-470.0, 0.0, STANCE, 0.0);
        pose.far_leg = foot(10.0, 0.0, -STANCE, 0.0);
        return Movement {
            start: pose,
            ..plain(base, pose, Follow::Nothing)
        };
    }
    let hand = |z: f64| Arm::At {
        hand: v(WALL_X - 62.0, 1180.0, z),
        pole: DOWN_BACK,
    };
    let mut pose = standing(Support::None, None).pose;
    pose.hip = v(20.0, SOFT - 95.0, 0.0);
    pose.lean = 12.0;
    pose.near_arm = hand(160.0);
    pose.far_arm = hand(-160.0);
    pose.near_leg = foot(-380.0, 0.0, STANCE, 0.0);
    pose.far_leg = foot(110.0, 0.0, -STANCE, 0.0);
    Movement {
        start: pose,
        end: pose,
        furniture: Furniture::Wall,
        held: Held::Nothing,
        camera: Camera::Side,
        follow: Follow::Nothing,
    }
}

fn squat(facts: &Facts<'_>, base: Base) -> Movement {
    let mut end = base.pose;
    end.hip = v(end.hip.x - 130.0, SOFT - 170.0, 0.0);
    end.lean = 28.0;
    end.nod = -14.0;
    if facts.exercise == "squats-with-reach" && base.hands == Hands::Free {
        end.near_arm = free(84.0 + 28.0, 4.0, 4.0);
        end.far_arm = free(84.0 + 28.0, 4.0, 4.0);
    } else if base.hands == Hands::Free {
        end.near_arm = free(50.0, 8.0, 40.0);
        end.far_arm = free(50.0, 8.0, 40.0);
    }
    plain(base, end, Follow::Hip)
}

fn lunge(base: Base) -> Movement {
    let mut end = base.pose;
    let x = base.pose.hip.x;
    end.near_leg = foot(x - 420.0, 60.0, STANCE, -34.0);
    end.far_leg = foot(x + 20.0, 0.0, -STANCE, 0.0);
    end.hip = v(x - 140.0, SOFT - 130.0, 0.0);
    end.lean = 4.0;
    plain(base, end, Follow::NearFoot)
}

/// Legs and arms of a march: the lifted thigh in degrees, and the arms.
pub(super) fn marching(base: Base, thigh: f64, arms: ArmHeight) -> Pose {
    let mut end = base.pose;
    end.near_leg = Leg::Free {
        fore: thigh,
        out: 2.0,
        bend: thigh + 4.0,
        pitch: -8.0,
    };
    if base.seated {
        end.near_leg = foot(150.0, thigh * 2.4, 100.0, -6.0);
    }
    let swings = !matches!(arms, ArmHeight::Still);
    if base.hands == Hands::Free && (swings || !base.seated) {
        let swing = if swings { 38.0 } else { 16.0 };
        end.near_arm = free(-swing, 8.0, 60.0);
        end.far_arm = free(swing, 8.0, 60.0);
    }
    end
}

/// Height of a hand resting on the thigh of somebody seated.
pub(super) const LAP: f64 = SEAT + 150.0;

//! Movements of the legs: marching, taps, digs, lifts, stretches.

use super::arrow::Follow;
use super::base::{Base, Hands, SOFT, STANCE, foot, free};
use super::body::{Arm, Leg};
use super::choose::Facts;
use super::poses::{LAP, Movement, facing, marching, plain};
use super::space::v;

pub(super) fn movement(facts: &Facts<'_>, base: Base, front: Base) -> Option<Movement> {
    let x = base.pose.hip.x;
    let mut end = base.pose;
    Some(match facts.exercise {
        "gentle-march" => plain(base, marching(base, 42.0, facts.arms), Follow::NearKnee),
        "march" | "seated-march" => plain(base, marching(base, 56.0, facts.arms), Follow::NearKnee),
        "march-with-arms" | "seated-march-with-arms" => {
            let mut end = marching(base, 56.0, facts.arms);
            end.near_arm = free(-40.0, 8.0, 70.0);
            if base.hands == Hands::Free {
                end.far_arm = free(44.0, 8.0, 70.0);
            }
            plain(base, end, Follow::NearKnee)
        }
        "knee-lifts" => plain(base, marching(base, 78.0, facts.arms), Follow::NearKnee),
        "heel-digs" | "heel-digs-with-curls" => {
            let reach = if base.seated { x + 690.0 } else { x + 340.0 };
            end.near_leg = foot(reach, 12.0, STANCE, 30.0);
            if !base.seated {
                end.hip.y = SOFT - 30.0;
            }
            if facts.exercise == "heel-digs-with-curls" {
                end.near_arm = free(6.0, 6.0, 118.0);
                end.far_arm = free(6.0, 6.0, 118.0);
            }
            plain(base, end, Follow::NearFoot)
        }
        "taps-back" => {
            end.near_leg = foot(x - 330.0, 52.0, STANCE, -38.0);
            end.lean = 4.0;
            plain(base, end, Follow::NearFoot)
        }
        // Seated it is only a squeeze: nothing is seen to move.
        "back-leg-lifts" if base.seated => plain(base, base.pose, Follow::Nothing),
        "back-leg-lifts" => {
            end.near_leg = Leg::Free {
                fore: -26.0,
                out: 2.0,
                bend: 4.0,
                pitch: -6.0,
            };
            end.lean = 6.0;
            plain(base, end, Follow::NearFoot)
        }
        "leg-curls" if !base.seated => {
            end.near_leg = Leg::Free {
                fore: -4.0,
                out: 2.0,
                bend: 82.0,
                pitch: -4.0,
            };
            plain(base, end, Follow::NearFoot)
        }
        "heel-slides" | "leg-curls" => {
            let mut start = base;
            start.pose.near_leg = foot(x + 560.0, 0.0, 100.0, 0.0);
            end.near_leg = foot(x + 330.0, 0.0, 100.0, 0.0);
            plain(start, end, Follow::NearFoot)
        }
        "knee-straightening" => {
            end.near_leg = Leg::Free {
                fore: 86.0,
                out: 2.0,
                bend: 6.0,
                pitch: 70.0,
            };
            plain(base, end, Follow::NearFoot)
        }
        "heel-raises" | "heel-toe-rocking" => heels(base),
        "toe-raises" => {
            end.near_leg = foot(x_of_foot(base), 0.0, STANCE, 24.0);
            end.far_leg = foot(x_of_foot(base), 0.0, -STANCE, 24.0);
            plain(base, end, Follow::NearFoot)
        }
        "ankle-circles" => {
            end.near_leg = foot(x + 560.0, 150.0, 100.0, 24.0);
            plain(base, end, Follow::NearFoot)
        }
        "one-leg-stand" => {
            end.near_leg = Leg::Free {
                fore: 24.0,
                out: 4.0,
                bend: 62.0,
                pitch: -6.0,
            };
            plain(base, end, Follow::NearFoot)
        }
        "thigh-stretch" if !base.seated => {
            end.near_leg = Leg::Free {
                fore: -18.0,
                out: 2.0,
                bend: 146.0,
                pitch: -36.0,
            };
            end.near_arm = Arm::At {
                hand: v(x - 205.0, 800.0, 104.0),
                pole: v(-1.0, 0.0, 0.4),
            };
            plain(base, end, Follow::Nothing)
        }
        "thigh-stretch" | "hip-stretch" if base.seated => {
            end.near_leg = foot(x + 60.0, 40.0, 110.0, -24.0);
            plain(base, end, Follow::NearFoot)
        }
        "hamstring-stretch" => {
            end.near_leg = foot(x + 700.0, 6.0, 100.0, 28.0);
            end.lean = 24.0;
            end.nod = -6.0;
            end.near_arm = Arm::At {
                hand: v(x + 330.0, LAP, 60.0),
                pole: v(-1.0, 0.0, 0.5),
            };
            end.far_arm = Arm::At {
                hand: v(x + 330.0, LAP, -90.0),
                pole: v(-1.0, 0.0, -0.5),
            };
            plain(base, end, Follow::Head)
        }
        "calf-stretch" if base.seated => {
            end.near_leg = foot(x + 690.0, 6.0, 100.0, 34.0);
            plain(base, end, Follow::NearFoot)
        }
        _ => return sideways(facts, front),
    })
}

fn x_of_foot(base: Base) -> f64 {
    match base.pose.near_leg {
        Leg::Foot { at, .. } => at.x,
        Leg::Free { .. } => base.pose.hip.x,
    }
}

/// Up on the toes, seated or standing.
fn heels(base: Base) -> Movement {
    let mut end = base.pose;
    let at = x_of_foot(base);
    let up = 62.0;
    end.near_leg = foot(at, up, if base.seated { 100.0 } else { STANCE }, -32.0);
    end.far_leg = foot(at, up, if base.seated { -100.0 } else { -STANCE }, -32.0);
    if !base.seated {
        end.hip.y += up;
        end.hip.x += 20.0;
    }
    let follow = if base.seated {
        Follow::NearKnee
    } else {
        Follow::Head
    };
    plain(base, end, follow)
}

/// Movements to the side, seen from the front.
fn sideways(facts: &Facts<'_>, front: Base) -> Option<Movement> {
    let mut end = front.pose;
    let (x, still) = (x_of_foot(front), front.hands != Hands::Free);
    Some(match facts.exercise {
        "side-steps" => {
            end.hip.z = 190.0;
            end.near_leg = foot(x, 0.0, 190.0 + STANCE + 130.0, 0.0);
            end.far_leg = foot(x, 0.0, 190.0 - STANCE - 130.0, 0.0);
            end.hip.y = SOFT - 40.0;
            facing(front, end, Follow::NearFoot)
        }
        "side-taps" | "slow-side-taps" => {
            let out = if front.seated { 330.0 } else { 400.0 };
            end.near_leg = foot(x, 0.0, out, 0.0);
            if !front.seated {
                end.hip.y = SOFT - 26.0;
            }
            facing(front, end, Follow::NearFoot)
        }
        "side-leg-lifts" => {
            end.near_leg = Leg::Free {
                fore: 0.0,
                out: 27.0,
                bend: 0.0,
                pitch: 4.0,
            };
            if front.seated {
                end.near_leg = foot(x, 0.0, 330.0, 0.0);
            }
            facing(front, end, Follow::NearFoot)
        }
        "half-jacks" | "seated-half-jacks" => {
            let out = if front.seated { 320.0 } else { 370.0 };
            end.near_leg = foot(x, 0.0, out, 0.0);
            if !front.seated {
                end.hip.y = SOFT - 24.0;
            }
            end.near_arm = free(0.0, 80.0, 8.0);
            end.far_arm = if still {
                end.far_arm
            } else {
                free(0.0, 80.0, 8.0)
            };
            facing(front, end, Follow::NearHand)
        }
        _ => return None,
    })
}

//! Movements of arms, shoulders, trunk and neck.

use super::arrow::Follow;
use super::base::{Base, free};
use super::body::{Arm, Pose};
use super::choose::Facts;
use super::poses::{LAP, Movement, facing, plain};
use super::props::Held;
use super::space::v;

pub(super) fn movement(facts: &Facts<'_>, base: Base, front: Base) -> Option<Movement> {
    let mut base = base;
    // Arms that move begin beside the body, seated or standing.
    let hang = free(4.0, 8.0, 14.0);
    let mut open = front;
    (open.pose.near_arm, open.pose.far_arm) = (hang, hang);
    let quiet = base;
    (base.pose.near_arm, base.pose.far_arm) = (hang, hang);
    Some(match facts.exercise {
        "arm-curls" => plain(
            base,
            both(base.pose, free(6.0, 6.0, 128.0)),
            Follow::NearHand,
        ),
        "front-raises" | "stick-raises" => {
            let mut end = both(base.pose, free(84.0, 2.0, 4.0));
            end.lean = 0.0;
            plain(base, end, Follow::NearHand)
        }
        "punches" | "seated-punches" => {
            let mut from = base;
            from.pose.near_arm = free(-14.0, 10.0, 122.0);
            from.pose.far_arm = free(-14.0, 10.0, 122.0);
            let mut end = from.pose;
            end.near_arm = free(82.0, 2.0, 4.0);
            plain(from, end, Follow::NearHand)
        }
        "reach-and-pull" | "wall-press" if base.seated || facts.exercise != "wall-press" => {
            let mut from = base;
            from.pose = both(base.pose, free(-24.0, 14.0, 112.0));
            plain(
                from,
                both(base.pose, free(80.0, 6.0, 6.0)),
                Follow::NearHand,
            )
        }
        "seated-rows" => {
            let mut from = base;
            from.pose = both(base.pose, free(62.0, 2.0, 14.0));
            let mut row = plain(
                from,
                both(base.pose, free(-26.0, 12.0, 104.0)),
                Follow::NearHand,
            );
            row.held = Held::BandToFeet;
            row
        }
        "arm-press-back" => {
            let mut from = base;
            from.pose.lean = 24.0;
            from.pose.nod = -8.0;
            from.pose = both(from.pose, free(-22.0, 6.0, 84.0));
            plain(
                from,
                both(from.pose, free(-26.0, 6.0, 6.0)),
                Follow::NearHand,
            )
        }
        "chest-stretch" => plain(
            base,
            both(base.pose, free(-42.0, 10.0, 18.0)),
            Follow::NearHand,
        ),
        "shoulder-rolls" | "shoulder-shrugs" => {
            let mut end = base.pose;
            end.shrug = 62.0;
            plain(base, end, Follow::NearShoulder)
        }
        "upper-back-stretch" => {
            let mut end = base.pose;
            end.near_arm = free(68.0, -34.0, 38.0);
            end.far_arm = free(68.0, -34.0, 38.0);
            end.lean = 8.0;
            end.nod = 10.0;
            plain(base, end, Follow::NearHand)
        }
        "upper-arm-stretch" => {
            let mut end = base.pose;
            if facts.arms == rehab::programme::ArmHeight::AboveShoulder {
                end.near_arm = free(168.0, 4.0, 128.0);
            } else {
                end.near_arm = free(82.0, -38.0, 10.0);
            }
            end.far_arm = free(72.0, 0.0, 96.0);
            plain(base, end, Follow::NearHand)
        }
        "quiet-breathing" => {
            let mut end = quiet.pose;
            let hip = end.hip;
            end.near_arm = Arm::At {
                hand: v(hip.x + 150.0, LAP + 60.0, 70.0),
                pole: v(-1.0, -0.5, 0.8),
            };
            plain(quiet, end, Follow::Nothing)
        }
        "neck-turns" => facing(front, front.pose, Follow::RoundHead),
        _ => return across(facts, open),
    })
}

fn both(mut pose: Pose, arm: Arm) -> Pose {
    pose.near_arm = arm;
    pose.far_arm = arm;
    pose
}

/// Movements across the body or to the side, seen from the front.
fn across(facts: &Facts<'_>, open: Base) -> Option<Movement> {
    let pose = open.pose;
    Some(match facts.exercise {
        "side-raises" => facing(open, both(pose, free(0.0, 82.0, 6.0)), Follow::NearHand),
        "small-arm-circles" => {
            let mut from = open;
            from.pose = both(pose, free(0.0, 52.0, 6.0));
            facing(from, both(pose, free(8.0, 74.0, 6.0)), Follow::NearHand)
        }
        "band-pulls" => {
            let mut from = open;
            from.pose = both(pose, free(78.0, -6.0, 12.0));
            let mut pull = facing(from, both(pose, free(70.0, 58.0, 12.0)), Follow::NearHand);
            pull.held = Held::Band;
            pull
        }
        "overhead-press" => {
            let mut from = open;
            from.pose = both(pose, free(30.0, 24.0, 128.0));
            facing(from, both(pose, free(166.0, 16.0, 6.0)), Follow::NearHand)
        }
        "upright-rows" => {
            let chest = |side: f64| Arm::At {
                hand: v(pose.hip.x + 190.0, pose.hip.y + 380.0, side * 70.0),
                pole: v(0.0, 0.5, side),
            };
            let mut end = pose;
            (end.near_arm, end.far_arm) = (chest(1.0), chest(-1.0));
            facing(open, end, Follow::NearHand)
        }
        "side-bends" => {
            let mut end = pose;
            end.side = 20.0;
            end.near_arm = free(2.0, 2.0, 6.0);
            end.far_arm = free(8.0, 22.0, 90.0);
            facing(open, end, Follow::Head)
        }
        "trunk-turns" => {
            let folded = free(46.0, -26.0, 96.0);
            let mut from = open;
            from.pose = both(pose, folded);
            let mut end = from.pose;
            end.twist = 40.0;
            facing(from, end, Follow::NearHand)
        }
        _ => return None,
    })
}

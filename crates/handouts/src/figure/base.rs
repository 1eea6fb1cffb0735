//! Where a movement begins: seated, standing free, or standing with the hands on something.

use super::body::{Arm, Leg, Pose, STANDING_HIP};
use super::props::{Furniture, RAIL_TOP, RAIL_X, SEAT, WALL_X, WORKTOP, WORKTOP_X};
use super::space::{V3, v};
use rehab::assessment::{PlaceKind, Support};

/// What the hands rest on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Hands {
    Free,
    Far,
    Both,
}

/// Start of a pose with its surroundings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Base {
    pub(super) pose: Pose,
    pub(super) furniture: Furniture,
    pub(super) seated: bool,
    pub(super) hands: Hands,
}

pub(super) const DOWN_BACK: V3 = v(-1.0, -0.6, 0.0);
/// Half the distance between the feet.
pub(super) const STANCE: f64 = 92.0;
/// A standing hip with soft knees.
pub(super) const SOFT: f64 = STANDING_HIP - 8.0;

pub(super) fn free(fore: f64, out: f64, bend: f64) -> Arm {
    Arm::Free { fore, out, bend }
}

pub(super) fn foot(x: f64, lift: f64, z: f64, pitch: f64) -> Leg {
    Leg::Foot {
        at: v(x, lift, z),
        pitch,
    }
}

/// Seated upright on a chair, feet flat, hands on the thighs.
pub(super) fn seated(arms: bool) -> Base {
    let hand = |z: f64| Arm::At {
        hand: v(40.0, SEAT + 130.0, z),
        pole: v(-1.0, -0.4, z / 300.0),
    };
    Base {
        pose: Pose {
            hip: v(-235.0, SEAT + 84.0, 0.0),
            lean: 1.0,
            side: 0.0,
            twist: 0.0,
            nod: 0.0,
            shrug: 0.0,
            near_arm: hand(120.0),
            far_arm: hand(-120.0),
            near_leg: foot(172.0, 0.0, 100.0, 0.0),
            far_leg: foot(172.0, 0.0, -100.0, 0.0),
        },
        furniture: if arms {
            Furniture::Armchair
        } else {
            Furniture::Chair
        },
        seated: true,
        hands: Hands::Free,
    }
}

/// Standing, with the hands free or on what the place offers.
pub(super) fn standing(support: Support, place: Option<PlaceKind>) -> Base {
    let hands = match support {
        Support::TwoHands => Hands::Both,
        Support::OneHand => Hands::Far,
        Support::None | Support::Seated => Hands::Free,
    };
    let worktop = place == Some(PlaceKind::Worktop);
    let wall = place == Some(PlaceKind::Wall);
    let furniture = match hands {
        Hands::Free => Furniture::Nothing,
        _ if worktop => Furniture::Worktop,
        _ if wall => Furniture::Wall,
        _ => Furniture::ChairBack,
    };
    let held = |z: f64| {
        let hand = match furniture {
            Furniture::Worktop => v(WORKTOP_X - 8.0, WORKTOP + 42.0, z),
            Furniture::Wall => v(WALL_X - 70.0, 1150.0, z),
            _ => v(RAIL_X - 40.0, RAIL_TOP + 38.0, z),
        };
        Arm::At {
            hand,
            pole: DOWN_BACK,
        }
    };
    let hang = free(4.0, 7.0, 12.0);
    let supported = hands != Hands::Free;
    Base {
        pose: Pose {
            hip: v(if supported { -60.0 } else { 0.0 }, SOFT, 0.0),
            lean: 0.0,
            side: 0.0,
            twist: 0.0,
            nod: 0.0,
            shrug: 0.0,
            near_arm: if hands == Hands::Both {
                held(150.0)
            } else {
                hang
            },
            far_arm: if supported { held(-150.0) } else { hang },
            near_leg: foot(if supported { -60.0 } else { 0.0 }, 0.0, STANCE, 0.0),
            far_leg: foot(if supported { -60.0 } else { 0.0 }, 0.0, -STANCE, 0.0),
        },
        furniture,
        seated: false,
        hands,
    }
}

/// Standing, seen from the front; what is held stands at the far side.
pub(super) fn standing_front(support: Support) -> Base {
    let mut base = standing(Support::None, None);
    base.pose.near_leg = foot(0.0, 0.0, STANCE, 0.0);
    if matches!(support, Support::OneHand | Support::TwoHands) {
        base.hands = Hands::Far;
        base.furniture = Furniture::ChairBeside;
        base.pose.far_arm = Arm::At {
            hand: v(40.0, RAIL_TOP + 36.0, -330.0),
            pole: v(-0.6, -0.2, -1.0),
        };
    }
    base
}

//! What a cycle knows at each key pose, in numbers that can be joined in time.

use crate::body::Body;
use crate::body::Side;
use crate::joint::{Limb, Middle};
use crate::key::{Arm, Foot, FootOn, Hips, Key, Leg, Pair, Pause};
use crate::pose::Pose;
use crate::room::Room;
use crate::settle::{palm, toes_deg};

/// Numbers of pelvis, spine and neck: three of place, three of tilt, six of angle.
pub(super) const TRUNK: usize = 6 + Middle::ALL.len();
/// Numbers of a placed foot: place, lift, heading, pitch, toes.
pub(super) const FOOT: usize = 6;

/// One key pose, or the end of its rest.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Knot {
    /// How long it takes to the next.
    pub(super) length_ms: f64,
    /// Whether the body stands still here.
    pub(super) at_rest: bool,
    pub(super) trunk: [f64; TRUNK],
    pub(super) legs: Pair<LegKnot>,
    pub(super) arms: Pair<ArmKnot>,
    pub(super) seated: bool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct LegKnot {
    /// Where its foot is, if it is placed.
    pub(super) foot: Option<[f64; FOOT]>,
    pub(super) on_floor: bool,
    pub(super) angles_deg: [f64; Limb::LEG.len()],
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ArmKnot {
    /// Where its palm is, if it is placed.
    pub(super) palm: Option<[f64; 3]>,
    pub(super) angles_deg: [f64; Limb::ARM.len()],
}

impl Knot {
    /// The knots of a settled key pose: one, or two with its rest between them.
    pub(super) fn of_key(body: &Body, room: &Room, key: &Key, pose: &Pose) -> Vec<Self> {
        let context = Context {
            body,
            room,
            key,
            pose,
        };
        let knot = Self {
            length_ms: f64::from(key.to_next_ms),
            at_rest: key.pause != Pause::Pass,
            trunk: trunk(key, pose),
            legs: Pair {
                left: leg(Side::Left, &context),
                right: leg(Side::Right, &context),
            },
            arms: Pair {
                left: arm(Side::Left, &context),
                right: arm(Side::Right, &context),
            },
            seated: matches!(key.hips, Hips::Seated { .. }),
        };
        let rest = (key.rest_ms() > 0).then(|| Self {
            length_ms: f64::from(key.rest_ms()),
            ..knot.clone()
        });
        rest.into_iter().chain([knot]).collect()
    }
}

/// What a knot is made from.
struct Context<'a> {
    body: &'a Body,
    room: &'a Room,
    key: &'a Key,
    pose: &'a Pose,
}

fn trunk(key: &Key, pose: &Pose) -> [f64; TRUNK] {
    let at = pose.pelvis.at;
    let tilt = key.tilt;
    let mut numbers = [0.0; TRUNK];
    numbers[..6].copy_from_slice(&[
        at.x,
        at.y,
        at.z,
        tilt.forward_deg,
        tilt.left_deg,
        tilt.turn_deg,
    ]);
    numbers[6..].copy_from_slice(&key.middle_deg);
    numbers
}

fn leg(side: Side, context: &Context<'_>) -> LegKnot {
    let angles_deg = Limb::LEG.map(|limb| context.pose.limb_deg(side, limb));
    let (foot, on_floor) = match context.key.legs.of(side) {
        Leg::Placed(foot) => (Some(numbers_of(&foot)), foot.on == FootOn::Floor),
        Leg::Angles(_) => (None, false),
    };
    LegKnot {
        foot,
        on_floor,
        angles_deg,
    }
}

fn arm(side: Side, context: &Context<'_>) -> ArmKnot {
    let angles_deg = Limb::ARM.map(|limb| context.pose.limb_deg(side, limb));
    let palm = match (context.key.arms.of(side), context.room.worktop) {
        (Arm::OnWorktop { x, out }, Some(worktop)) => {
            let at = palm(context.body, &worktop, side, x, out);
            Some([at.x, at.y, at.z])
        }
        _ => None,
    };
    ArmKnot { palm, angles_deg }
}

fn numbers_of(foot: &Foot) -> [f64; FOOT] {
    let lift = match foot.on {
        FootOn::Floor => 0.0,
        FootOn::Air { lift } => lift,
    };
    [
        foot.x,
        foot.y,
        lift,
        foot.heading_deg,
        foot.pitch_deg,
        toes_deg(foot),
    ]
}

/// The foot of its numbers, without the toes.
pub(super) fn foot_of(numbers: &[f64; FOOT]) -> Foot {
    let [x, y, lift, heading_deg, pitch_deg, _] = *numbers;
    Foot {
        x,
        y,
        on: FootOn::Air { lift },
        heading_deg,
        pitch_deg,
    }
}

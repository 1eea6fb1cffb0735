//! What a cycle knows at each key pose, in numbers that can be joined in time.

use crate::body::{Body, Side};
use crate::grip::{Placed, placed};
use crate::joint::{Limb, Middle};
use crate::key::{Arm, FootOn, Hips, Key, Leg, Pair, Pause};
use crate::place::{FootNumbers, foot_numbers};
use crate::pose::Pose;
use crate::room::Room;
use crate::settle::Unsettled;

/// Numbers of pelvis, spine, neck and shoulders: three of place, three of tilt, six of angle, two for each shoulder.
pub(super) const TRUNK: usize = 6 + Middle::ALL.len() + 2 * Limb::GIRDLE.len();

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
    pub(super) foot: Option<FootNumbers>,
    /// Whether it bears.
    pub(super) bears: bool,
    pub(super) angles_deg: [f64; Limb::LEG.len()],
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ArmKnot {
    /// Where its hand is, if it is placed.
    pub(super) hand: Option<Placed>,
    pub(super) angles_deg: [f64; Limb::ARM.len()],
}

impl Knot {
    /// The knots of a settled key pose: one, or two with its rest between them.
    ///
    /// # Errors
    /// When foot or hand is on something that is not there.
    pub(super) fn of_key(
        body: &Body,
        room: &Room,
        key: &Key,
        pose: &Pose,
    ) -> Result<Vec<Self>, Unsettled> {
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
                left: leg(Side::Left, &context)?,
                right: leg(Side::Right, &context)?,
            },
            arms: Pair {
                left: arm(Side::Left, &context)?,
                right: arm(Side::Right, &context)?,
            },
            seated: matches!(key.hips, Hips::Seated { .. }),
        };
        let rest = (key.rest_ms() > 0).then(|| Self {
            length_ms: f64::from(key.rest_ms()),
            ..knot.clone()
        });
        Ok(rest.into_iter().chain([knot]).collect())
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
    let angles = key.middle_deg.into_iter();
    let angles = angles.chain(key.girdle.left).chain(key.girdle.right);
    for (number, angle_deg) in numbers[6..].iter_mut().zip(angles) {
        *number = angle_deg;
    }
    numbers
}

fn leg(side: Side, context: &Context<'_>) -> Result<LegKnot, Unsettled> {
    let angles_deg = Limb::LEG.map(|limb| context.pose.limb_deg(side, limb));
    let (foot, bears) = match context.key.legs.of(side) {
        Leg::Placed(foot) => {
            let numbers = foot_numbers(context.body, context.room, &foot)?;
            (Some(numbers), !matches!(foot.on, FootOn::Air { .. }))
        }
        Leg::Angles(_) => (None, false),
    };
    Ok(LegKnot {
        foot,
        bears,
        angles_deg,
    })
}

fn arm(side: Side, context: &Context<'_>) -> Result<ArmKnot, Unsettled> {
    let angles_deg = Limb::ARM.map(|limb| context.pose.limb_deg(side, limb));
    let hand = match context.key.arms.of(side) {
        Arm::Placed(hand) => Some(placed(context.body, context.room, side, &hand)?),
        Arm::Angles(_) => None,
    };
    Ok(ArmKnot { hand, angles_deg })
}

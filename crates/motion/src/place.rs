//! Placing feet: from how a key pose tells them to numbers that can be joined in time, and from those to the leg.

use crate::body::{Body, Side};
use crate::joint::{Freedom, Limb};
use crate::key::{Foot, FootOn};
use crate::limb::{Unreachable, place_foot};
use crate::pose::Pose;
use crate::room::Room;
use crate::settle::Unsettled;
use crate::space::{Frame, Rotation, Vector};

/// Numbers of a placed foot: forwards, left and height of the point it turns about when flat, in metres; heading, pitch, toes.
pub(crate) type FootNumbers = [f64; 6];

/// The numbers of a foot.
///
/// # Errors
/// When it stands on something that is not there.
pub(crate) fn foot_numbers(
    body: &Body,
    room: &Room,
    foot: &Foot,
) -> Result<FootNumbers, Unsettled> {
    let height_m = match foot.on {
        FootOn::Floor => 0.0,
        FootOn::Step => room.step.ok_or(Unsettled::NoStep)?.height_m,
        FootOn::Air { lift } => lift * body.stature_m(),
    };
    // Toes stay on the floor when the heel rises, and are straight in the air.
    let toes_deg = match foot.on {
        FootOn::Floor | FootOn::Step => foot.pitch_deg.max(0.0),
        FootOn::Air { .. } => 0.0,
    };
    Ok([
        foot.x * body.stature_m(),
        foot.y * body.stature_m(),
        height_m,
        foot.heading_deg,
        foot.pitch_deg,
        toes_deg,
    ])
}

/// Where a foot would be if it were flat.
pub(crate) fn flat_foot(body: &Body, numbers: &FootNumbers) -> Frame {
    let [x, y, height_m, heading_deg, ..] = *numbers;
    Frame {
        at: Vector::new(x, y, height_m + body.ankle_height_m()),
        turned: Rotation::about_up(heading_deg),
    }
}

/// Where a foot is: turned about its ball when the heel is up, about its heel when the toes are.
pub(crate) fn foot_frame(body: &Body, numbers: &FootNumbers) -> Frame {
    let [.., pitch_deg, _] = *numbers;
    let pivot = if pitch_deg > 0.0 {
        body.ball()
    } else {
        body.heel()
    };
    let flat = flat_foot(body, numbers);
    let turned = flat.turned.then(Rotation::about_left(pitch_deg));
    Frame {
        at: flat.point(pivot) - turned.apply(pivot),
        turned,
    }
}

/// Puts a foot where its numbers say.
///
/// # Errors
/// When the leg does not reach.
pub(crate) fn set_foot(
    body: &Body,
    pose: &mut Pose,
    side: Side,
    numbers: &FootNumbers,
) -> Result<(), Unreachable> {
    place_foot(body, pose, side, foot_frame(body, numbers))?;
    let [.., toes_deg] = *numbers;
    pose.set_deg(Freedom::Of(side, Limb::ToeExtension), toes_deg);
    Ok(())
}

//! Placing hands: on furniture and walls, or on the own body, with which they then go.

use crate::body::{Body, Segment, Side};
use crate::clash::Furniture;
use crate::key::{Hand, HandOn, OwnPart};
use crate::limb::{Unreachable, place_hand};
use crate::pose::Pose;
use crate::posture::Posture;
use crate::room::Room;
use crate::settle::Unsettled;
use crate::space::{Frame, Rotation, Vector};

/// What a placed hand lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Contact {
    /// Something in the room, which stays where it is.
    On(Furniture),
    /// A part of the own body, which takes the hand along.
    Own(Segment),
}

impl core::fmt::Display for Contact {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::On(furniture) => write!(f, "the {}", furniture.word()),
            Self::Own(Segment::Thigh(_)) => f.write_str("the thigh"),
            Self::Own(Segment::Abdomen) => f.write_str("the belly"),
            Self::Own(Segment::Pelvis) => f.write_str("the hip"),
            Self::Own(Segment::Thorax) => f.write_str("the other shoulder"),
            Self::Own(_) => f.write_str("the other arm"),
        }
    }
}

/// Numbers of a placed hand in the frame of what it lies on: the place of its middle, in metres; its fingers inwards and up; its
/// thumb up.
pub(crate) type HandNumbers = [f64; 6];

/// A placed hand in numbers that can be joined in time while it lies on the same thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Placed {
    pub(crate) on: Contact,
    pub(crate) numbers: HandNumbers,
}

/// How far the fingers point up on a wall: a wrist goes back no further. Ours.
const ON_WALL_DEG: f64 = 66.0;

/// Where a palm lies, in the frame of what it lies on.
struct Spot {
    on: Contact,
    at: Vector,
    inward_deg: f64,
    pitch_deg: f64,
    roll_deg: f64,
}

/// How a placed hand is told, in numbers.
///
/// # Errors
/// When it lies on something that is not there.
pub(crate) fn placed(
    body: &Body,
    room: &Room,
    side: Side,
    hand: &Hand,
) -> Result<Placed, Unsettled> {
    let spot = match hand.on {
        HandOn::Own(part) => own_spot(body, side, part, hand.out),
        _ => room_spot(body, room, side, hand)?,
    };
    let inward_deg = spot.inward_deg + hand.inward_deg;
    let turned = hand_turned(side, [inward_deg, spot.pitch_deg, spot.roll_deg]);
    // The palm looks to what it lies on.
    let palm = turned.left * -side.sign();
    let middle = spot.at - palm * Room::palm_to_middle_m(body);
    Ok(Placed {
        on: spot.on,
        numbers: [
            middle.x,
            middle.y,
            middle.z,
            inward_deg,
            spot.pitch_deg,
            spot.roll_deg,
        ],
    })
}

fn room_spot(body: &Body, room: &Room, side: Side, hand: &Hand) -> Result<Spot, Unsettled> {
    let stature_m = body.stature_m();
    let y = side.sign() * hand.out * stature_m;
    let flat = |on, x: f64, y: f64, z: f64| Spot {
        on: Contact::On(on),
        at: Vector::new(x * stature_m, y, z),
        inward_deg: 0.0,
        pitch_deg: 0.0,
        roll_deg: 0.0,
    };
    Ok(match hand.on {
        HandOn::Worktop { x } => {
            let worktop = room.worktop.ok_or(Unsettled::NoWorktop)?;
            flat(Furniture::Worktop, x, y, worktop.top_m)
        }
        HandOn::Bar => {
            let bar = room.bar.ok_or(Unsettled::NoBar)?;
            flat(Furniture::Bar, bar.x, y, bar.top_m)
        }
        HandOn::Seat { x } => {
            let chair = room.chair.ok_or(Unsettled::NoChair)?;
            let edge_m = side.sign() * chair.breadth_m / 2.0;
            // The hand holds the edge of the seat from outside, as the arm hangs.
            Spot {
                pitch_deg: -80.0,
                roll_deg: 90.0,
                ..flat(Furniture::Chair, x, y + edge_m, chair.seat_m)
            }
        }
        HandOn::ArmRest { x } => {
            let chair = room.chair.ok_or(Unsettled::NoChair)?;
            let arms_m = chair.arms_m.ok_or(Unsettled::NoArmRests)?;
            flat(Furniture::Chair, x, y, arms_m)
        }
        HandOn::Wall { height } => {
            let wall = room.wall.ok_or(Unsettled::NoWall)?;
            let (_, away) = crate::space::sin_cos_deg(ON_WALL_DEG);
            let half_hand_m = body.length_m(Segment::Hand(side)) / 2.0;
            let mut spot = flat(Furniture::Wall, wall.x, y, height * stature_m);
            // Fingertips touch it, and the palm with what it has of flesh.
            spot.at.x -= half_hand_m * away;
            spot.pitch_deg = ON_WALL_DEG;
            spot
        }
        HandOn::Rail { x } => {
            let rail = room.rail.ok_or(Unsettled::NoRail)?;
            let y = y + rail.y * stature_m;
            let (sin, cos) = crate::space::sin_cos_deg(rail.slope_deg);
            let top_m = rail.top_m + x * stature_m * sin / cos;
            Spot {
                pitch_deg: rail.slope_deg,
                ..flat(Furniture::Rail, x, y, top_m)
            }
        }
        HandOn::Stick { x } => {
            let stick = room.stick.ok_or(Unsettled::NoStick)?;
            flat(Furniture::Stick, x, y, stick.long_m)
        }
        HandOn::Own(part) => own_spot(body, side, part, hand.out),
    })
}

/// Where the parts of the body are that a hand lies on. Ours, in shares of stature: half the girth of each.
fn own_spot(body: &Body, side: Side, part: OwnPart, out: f64) -> Spot {
    let (sign, other) = (side.sign(), side.other());
    let spot = |segment, [x, y, z]: [f64; 3], [inward_deg, pitch_deg, roll_deg]: [f64; 3]| Spot {
        on: Contact::Own(segment),
        at: Vector::new(x, sign * (y + out), z) * body.stature_m(),
        inward_deg,
        pitch_deg,
        roll_deg,
    };
    let long = |segment| body.length_m(segment) / body.stature_m();
    match part {
        // Thigh and hanging arm point downwards: the fingers go down them and the palm looks back.
        OwnPart::Thigh { along } => {
            let thigh = Segment::Thigh(side);
            spot(thigh, [0.045, 0.0, -along * long(thigh)], [0.0, -90.0, 0.0])
        }
        OwnPart::Belly => spot(Segment::Abdomen, [0.062, 0.015, 0.02], [90.0, 0.0, 90.0]),
        OwnPart::Hip => spot(Segment::Pelvis, [0.01, 0.098, 0.045], [35.0, -35.0, 60.0]),
        OwnPart::OtherShoulder => spot(
            Segment::Thorax,
            [0.045, -0.075, long(Segment::Thorax) - 0.01],
            [80.0, 25.0, 75.0],
        ),
        OwnPart::OtherArm => {
            let arm = Segment::UpperArm(other);
            spot(arm, [0.027, 0.0, -0.8 * long(arm)], [90.0, 0.0, 90.0])
        }
    }
}

/// How a hand is turned: palm down and fingers ahead, then its thumb up, its fingers up, its fingers inwards.
fn hand_turned(side: Side, [inward_deg, pitch_deg, roll_deg]: [f64; 3]) -> Rotation {
    let sign = side.sign();
    let flat = Rotation {
        forward: Vector::LEFT * -sign,
        left: Vector::UP * sign,
        up: -Vector::FORWARD,
    };
    let upright = Rotation::about_left(-pitch_deg).then(Rotation::about_forward(-sign * roll_deg));
    if pitch_deg.abs() > 45.0 {
        // Fingers that point up or down turn inwards about the way the palm looks.
        let about_palm = Rotation::about_forward(sign * pitch_deg.signum() * inward_deg);
        return about_palm.then(upright).then(flat);
    }
    Rotation::about_up(-sign * inward_deg)
        .then(upright)
        .then(flat)
}

/// Lays a hand where its numbers say. What it lies on must have its place already.
///
/// # Errors
/// When the arm does not reach.
pub(crate) fn set_hand(
    body: &Body,
    pose: &mut Pose,
    side: Side,
    placed: &Placed,
) -> Result<(), Unreachable> {
    let under = match placed.on {
        Contact::On(_) => Frame {
            at: Vector::ZERO,
            turned: Rotation::NONE,
        },
        Contact::Own(segment) => Posture::of(body, pose).frame(segment),
    };
    let [x, y, z, inward_deg, pitch_deg, roll_deg] = placed.numbers;
    let turned = under
        .turned
        .then(hand_turned(side, [inward_deg, pitch_deg, roll_deg]));
    let half_hand = turned.up * (body.length_m(Segment::Hand(side)) / 2.0);
    let hand = Frame {
        at: under.point(Vector::new(x, y, z)) + half_hand,
        turned,
    };
    let elbow = elbow_towards(placed.on);
    let elbow = Vector::new(elbow.x, side.sign() * elbow.y, elbow.z);
    let towards = match placed.on {
        Contact::On(_) => elbow,
        Contact::Own(_) => pose.pelvis.turned.apply(elbow),
    };
    place_hand(body, pose, side, hand, towards)
}

/// Where the left elbow points: down, outwards and back, as it suits what the hand lies on.
const fn elbow_towards(on: Contact) -> Vector {
    match on {
        Contact::Own(Segment::Pelvis) => Vector::new(-0.5, 1.0, -0.1),
        Contact::Own(Segment::Thorax | Segment::UpperArm(_)) => Vector::new(0.6, 0.7, -0.6),
        Contact::Own(Segment::Abdomen) => Vector::new(-0.3, 1.0, -0.6),
        Contact::On(Furniture::Wall) => Vector::new(-0.3, 0.8, -1.0),
        _ => Vector::new(-0.6, 0.8, -1.0),
    }
}

/// Whether a hand can be placed only after the other arm has its place.
pub(crate) const fn waits(on: Contact) -> bool {
    matches!(on, Contact::Own(Segment::UpperArm(_)))
}

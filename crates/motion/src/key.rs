//! Key poses as they are written down: where the hips are, where feet and hands are, and what is left to angles.
//!
//! Places are shares of stature, so that one movement serves every size of body. Nothing here is solved yet.

use crate::body::Side;
use crate::joint::{Freedom, Limb, Middle};

/// One thing for the left and one for the right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pair<T> {
    /// The left one.
    pub left: T,
    /// The right one.
    pub right: T,
}

impl<T: Copy> Pair<T> {
    /// The same for both.
    pub const fn both(one: T) -> Self {
        Self {
            left: one,
            right: one,
        }
    }

    /// That of one side.
    pub const fn of(&self, side: Side) -> T {
        match side {
            Side::Left => self.left,
            Side::Right => self.right,
        }
    }

    fn swapped(self, mirrored: impl Fn(T) -> T) -> Self {
        Self {
            left: mirrored(self.right),
            right: mirrored(self.left),
        }
    }
}

/// One key pose, and how the movement goes on from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Key {
    /// Whether the movement rests here or goes through.
    pub pause: Pause,
    /// How long it takes to the next key pose.
    pub to_next_ms: u32,
    /// What bears the hips.
    pub hips: Hips,
    /// How the pelvis is turned.
    pub tilt: Tilt,
    /// Spine and neck, in the order of [`Middle::ALL`].
    pub middle_deg: [f64; Middle::ALL.len()],
    /// The legs.
    pub legs: Pair<Leg>,
    /// The arms.
    pub arms: Pair<Arm>,
    /// The shoulders themselves, in the order of [`Limb::GIRDLE`].
    pub girdle: Pair<[f64; Limb::GIRDLE.len()]>,
}

/// Whether a movement rests at a key pose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pause {
    /// At rest for this long; 0 is a turning point.
    Hold {
        /// How long.
        ms: u32,
    },
    /// Speed is kept.
    Pass,
}

/// What bears the hips.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hips {
    /// The legs: as high as the most bent they may be by `knee_deg`, and where the body's centre is above the feet.
    Borne {
        /// How far the straighter of the legs on the floor is bent.
        knee_deg: f64,
        /// Where along the feet the centre is: 0 above the heels, 1 above the toes.
        along: f64,
        /// How much of the way from the right foot to the left one.
        to_left: f64,
    },
    /// The legs, with the hips ahead of the ankles: a straight body that leans, for hands on a wall.
    Leaning {
        /// How far the straighter of the legs on the floor is bent.
        knee_deg: f64,
        /// The line from between the ankles to the hips, forwards.
        forward_deg: f64,
    },
    /// The seat of the chair, at this place.
    Seated {
        /// Forwards, in shares of stature.
        x: f64,
    },
}

/// How the pelvis is turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tilt {
    /// Its top forwards.
    pub forward_deg: f64,
    /// Its top to the left.
    pub left_deg: f64,
    /// Its front to the left.
    pub turn_deg: f64,
}

impl Tilt {
    /// Level, facing forwards.
    pub const NONE: Self = Self {
        forward_deg: 0.0,
        left_deg: 0.0,
        turn_deg: 0.0,
    };
}

/// What a leg does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Leg {
    /// Its foot is somewhere.
    Placed(Foot),
    /// Its angles, in the order of [`Limb::LEG`].
    Angles([f64; Limb::LEG.len()]),
}

/// Where a foot is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    /// Where its ankle is when the foot is flat: forwards, in shares of stature.
    pub x: f64,
    /// And to the left.
    pub y: f64,
    /// What bears it.
    pub on: FootOn,
    /// Its toes to the left.
    pub heading_deg: f64,
    /// Its heel up, turned about the ball; below 0 its toes up, turned about the heel.
    pub pitch_deg: f64,
}

/// What bears a foot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FootOn {
    /// The floor.
    Floor,
    /// The step.
    Step,
    /// Nothing: the point it would turn about is this high above the floor, in shares of stature.
    Air {
        /// How high.
        lift: f64,
    },
}

/// What an arm does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Arm {
    /// Its hand lies on something.
    Placed(Hand),
    /// Its angles, in the order of [`Limb::ARM`].
    Angles([f64; Limb::ARM.len()]),
}

/// Where a hand lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hand {
    /// What it lies on.
    pub on: HandOn,
    /// Outwards from the middle, in shares of stature; for a thigh from the middle of the thigh. The edge of a seat, a rail and the other parts of the
    /// own body have a place of their own, to which this is added.
    pub out: f64,
    /// Its fingers inwards from straight ahead; on a wall from straight up; on a part of the body from how it lies there.
    pub inward_deg: f64,
}

/// What a hand lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HandOn {
    /// The worktop.
    Worktop {
        /// Forwards, in shares of stature.
        x: f64,
    },
    /// The bar.
    Bar,
    /// The edge of the seat at the side of the hand, which it holds from outside.
    Seat {
        /// Forwards, in shares of stature.
        x: f64,
    },
    /// The arm of the chair.
    ArmRest {
        /// Forwards, in shares of stature.
        x: f64,
    },
    /// The wall, fingers up.
    Wall {
        /// How high, in shares of stature.
        height: f64,
    },
    /// The rail.
    Rail {
        /// Forwards, in shares of stature.
        x: f64,
    },
    /// The walking stick, whose foot is straight below.
    Stick {
        /// Forwards, in shares of stature.
        x: f64,
    },
    /// A part of the own body.
    Own(OwnPart),
}

/// A part of the own body that a hand lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OwnPart {
    /// The thigh of the same side, fingers towards the knee.
    Thigh {
        /// From hip to knee.
        along: f64,
    },
    /// The belly, fingers inwards.
    Belly,
    /// The hip bone of the same side.
    Hip,
    /// The shoulder of the other side, from the front.
    OtherShoulder,
    /// The upper arm of the other side, near its elbow.
    OtherArm,
}

impl Arm {
    /// An arm that hangs.
    pub const HANGING: Self = Self::Angles([0.0; Limb::ARM.len()]);

    /// Whether its hand holds something that stands on one side only.
    const fn is_beside(&self) -> bool {
        matches!(
            self,
            Self::Placed(Hand {
                on: HandOn::Rail { .. } | HandOn::Stick { .. },
                ..
            })
        )
    }
}

impl Key {
    /// The same key pose in a mirror; arms of which one holds something beside the person stay as they are.
    pub fn mirrored(&self) -> Self {
        let mut middle_deg = self.middle_deg;
        for (angle_deg, middle) in middle_deg.iter_mut().zip(Middle::ALL) {
            if Freedom::Middle(middle).mirrored().1 {
                *angle_deg = -*angle_deg;
            }
        }
        Self {
            hips: match self.hips {
                Hips::Borne {
                    knee_deg,
                    along,
                    to_left,
                } => Hips::Borne {
                    knee_deg,
                    along,
                    to_left: 1.0 - to_left,
                },
                alike @ (Hips::Seated { .. } | Hips::Leaning { .. }) => alike,
            },
            tilt: Tilt {
                forward_deg: self.tilt.forward_deg,
                left_deg: -self.tilt.left_deg,
                turn_deg: -self.tilt.turn_deg,
            },
            middle_deg,
            legs: self.legs.swapped(|leg| match leg {
                Leg::Placed(foot) => Leg::Placed(Foot {
                    y: -foot.y,
                    heading_deg: -foot.heading_deg,
                    ..foot
                }),
                angles @ Leg::Angles(_) => angles,
            }),
            // A rail or walking stick stands on one side and stays there, and the hand on it.
            arms: if self.arms.left.is_beside() || self.arms.right.is_beside() {
                self.arms
            } else {
                self.arms.swapped(|arm| arm)
            },
            girdle: self.girdle.swapped(|shoulder| shoulder),
            ..*self
        }
    }
}

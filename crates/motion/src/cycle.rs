//! One repetition of a movement for one body: the pose at every moment.
//!
//! Between key poses pelvis, spine and neck go by their own numbers. A foot that is placed at both ends goes through space and its leg
//! follows, so that a standing foot never slides; a limb that is told by angles at either end goes through its joints. All of it with
//! the least jerk from rest to rest, and without a jump of speed through a key pose that is passed.

mod knot;
mod span;

#[cfg(test)]
mod tests;

use crate::body::{Body, Side};
use crate::grip::{Contact, Placed};
use crate::held::Held;
use crate::joint::{Freedom, Limb};
use crate::key::Pair;
use crate::limb::Unreachable;
use crate::movement::{Movement, Untimed};
use crate::place::set_foot;
use crate::pose::Pose;
use crate::room::Room;
use crate::settle::{Unsettled, set_hands, settle_holding};
use knot::Knot;
use span::{ArmTrack, LegTrack, Span, spans_between};

/// One repetition of a movement for one body.
#[derive(Clone, Debug, PartialEq)]
pub struct Cycle {
    body: Body,
    room: Room,
    held: Held,
    period_ms: u32,
    spans: Vec<Span>,
}

/// What bears or holds the body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bearing {
    /// Feet on floor or step.
    pub feet: Pair<bool>,
    /// What a hand lies on.
    pub hands: Pair<Option<Contact>>,
    /// Whether the seat bears the hips.
    pub seat: bool,
}

/// Why a movement cannot be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CycleFault {
    /// Its times do not fit.
    Untimed(Untimed),
    /// A key pose cannot be taken.
    Key {
        /// Which, from 1.
        key: usize,
        /// Why.
        why: Unsettled,
    },
    /// On the way between two key poses a limb does not reach.
    OnTheWay {
        /// When.
        at_ms: u32,
        /// Why.
        why: Unsettled,
    },
}

impl core::fmt::Display for CycleFault {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Untimed(why) => write!(f, "{why}"),
            Self::Key { key, why } => write!(f, "key pose {key}: {why}"),
            Self::OnTheWay { at_ms, why } => {
                write!(f, "on the way, {at_ms} ms after the start: {why}")
            }
        }
    }
}

impl core::error::Error for CycleFault {}

impl Cycle {
    /// The repetition of a movement for a body.
    ///
    /// # Errors
    /// When its times do not fit, a key pose cannot be taken, or a limb does not reach in a picture on the way.
    pub fn of(body: &Body, movement: &Movement) -> Result<Self, CycleFault> {
        let period_ms = movement.period_ms().map_err(CycleFault::Untimed)?;
        let mut knots = Vec::new();
        for (place, key) in movement.repetition().into_iter().enumerate() {
            let settled = settle_holding(body, &movement.room, &movement.held, &key)
                .and_then(|pose| Knot::of_key(body, &movement.room, &key, &pose));
            knots.extend(settled.map_err(|why| CycleFault::Key {
                key: place + 1,
                why,
            })?);
        }
        let cycle = Self {
            body: *body,
            room: movement.room,
            held: movement.held,
            period_ms,
            spans: spans_between(&knots),
        };
        for at_ms in cycle.frames_ms() {
            cycle
                .at_ms(f64::from(at_ms))
                .map_err(|why| CycleFault::OnTheWay { at_ms, why })?;
        }
        Ok(cycle)
    }

    /// How long it takes.
    pub const fn period_ms(&self) -> u32 {
        self.period_ms
    }

    /// Whose it is.
    pub const fn body(&self) -> &Body {
        &self.body
    }

    /// What stands in the room.
    pub const fn room(&self) -> &Room {
        &self.room
    }

    /// What the hands hold.
    pub const fn held(&self) -> &Held {
        &self.held
    }

    /// The moments of its pictures.
    pub fn frames_ms(&self) -> impl Iterator<Item = u32> + use<> {
        (0..self.period_ms).step_by(Movement::FRAME_MS as usize)
    }

    /// The moments at which a key pose is reached or left, in order, each with whether the body is at rest.
    pub fn knots(&self) -> impl Iterator<Item = (f64, bool)> {
        self.spans
            .iter()
            .map(|span| (span.start_ms, span.from_rest))
    }

    /// What bears the body from a moment on.
    pub fn bearing(&self, ms: f64) -> Bearing {
        self.span(ms).0.bearing
    }

    /// The pose at a moment; after the last one the repetition begins again.
    ///
    /// # Errors
    /// When a limb does not reach.
    pub fn at_ms(&self, ms: f64) -> Result<Pose, Unsettled> {
        let (span, share) = self.span(ms);
        let mut pose = span.trunk_pose(share);
        let mut hands = Vec::new();
        for side in Side::BOTH {
            self.pose_leg(&mut pose, side, &span.legs.of(side), share)
                .map_err(|why| Unsettled::Foot(side, why))?;
            match span.arms.of(side) {
                ArmTrack::Space(on, joins) => {
                    let numbers = joins.map(|join| join.at(share));
                    hands.push((side, Placed { on, numbers }));
                }
                ArmTrack::Joints(joins) => {
                    for (limb, join) in Limb::ARM.into_iter().zip(joins) {
                        pose.set_deg(Freedom::Of(side, limb), join.at(share));
                    }
                }
            }
        }
        set_hands(&self.body, &mut pose, hands)?;
        Ok(pose)
    }

    fn pose_leg(
        &self,
        pose: &mut Pose,
        side: Side,
        track: &LegTrack,
        share: f64,
    ) -> Result<(), Unreachable> {
        match track {
            LegTrack::Space(joins) => {
                let numbers = joins.map(|join| join.at(share));
                set_foot(&self.body, pose, side, &numbers)?;
            }
            LegTrack::Joints(joins) => {
                for (limb, join) in Limb::LEG.into_iter().zip(joins) {
                    pose.set_deg(Freedom::Of(side, limb), join.at(share));
                }
            }
        }
        Ok(())
    }

    /// The span of a moment, and how much of it has passed.
    fn span(&self, ms: f64) -> (&Span, f64) {
        let period_ms = f64::from(self.period_ms);
        let ms = ms - period_ms * libm::floor(ms / period_ms);
        let place = self
            .spans
            .partition_point(|span| span.start_ms <= ms)
            .saturating_sub(1);
        let span = &self.spans[place];
        (
            span,
            ((ms - span.start_ms) / span.length_ms).clamp(0.0, 1.0),
        )
    }
}

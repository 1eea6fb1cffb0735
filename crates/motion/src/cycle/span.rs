//! The ways between the knots of a cycle.

use super::Bearing;
use super::knot::{Knot, TRUNK};
use crate::body::Side;
use crate::grip::Contact;
use crate::join::{Join, passing_speed};
use crate::joint::{Freedom, Limb, Middle};
use crate::key::{Pair, Tilt};
use crate::pose::Pose;
use crate::settle::turned;
use crate::space::{Frame, Vector};

/// From one knot to the next.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Span {
    pub(super) start_ms: f64,
    pub(super) length_ms: f64,
    pub(super) from_rest: bool,
    trunk: [Join; TRUNK],
    pub(super) legs: Pair<LegTrack>,
    pub(super) arms: Pair<ArmTrack>,
    pub(super) bearing: Bearing,
}

/// How a leg goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum LegTrack {
    /// Its foot through space.
    Space([Join; 6]),
    /// Its joints.
    Joints([Join; Limb::LEG.len()]),
}

/// How an arm goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum ArmTrack {
    /// Its hand through space, or over what takes it along.
    Space(Contact, [Join; 6]),
    /// Its joints.
    Joints([Join; Limb::ARM.len()]),
}

impl Span {
    /// The pose of pelvis, spine, neck and shoulders; the limbs hang.
    pub(super) fn trunk_pose(&self, share: f64) -> Pose {
        let numbers = self.trunk.map(|join| join.at(share));
        let [x, y, z, forward_deg, left_deg, turn_deg, ..] = numbers;
        let mut pose = Pose::upright_at(Frame {
            at: Vector::new(x, y, z),
            turned: turned(Tilt {
                forward_deg,
                left_deg,
                turn_deg,
            }),
        });
        let middle = Middle::ALL.into_iter().map(Freedom::Middle);
        let girdle = Side::BOTH
            .into_iter()
            .flat_map(|side| Limb::GIRDLE.map(|limb| Freedom::Of(side, limb)));
        for (freedom, angle_deg) in middle.chain(girdle).zip(&numbers[6..]) {
            pose.set_deg(freedom, *angle_deg);
        }
        pose
    }
}

/// All ways of a cycle, the last one back to the first knot.
pub(super) fn spans_between(knots: &[Knot]) -> Vec<Span> {
    let mut start_ms = 0.0;
    let mut spans = Vec::new();
    for place in 0..knots.len() {
        let around = Around::of(knots, place);
        let [_, here, next, _] = around.0;
        spans.push(Span {
            start_ms,
            length_ms: here.length_ms,
            from_rest: here.at_rest,
            trunk: around.joins(|knot| knot.trunk, [true, true]),
            legs: Pair {
                left: around.leg(Side::Left),
                right: around.leg(Side::Right),
            },
            arms: Pair {
                left: around.arm(Side::Left),
                right: around.arm(Side::Right),
            },
            bearing: bearing(here, next),
        });
        start_ms += here.length_ms;
    }
    spans
}

fn bearing(here: &Knot, next: &Knot) -> Bearing {
    let foot = |side| here.legs.of(side).bears && next.legs.of(side).bears;
    let on = |knot: &Knot, side| knot.arms.of(side).hand.map(|placed| placed.on);
    let hand = |side| on(here, side).filter(|here| on(next, side) == Some(*here));
    Bearing {
        feet: Pair {
            left: foot(Side::Left),
            right: foot(Side::Right),
        },
        hands: Pair {
            left: hand(Side::Left),
            right: hand(Side::Right),
        },
        seat: here.seated && next.seated,
    }
}

/// The two ends of a way, with the knot before the one and the knot after the other.
struct Around<'a>([&'a Knot; 4]);

impl<'a> Around<'a> {
    fn of(knots: &'a [Knot], place: usize) -> Self {
        let count = knots.len();
        Self([count - 1, 0, 1, 2].map(|step| &knots[(place + step) % count]))
    }

    fn leg(&self, side: Side) -> LegTrack {
        let foot = |knot: &Knot| knot.legs.of(side).foot;
        let [before, here, next, after] = self.0.map(|knot| foot(knot).is_some());
        if here && next {
            // A foot that comes down or is lifted is at rest at that moment, heel and toes too.
            let [arriving, going, leaving] = self.bears(side);
            let passes = [before && arriving == going, after && going == leaving];
            let numbers = |knot: &Knot| foot(knot).unwrap_or([0.0; 6]);
            LegTrack::Space(self.joins(numbers, passes))
        } else {
            let passes = [!(before && here), !(next && after)];
            LegTrack::Joints(self.joins(|knot| knot.legs.of(side).angles_deg, passes))
        }
    }

    /// Whether a foot bears on the way before this one, on this one, and on the one after it.
    fn bears(&self, side: Side) -> [bool; 3] {
        let at = self.0.map(|knot| knot.legs.of(side).bears);
        [at[0] && at[1], at[1] && at[2], at[2] && at[3]]
    }

    fn arm(&self, side: Side) -> ArmTrack {
        let hand = |knot: &Knot| knot.arms.of(side).hand;
        let [before, here, next, after] = self.0.map(|knot| hand(knot).map(|placed| placed.on));
        if let Some(on) = here
            && here == next
        {
            let numbers = |knot: &Knot| hand(knot).map_or([0.0; 6], |placed| placed.numbers);
            ArmTrack::Space(on, self.joins(numbers, [before == here, after == here]))
        } else {
            let together = |one: Option<Contact>, other| one.is_some() && one == other;
            let passes = [!together(before, here), !together(next, after)];
            ArmTrack::Joints(self.joins(|knot| knot.arms.of(side).angles_deg, passes))
        }
    }

    /// Joins the numbers of the two ends. An end keeps its speed where it goes on in the same manner (`passes`) and does not rest.
    fn joins<const N: usize>(
        &self,
        numbers: impl Fn(&Knot) -> [f64; N],
        passes: [bool; 2],
    ) -> [Join; N] {
        let [before, here, next, _] = self.0;
        let values = self.0.map(numbers);
        let lengths = [before, here, next].map(|knot| knot.length_ms);
        core::array::from_fn(|number| {
            let value = values.map(|numbers| numbers[number]);
            let speed = |end: usize, passes: bool| {
                if passes {
                    let around = [value[end], value[end + 1], value[end + 2]];
                    passing_speed(around, [lengths[end], lengths[end + 1]]) * here.length_ms
                } else {
                    0.0
                }
            };
            let speeds = [
                speed(0, passes[0] && !here.at_rest),
                speed(1, passes[1] && !next.at_rest),
            ];
            let [_, from, to, _] = value;
            Join::of(from, to, speeds)
        })
    }
}

//! What can be wrong with a movement, and how it is said.

use crate::body::{Segment, Side};
use crate::clash::Furniture;
use crate::joint::Freedom;

/// What can be wrong with a movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A joint goes further than it can; by degrees.
    OutOfRange(Freedom),
    /// A foot slides on the floor; by metres.
    FootSlides(Side),
    /// A hand slides on what it lies on; by metres.
    HandSlides(Side),
    /// The hips slide on the seat; by metres.
    SeatSlides,
    /// A foot is below the floor; by metres.
    Sinks(Side),
    /// The centre of mass is outside of what bears the body; by metres.
    Falls,
    /// Nothing bears the body; by nothing.
    Flies,
    /// A segment is inside the furniture; by metres.
    Clashes(Segment, Furniture),
    /// A limb is inside another part of the own body; by metres.
    Crosses(Segment, Segment),
    /// A hand or elbow is higher than the movement says; by metres.
    ArmTooHigh(Side),
    /// The hips leave the seat in a movement that is seated; by nothing.
    LeavesSeat,
    /// The hands come nearer or go further apart than the stick between them lets them; by metres.
    StickSlides,
    /// The band is longer than it can be; by metres.
    BandOverstretched,
    /// The band is never longer than at rest, so that it does nothing; by metres.
    BandSlack,
    /// Who leans on a wall would slip: by how much the push along the floor is more than the shoes hold, as a share of the weight.
    SlipsAway,
    /// The end of a segment changes its place or speed in no time; by metres a second.
    Jumps(Segment),
}

/// The worst of one kind in a movement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fault {
    /// What.
    pub kind: Kind,
    /// When it is worst.
    pub at_ms: f64,
    /// By how much, in the unit of its kind.
    pub by: f64,
}

impl core::fmt::Display for Fault {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let (mm, at) = (self.by * 1000.0, self.at_ms);
        match self.kind {
            Kind::OutOfRange(freedom) => {
                write!(
                    f,
                    "{at} ms: {freedom} is {:.1} degrees beyond its range; bend it less",
                    self.by
                )
            }
            Kind::FootSlides(side) => {
                write!(
                    f,
                    "{at} ms: the {} foot slides {mm:.1} mm; lift it or leave it where it is",
                    word(side)
                )
            }
            Kind::HandSlides(side) => {
                write!(
                    f,
                    "{at} ms: the {} hand slides {mm:.1} mm on what it lies on; lift it or leave it where it is",
                    word(side)
                )
            }
            Kind::SeatSlides => {
                write!(
                    f,
                    "{at} ms: the hips slide {mm:.1} mm on the seat; sit at one place"
                )
            }
            Kind::Sinks(side) => {
                write!(
                    f,
                    "{at} ms: the {} foot is {mm:.1} mm below the floor; lift it higher or point it less",
                    word(side)
                )
            }
            Kind::Falls => write!(
                f,
                "{at} ms: the centre of mass is {mm:.0} mm outside of what bears the body; shift the weight or hold on"
            ),
            Kind::Flies => write!(
                f,
                "{at} ms: nothing bears the body; leave a foot on the floor"
            ),
            Kind::Clashes(segment, furniture) => write!(
                f,
                "{at} ms: {segment:?} is {mm:.0} mm inside the {}; move the {0} or the body",
                furniture.word()
            ),
            Kind::Crosses(one, other) => write!(
                f,
                "{at} ms: {one:?} is {mm:.0} mm inside {other:?}; move one of them away"
            ),
            Kind::ArmTooHigh(side) => write!(
                f,
                "{at} ms: the {} arm is {mm:.0} mm higher than the movement is marked for; lower it or mark it higher",
                word(side)
            ),
            Kind::LeavesSeat => write!(
                f,
                "{at} ms: the hips leave the seat in a seated movement; keep them there"
            ),
            Kind::StickSlides => write!(
                f,
                "{at} ms: the hands slide {mm:.1} mm along the stick between them; keep them as far apart"
            ),
            Kind::BandOverstretched => write!(
                f,
                "{at} ms: the band is stretched {mm:.0} mm more than it can; bring its ends nearer or take a longer one"
            ),
            Kind::BandSlack => write!(
                f,
                "{at} ms: the band is slack throughout; take a shorter one or pull further"
            ),
            Kind::SlipsAway => write!(
                f,
                "{at} ms: leaning on the wall pushes the shoes {:.2} of the weight more than they hold; stand nearer to it",
                self.by
            ),
            Kind::Jumps(segment) => write!(
                f,
                "{at} ms: {segment:?} jumps by {:.2} m/s; place the limb at both key poses or at neither, or rest here",
                self.by
            ),
        }
    }
}

const fn word(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

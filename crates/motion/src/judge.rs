//! Judging a movement: what no body could do, or could do only by falling, sliding or passing through a chair.

use std::collections::BTreeMap;

use crate::balance::{Support, balance};
use crate::body::{Segment, Side};
use crate::clash::{Furniture, clashes};
use crate::cycle::{Bearing, Cycle};
use crate::joint::{Freedom, Ranges};
use crate::posture::Posture;
use crate::room::Room;
use crate::settle::Unsettled;
use crate::space::Vector;

/// What can be wrong with a movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A joint goes further than it can; by degrees.
    OutOfRange(Freedom),
    /// A foot slides on the floor; by metres.
    FootSlides(Side),
    /// A hand slides on the worktop; by metres.
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

/// What was found about a movement.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// The worst of each kind, in order of kinds; empty for a movement that a body can do.
    pub faults: Vec<Fault>,
    /// How near the centre of mass comes to the edge of what bears the body.
    pub least_margin_m: f64,
    /// The same for the extrapolated centre of mass, which may be outside while the body moves.
    pub least_extrapolated_m: f64,
    /// The highest that elbow or wrist comes above its shoulder; below 0 when never.
    pub arms_above_shoulder_m: f64,
}

/// How far apart the moments are that are looked at.
const STEP_MS: u32 = 10;
/// How far a foot, hand or seat may creep, and a foot sink.
const STILL_M: f64 = 0.001;
/// How much a speed may change at once.
const JUMP_M_PER_S: f64 = 0.01;
/// What rounding makes of an angle at the end of its range.
const ROUNDING_DEG: f64 = 1e-6;
/// What rounding makes of a place.
const ROUNDING_M: f64 = 1e-6;

/// Looks at every moment of a cycle.
///
/// # Errors
/// When a limb does not reach.
pub fn judge(cycle: &Cycle, ranges: &Ranges) -> Result<Judgement, Unsettled> {
    let mut worst = Worst::default();
    let mut creeping = Creeping::default();
    let mut judgement = Judgement {
        faults: Vec::new(),
        least_margin_m: f64::INFINITY,
        least_extrapolated_m: f64::INFINITY,
        arms_above_shoulder_m: f64::NEG_INFINITY,
    };
    for at_ms in (0..cycle.period_ms()).step_by(STEP_MS as usize) {
        let at_ms = f64::from(at_ms);
        let pose = cycle.at_ms(at_ms)?;
        let posture = Posture::of(cycle.body(), &pose);
        for freedom in Freedom::all() {
            let excess_deg = ranges.of(freedom).excess_deg(pose.angle_deg(freedom));
            worst.note(Kind::OutOfRange(freedom), at_ms, excess_deg, ROUNDING_DEG);
        }
        for side in Side::BOTH {
            worst.note(Kind::Sinks(side), at_ms, -lowest_m(&posture, side), STILL_M);
            let above_m = arm_above_shoulder_m(&posture, side);
            judgement.arms_above_shoulder_m = judgement.arms_above_shoulder_m.max(above_m);
        }
        for (segment, furniture, by_m) in clashes(&posture, cycle.room()) {
            worst.note(Kind::Clashes(segment, furniture), at_ms, by_m, ROUNDING_M);
        }
        match balance(cycle, at_ms)? {
            Some(found) => {
                worst.note(Kind::Falls, at_ms, -found.margin_m, ROUNDING_M);
                judgement.least_margin_m = judgement.least_margin_m.min(found.margin_m);
                judgement.least_extrapolated_m =
                    judgement.least_extrapolated_m.min(found.extrapolated_m);
            }
            None => worst.note(Kind::Flies, at_ms, 1.0, 0.0),
        }
        let moment = Moment {
            posture: &posture,
            bearing: cycle.bearing(at_ms),
            room: cycle.room(),
            at_ms,
        };
        creeping.follow(&moment, &mut worst);
    }
    note_jumps(cycle, &mut worst)?;
    judgement.faults = worst.0.into_values().collect();
    Ok(judgement)
}

/// The worst of each kind so far.
#[derive(Default)]
struct Worst(BTreeMap<Kind, Fault>);

impl Worst {
    /// Keeps what is more than may be, and worse than what was known.
    fn note(&mut self, kind: Kind, at_ms: f64, by: f64, may_be: f64) {
        if by > may_be && self.0.get(&kind).is_none_or(|known| by > known.by) {
            self.0.insert(kind, Fault { kind, at_ms, by });
        }
    }
}

/// One moment of a cycle.
struct Moment<'a> {
    posture: &'a Posture,
    bearing: Bearing,
    room: &'a Room,
    at_ms: f64,
}

/// How far everything that should be still has crept since it came to bear.
#[derive(Default)]
struct Creeping {
    last: Vec<(Kind, usize, Vector, f64)>,
}

impl Creeping {
    fn follow(&mut self, moment: &Moment<'_>, worst: &mut Worst) {
        let mut now = Vec::new();
        for (kind, number, point) in held(moment.posture, &moment.bearing, moment.room) {
            let before = self
                .last
                .iter()
                .find(|(other, place, ..)| *other == kind && *place == number);
            let crept_m =
                before.map_or(0.0, |(_, _, last, crept_m)| crept_m + last.distance(point));
            worst.note(kind, moment.at_ms, crept_m, STILL_M);
            now.push((kind, number, point, crept_m));
        }
        self.last = now;
    }
}

/// Every point of the body that bears and should not move, numbered within its kind.
fn held(posture: &Posture, bearing: &Bearing, room: &Room) -> Vec<(Kind, usize, Vector)> {
    let body = posture.body();
    let mut points = Vec::new();
    for side in Side::BOTH {
        if bearing.feet.of(side) {
            let sole = [body.heel(), body.ball(), body.toe_tip()];
            for (number, inner) in sole.into_iter().enumerate() {
                let point = posture.foot_point(side, inner);
                if Support::bears(body, room, point) {
                    // A heel that is just rising goes up without sliding.
                    let on_floor = Vector::new(point.x, point.y, 0.0);
                    points.push((Kind::FootSlides(side), number, on_floor));
                }
            }
        }
        if bearing.hands.of(side) {
            let hand = Segment::Hand(side);
            points.push((Kind::HandSlides(side), 0, posture.frame(hand).at));
            points.push((Kind::HandSlides(side), 1, posture.end(hand)));
        }
    }
    if bearing.seat {
        points.push((Kind::SeatSlides, 0, posture.frame(Segment::Pelvis).at));
    }
    points
}

fn lowest_m(posture: &Posture, side: Side) -> f64 {
    let body = posture.body();
    [body.heel(), body.ball(), body.toe_tip()]
        .map(|inner| posture.foot_point(side, inner).z)
        .into_iter()
        .fold(f64::INFINITY, f64::min)
}

fn arm_above_shoulder_m(posture: &Posture, side: Side) -> f64 {
    let shoulder = posture.frame(Segment::UpperArm(side)).at;
    [Segment::Forearm(side), Segment::Hand(side)]
        .map(|segment| posture.frame(segment).at.z - shoulder.z)
        .into_iter()
        .fold(f64::NEG_INFINITY, f64::max)
}

/// Compares speeds before and after every key pose; between them a cycle is smooth.
fn note_jumps(cycle: &Cycle, worst: &mut Worst) -> Result<(), Unsettled> {
    const SHORT_MS: f64 = 0.01;
    for (knot_ms, _) in cycle.knots() {
        let after_ms = knot_ms + f64::from(cycle.period_ms());
        let mut postures = Vec::new();
        for steps in [-2.0, -1.0, 1.0, 2.0] {
            let pose = cycle.at_ms(after_ms + steps * SHORT_MS)?;
            postures.push(Posture::of(cycle.body(), &pose));
        }
        for segment in Segment::ALL {
            let ends: Vec<Vector> = postures
                .iter()
                .map(|posture| posture.end(segment))
                .collect();
            let [first, second, third, fourth] = ends[..] else {
                continue;
            };
            let per_s = 1000.0 / SHORT_MS;
            let (arriving, leaving) = ((second - first) * per_s, (fourth - third) * per_s);
            // Through the key pose itself, where two steps lie between: a jump of place is a great speed.
            let through = (third - second) * (per_s / 2.0);
            let jump = arriving.distance(leaving).max(through.distance(arriving));
            worst.note(Kind::Jumps(segment), knot_ms, jump, JUMP_M_PER_S);
        }
    }
    Ok(())
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
                    "{at} ms: the {} hand slides {mm:.1} mm; lift it or leave it where it is",
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
                match furniture {
                    Furniture::Chair => "chair",
                    Furniture::Worktop => "worktop",
                    Furniture::Step => "step",
                    Furniture::Bar => "bar",
                }
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

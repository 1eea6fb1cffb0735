//! Judging a movement: what no body could do, or could do only by falling, sliding or passing through a chair.

mod fault;
mod holding;

use std::collections::BTreeMap;

use crate::balance::{Support, balance};
use crate::body::{Body, Segment, Side};
use crate::clash::{clashes, crossings};
use crate::cycle::{Bearing, Cycle};
use crate::grip::Contact;
use crate::joint::{Freedom, Ranges};
use crate::posture::Posture;
use crate::room::Room;
use crate::settle::Unsettled;
use crate::space::Vector;

pub use fault::{Fault, Kind};
use holding::{Holding, push_along_floor};

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

/// How high the arms may go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ArmsUpTo {
    /// Below the shoulders.
    BelowShoulder,
    /// As high as the shoulders.
    Shoulder,
    /// Anywhere.
    Above,
}

/// What a movement is marked as, which it must keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Marks {
    /// How high the arms may go.
    pub arms: ArmsUpTo,
    /// Whether it is seated throughout.
    pub seated: bool,
}

impl Marks {
    /// A movement that may go anywhere.
    pub const NONE: Self = Self {
        arms: ArmsUpTo::Above,
        seated: false,
    };

    fn arm_may_be_m(&self, body: &Body) -> f64 {
        match self.arms {
            ArmsUpTo::BelowShoulder => 0.0,
            ArmsUpTo::Shoulder => AT_SHOULDER * body.stature_m(),
            ArmsUpTo::Above => f64::INFINITY,
        }
    }
}

/// How far above the shoulder an arm still counts as being at its height, of stature. Ours.
const AT_SHOULDER: f64 = 0.035;
/// The most that shoes may be pushed along the floor, as a share of the weight. Ours.
const SHOES_HOLD: f64 = 0.3;
/// How deep limbs may be in one another, of what is drawn soft. Ours.
const SOFT_M: f64 = 0.004;
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

/// Looks at every moment of a cycle that may go anywhere.
///
/// # Errors
/// When a limb does not reach.
pub fn judge(cycle: &Cycle, ranges: &Ranges) -> Result<Judgement, Unsettled> {
    judge_marked(cycle, ranges, &Marks::NONE)
}

/// Looks at every moment of a cycle that is to keep its marks.
///
/// # Errors
/// When a limb does not reach.
pub fn judge_marked(cycle: &Cycle, ranges: &Ranges, marks: &Marks) -> Result<Judgement, Unsettled> {
    let mut worst = Worst::default();
    let mut creeping = Creeping::default();
    let mut holding = Holding::default();
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
            let too_high_m = above_m - marks.arm_may_be_m(cycle.body());
            worst.note(Kind::ArmTooHigh(side), at_ms, too_high_m, ROUNDING_M);
            judgement.arms_above_shoulder_m = judgement.arms_above_shoulder_m.max(above_m);
        }
        for (segment, furniture, by_m) in clashes(&posture, cycle.room()) {
            worst.note(Kind::Clashes(segment, furniture), at_ms, by_m, ROUNDING_M);
        }
        let bearing = cycle.bearing(at_ms);
        for (one, other, by_m) in crossings(&posture, &bearing.hands) {
            worst.note(Kind::Crosses(one, other), at_ms, by_m, SOFT_M);
        }
        if marks.seated && !bearing.seat {
            worst.note(Kind::LeavesSeat, at_ms, 1.0, 0.0);
        }
        let slips = push_along_floor(cycle, &posture, &bearing) - SHOES_HOLD;
        worst.note(Kind::SlipsAway, at_ms, slips, 0.0);
        holding.follow(cycle, &posture, at_ms, &mut worst);
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
            bearing,
            room: cycle.room(),
            at_ms,
        };
        creeping.follow(&moment, &mut worst);
    }
    holding.finish(&mut worst);
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
        if let Some(on) = bearing.hands.of(side) {
            let hand = Segment::Hand(side);
            for (number, point) in [posture.frame(hand).at, posture.end(hand)]
                .into_iter()
                .enumerate()
            {
                // On the own body it lies still in the frame of what takes it along.
                let point = match on {
                    Contact::On(_) => point,
                    Contact::Own(segment) => {
                        let under = posture.frame(segment);
                        under.turned.inverse().apply(point - under.at)
                    }
                };
                points.push((Kind::HandSlides(side), number, point));
            }
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

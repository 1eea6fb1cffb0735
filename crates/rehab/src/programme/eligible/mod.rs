//! Who may do what: every variant of every exercise, eligible for this person and home or refused with the reasons.

mod refusal;
mod rules;
mod watched;
mod way;

pub use refusal::{Refusal, RefusedBy};
pub(crate) use rules::RULES;
pub(crate) use watched::Watching;
pub use watched::{ToWatch, outside_when_watched, still_to_watch};
pub use way::{Refused, Way};

use super::choices::Choices;
use super::places::Stop;
use super::{Exercise, Exercises, VariantRef};
use crate::assessed::Assessed;
use crate::known::Known;
use refusal::refusals;

/// What is asked about.
pub(crate) struct Ask<'s, 'a> {
    pub(crate) known: Known<'a>,
    pub(crate) assessed: &'a Assessed,
    pub(crate) exercises: &'a Exercises,
    pub(crate) choices: &'a Choices,
    pub(crate) stops: &'s [Stop],
}

/// Every variant, sorted into what may be done and what not.
#[derive(Clone, Debug)]
pub struct Eligible<'a> {
    /// Ways of exercising that are open, by exercise and variant id.
    pub ways: Vec<Way<'a>>,
    /// Those that are refused, each with every reason.
    pub refused: Vec<Refused<'a>>,
}

impl<'a> Eligible<'a> {
    /// The open way of a variant.
    pub fn way(&self, named: &VariantRef) -> Option<&Way<'a>> {
        self.ways
            .iter()
            .find(|way| way.exercise.id == named.exercise && way.variant.id == named.variant)
    }

    /// The easier version that stands ready for a way: the first of its chain that is open here.
    pub(crate) fn easier(&self, exercises: &Exercises, way: &Way<'a>) -> Option<VariantRef> {
        /// Longest chain of easier versions that is followed.
        const CHAIN: usize = 16;
        let mut next = way.variant.easier.clone();
        for _ in 0..CHAIN {
            let named = next?;
            if self.way(&named).is_some_and(|open| open.mets <= way.mets) {
                return Some(named);
            }
            next = exercises.find(&named)?.1.easier.clone();
        }
        None
    }
}

/// Sorts every variant.
pub(crate) fn sort<'a>(ask: &Ask<'_, 'a>) -> Eligible<'a> {
    let watching = Watching::of(&ask.known, ask.assessed);
    let mut sorted = Eligible {
        ways: Vec::new(),
        refused: Vec::new(),
    };
    for exercise in ask.exercises.iter() {
        let (ways, refused) = sort_one(ask, &watching, exercise);
        sorted.ways.extend(ways);
        sorted.refused.extend(refused);
    }
    for (index, way) in sorted.ways.iter_mut().enumerate() {
        way.index = index;
    }
    sorted
}

fn sort_one<'a>(
    ask: &Ask<'_, 'a>,
    watching: &Watching,
    exercise: &'a Exercise,
) -> (Vec<Way<'a>>, Vec<Refused<'a>>) {
    let mut ways = Vec::new();
    let mut refused = Vec::new();
    for variant in &exercise.variants {
        let way = way::way(ask, watching, exercise, variant);
        let why = refusals(ask, watching, &way);
        if why.is_empty() {
            ways.push(way);
        } else {
            refused.push(Refused {
                exercise,
                variant,
                way,
                why,
            });
        }
    }
    ease_for_joint(ask, &mut ways, &mut refused);
    prefer_unadapted(&mut ways, &mut refused);
    (ways, refused)
}

/// An exercise during which a joint hurt too much is eased: its hardest open variant is taken away, of several as hard
/// as each other only the first listed, so that a kinder one stays.
fn ease_for_joint<'a>(ask: &Ask<'_, 'a>, ways: &mut Vec<Way<'a>>, refused: &mut Vec<Refused<'a>>) {
    let Some(exercise) = ways.first().map(|way| way.exercise) else {
        return;
    };
    if !refusal::joint_hurts(ask, exercise) || ways.len() < 2 {
        return;
    }
    let hardest = ways.iter().map(|way| way.mets).fold(0.0, f64::max);
    let Some(first) = ways.iter().find(|way| way.mets >= hardest) else {
        return;
    };
    let gone = first.variant.id.clone();
    move_out(ways, refused, RefusedBy::JointEased, |way| {
        way.variant.id == gone
    });
}

/// A variant that only stands with care gives way where another of the same exercise stands without.
fn prefer_unadapted<'a>(ways: &mut Vec<Way<'a>>, refused: &mut Vec<Refused<'a>>) {
    if ways.iter().any(|way| !way.adapted) {
        move_out(ways, refused, RefusedBy::AdaptSecond, |way| way.adapted);
    }
}

fn move_out<'a>(
    ways: &mut Vec<Way<'a>>,
    refused: &mut Vec<Refused<'a>>,
    by: RefusedBy,
    gone: impl Fn(&Way<'a>) -> bool,
) {
    let all: Vec<Way<'a>> = core::mem::take(ways);
    for way in all {
        if gone(&way) {
            refused.push(Refused {
                exercise: way.exercise,
                variant: way.variant,
                why: vec![Refusal::of(by)],
                way,
            });
        } else {
            ways.push(way);
        }
    }
}

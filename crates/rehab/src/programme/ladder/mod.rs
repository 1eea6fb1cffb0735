//! The ladder: from warm-up and cool-down alone, rung by rung, one lever at a time, to a second round.

mod aim;
mod because;
mod before;
mod growth;
mod instance;
mod rules;
mod rung;
mod session;
mod shape;

pub(crate) use before::is_station;
pub(crate) use growth::{dearest_pair, most_met_minutes};
pub(crate) use rules::RULES;
pub use shape::Lever;

use super::ceiling::HardCeiling;
use super::composer::{Composed, Instance, Relaxed};
use super::ground::{Ground, TIMES};
use super::{Phase, Segment, Stage, StageSketch};
use crate::assessed::Assessed;
use crate::evidence::Finding;
use crate::service::Service;
use before::Before;
use rules::{few_stations, grows_too_fast, no_capacity, no_list, no_warm_up};
use rung::{Order, make};
use shape::Shape;

/// One rung with the problem that was solved for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Rung {
    /// The rung.
    pub stage: Stage,
    /// The composer's problem; `None` for a rung without stations.
    pub instance: Option<Instance>,
    /// Its answer.
    pub composed: Option<Composed>,
    /// The hard ceiling it was made under, with its margin.
    pub(crate) ceiling: Option<HardCeiling>,
    /// Its shape.
    pub(crate) shape: Shape,
    /// Whether the pulse is predicted to come near the rate before exercise.
    pub near_rest: bool,
    /// What was noticed in making it.
    pub findings: Vec<Finding>,
}

/// Why a rung could not be made.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum NoRung {
    /// No exercise at all is open.
    NothingOpen,
    /// Nothing to sit on, and so few unlike exercises that one would go on and on.
    NoSeat(usize),
    /// Even the easiest passes the hard ceiling.
    PassesCeiling,
    /// Longer than the longest session.
    TooLong,
    /// No dose keeps to the growth.
    GrowsTooFast,
    /// No list of stations holds every rule; what would have to give way.
    NoList(Vec<Relaxed>),
}

/// What may be given way to, in the order in which it is tried: feasibility comes before wishes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tries {
    /// The whole room in METs instead of the share of the first rungs.
    pub(crate) full_effort: bool,
    /// A movement may come again after two others.
    pub(crate) repeats: bool,
    /// When nothing fits, say what would have to give way.
    pub(crate) explain: bool,
}

const TRIES: [Tries; 3] = [
    Tries {
        full_effort: false,
        repeats: false,
        explain: false,
    },
    Tries {
        full_effort: true,
        repeats: false,
        explain: false,
    },
    Tries {
        full_effort: true,
        repeats: true,
        explain: true,
    },
];

/// The rungs of a ladder up to a number, with what was noticed; fewer where no lever is left.
///
/// Beside a page at home the wished times a week are taken where no rung is lost by it, else those of that page, and
/// fewer where otherwise there would be no rung.
pub(crate) fn climb(ground: &Ground<'_>, upto: u16) -> (Vec<Rung>, Vec<Finding>) {
    let wished = ground.times_a_week;
    let Some(home) = &ground.at_home else {
        return climb_at(ground, upto, Before::nothing(wished, true));
    };
    let kept = wished.min(home.times());
    let at = |times| climb_at(ground, upto, Before::nothing(times, true));
    let held = at(kept);
    let more = (kept + 1..=wished).rev().map(at);
    let fewer = (TIMES.0..kept).rev().map(at);
    let best = if held.0.is_empty() {
        fewer.into_iter().find(|(rungs, _)| !rungs.is_empty())
    } else {
        more.into_iter()
            .find(|(rungs, _)| rungs.len() >= held.0.len())
    };
    let (rungs, mut findings) = best.unwrap_or(held);
    findings.extend(held_back(ground, upto, &rungs));
    (rungs, findings)
}

/// What the page at home keeps from being offered: later rungs, or times a week.
fn held_back(ground: &Ground<'_>, upto: u16, rungs: &[Rung]) -> Option<Finding> {
    let wished = ground.times_a_week;
    let last = rungs.last().map_or(0, |rung| rung.stage.number);
    let times = rungs.last().map_or(0, |rung| rung.stage.sessions_per_week);
    if last >= upto && times >= wished {
        return None;
    }
    let (free, _) = climb_at(ground, upto, Before::nothing(wished, false));
    let would = free
        .iter()
        .find(|rung| rung.stage.number > last)
        .or(free.last())?;
    let is_held = would.stage.number > last || times < wished;
    is_held.then(|| grows_too_fast(ground, &would.stage, rungs.last().map(|rung| &rung.stage)))
}

/// One ladder.
fn climb_at(ground: &Ground<'_>, upto: u16, nothing: Before) -> (Vec<Rung>, Vec<Finding>) {
    let mut findings = Vec::new();
    let stations = ground.asked.assessed.capacity.used.is_some();
    if !stations {
        findings.push(no_capacity(ground));
    }
    let mut shape = Shape::first(&ground.asked.service.lengths);
    let mut before = nothing;
    let first = Order {
        number: 1,
        lever: Lever::WarmUpAlone,
        shape,
        before: &before,
        tries: TRIES[0],
        quiet: false,
    };
    let mut rungs = match make(ground, &first) {
        Ok(rung) => vec![rung],
        Err(none) => {
            findings.push(no_warm_up(ground, &none));
            return (Vec::new(), findings);
        }
    };
    while let Some(last) = rungs.last().filter(|last| last.stage.number < upto) {
        before = before
            .after(&last.stage)
            .warming_with(movements(ground, &last.stage.segments));
        match next_rung(ground, shape, &before, last.stage.number + 1, stations) {
            Ok(next) => {
                shape = next.shape;
                before.tries_at = next.tries_at;
                rungs.push(next.rung);
            }
            Err(none) => {
                findings.extend(none.map(|none| no_list(ground, &none)));
                break;
            }
        }
    }
    findings.extend(rungs.last().and_then(|last| why_few(ground, &before, last)));
    for rung in &mut rungs {
        rung.stage.because = because::of(ground, rung);
    }
    (rungs, findings)
}

/// Pairs of a round of four stations, to which everybody who begins with stations should come.
const ROUND_PAIRS: u8 = 2;

/// What is said where a ladder with stations stands under a round of four: why one pair more is not there.
fn why_few(ground: &Ground<'_>, before: &Before, last: &Rung) -> Option<Finding> {
    if !(1..ROUND_PAIRS).contains(&last.shape.pairs) {
        return None;
    }
    let before = before
        .clone()
        .after(&last.stage)
        .warming_with(movements(ground, &last.stage.segments));
    let order = Order {
        number: last.stage.number + 1,
        lever: Lever::OneMorePair,
        shape: Shape {
            pairs: last.shape.pairs + 1,
            ..last.shape
        },
        before: &before,
        tries: TRIES[TRIES.len() - 1],
        quiet: false,
    };
    let none = make(ground, &order).err();
    Some(few_stations(last.shape.stations(), none.as_ref()))
}

/// The next rung with what it took.
struct Next {
    shape: Shape,
    rung: Rung,
    tries_at: usize,
}

/// The next rung: the first lever that can be moved. `Err(None)` where the ladder has come to its end.
fn next_rung(
    ground: &Ground<'_>,
    shape: Shape,
    before: &Before,
    number: u16,
    stations: bool,
) -> Result<Next, Option<NoRung>> {
    let next = shape.next(ground.asked.service, stations);
    // What the first rung with stations lacks is worth saying; a lever that cannot be moved later is only passed over.
    let first_stations = shape.pairs == 0 && stations;
    let mut lacking = None;
    for (tries_at, tries) in TRIES.into_iter().enumerate().skip(before.tries_at) {
        for (lever, shape) in &next {
            let order = Order {
                number,
                lever: *lever,
                shape: *shape,
                before,
                tries: Tries {
                    explain: tries.explain && first_stations,
                    ..tries
                },
                quiet: false,
            };
            match make(ground, &order) {
                Ok(rung) => {
                    return Ok(Next {
                        shape: *shape,
                        rung,
                        tries_at,
                    });
                }
                Err(none) if first_stations => lacking = Some(none),
                Err(_) => {}
            }
        }
    }
    Err(lacking)
}

/// Movements of the warm-up among segments.
fn movements(ground: &Ground<'_>, segments: &[Segment]) -> Vec<String> {
    segments
        .iter()
        .filter(|segment| segment.phase == Phase::WarmUp)
        .filter_map(|segment| ground.eligible.way(segment.doing.as_ref()?))
        .map(|way| way.exercise.alike.clone())
        .collect()
}

/// The rungs after one in outline, by the ladder's own steps up to a number; what limits allow is seen when they come.
pub(crate) fn outline(
    service: &Service,
    assessed: &Assessed,
    last: &Rung,
    upto: u16,
) -> Vec<StageSketch> {
    let stations = assessed.capacity.used.is_some();
    let mut shape = last.shape;
    let mut list = Vec::new();
    for number in last.stage.number + 1..=upto {
        let Some((lever, next)) = shape.next(service, stations).first().copied() else {
            break;
        };
        shape = next;
        list.push(StageSketch {
            number,
            lever: lever.word().to_owned(),
            text: shape.words(lever),
        });
    }
    list
}

/// A rung with other stations, warm-up and cool-down as they are.
pub(crate) fn swapped(ground: &Ground<'_>, rung: &Rung, chosen: &[usize]) -> Option<Stage> {
    let (instance, composed) = (rung.instance.as_ref()?, rung.composed.as_ref()?);
    let composed = Composed {
        chosen: chosen.to_vec(),
        ..composed.clone()
    };
    let of = |phase: Phase| {
        rung.stage
            .segments
            .iter()
            .filter(move |one| one.phase == phase)
            .cloned()
    };
    let mut segments: Vec<_> = of(Phase::WarmUp).collect();
    let from = session::last_stop(ground, &segments);
    segments.extend(session::stations(
        ground, rung.shape, instance, &composed, from,
    ));
    segments.extend(of(Phase::CoolDown));
    session::fill_predictions(ground, &mut segments);
    Some(Stage {
        predicted: session::predicted(ground, &segments),
        segments,
        ..rung.stage.clone()
    })
}

/// A sentence with its first letter large.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

//! What of a page that was made on an earlier day the limits, the home and the person of today would refuse.

use super::eligible::RefusedBy;
use super::ground::{Asked, Ground, work_of};
use super::response::{CHANCE_MOST, chance_of_passing, predict};
use super::{Choices, Exercises, Phase, Segment, Stage, VariantRef, is_station};
use crate::assessed::Assessed;
use crate::assessment::Case;
use crate::service::Service;

/// Limits are shown to a tenth of a MET: what rounds to the limit does not pass it. Source: `service-ours`.
const SLACK_METS: f64 = 0.05;
/// Slack on a comparison of pulses, bpm.
const SLACK_BPM: f64 = 1e-6;

/// One thing in which a page passes what holds today.
#[derive(Clone, Debug, PartialEq)]
pub enum PastLimit {
    /// A way that is refused now, and why.
    Way(VariantRef, String),
    /// A place that the home does not have any more, by its name.
    Place(String),
    /// The round takes more on average than is agreed now: its mean and the most, in METs.
    Round(f64, f64),
    /// A station takes more than one may now: its METs and the most.
    Station(f64, f64),
    /// The pulse expected today, and the most that may be expected under the hard ceiling; both in bpm.
    Pulse(f64, f64),
    /// There is a hard ceiling, the page was made with a predicted pulse, and none can be predicted any more.
    NoPrediction,
}

/// Everything in which a page passes what holds today; empty while it holds.
///
/// `chosen`: what was chosen for it since, where a new page would be made by that too: then a ban and the easing of an
/// exercise that hurt count as well. What only lets another way come first never counts.
pub fn past_limits(
    case: &Case,
    service: &Service,
    exercises: &Exercises,
    assessed: &Assessed,
    stage: &Stage,
    chosen: Option<&Choices>,
) -> Vec<PastLimit> {
    let none = Choices::none();
    let ground = Ground::new(Asked {
        case,
        service,
        exercises,
        assessed,
        choices: chosen.unwrap_or(&none),
    });
    let counts = |by: RefusedBy| match by {
        RefusedBy::AdaptSecond => false,
        RefusedBy::JointEased => chosen.is_some(),
        _ => true,
    };
    let mut found = ways(&ground, stage, counts);
    found.extend(places(&ground, stage));
    found.extend(station(&ground, stage));
    found.extend(round(&ground, stage));
    found.extend(pulse(&ground, stage));
    found
}

fn ways(ground: &Ground<'_>, stage: &Stage, counts: impl Fn(RefusedBy) -> bool) -> Vec<PastLimit> {
    let eligible = &ground.eligible;
    let why = |doing: &VariantRef| {
        if eligible.way(doing).is_some() {
            return None;
        }
        let is_it = |one: &&super::eligible::Refused<'_>| {
            one.exercise.id == doing.exercise && one.variant.id == doing.variant
        };
        match eligible.refused.iter().find(is_it) {
            Some(refused) => {
                let reason = refused.why.iter().find(|one| counts(one.by))?;
                Some(reason.words())
            }
            None => Some("it is no longer among the exercises".to_owned()),
        }
    };
    let mut asked: Vec<&VariantRef> = stage
        .segments
        .iter()
        .filter_map(|one| one.doing.as_ref())
        .collect();
    asked.sort();
    asked.dedup();
    asked
        .into_iter()
        .filter_map(|doing| Some(PastLimit::Way(doing.clone(), why(doing)?)))
        .collect()
}

fn places(ground: &Ground<'_>, stage: &Stage) -> Vec<PastLimit> {
    let stands = |name: &str| ground.stops.iter().any(|stop| stop.name == name);
    let mut gone: Vec<&str> = stage
        .segments
        .iter()
        .map(|one| one.place_name.as_str())
        .filter(|name| !name.is_empty() && !stands(name))
        .collect();
    gone.sort_unstable();
    gone.dedup();
    gone.into_iter()
        .map(|name| PastLimit::Place(name.to_owned()))
        .collect()
}

fn station(ground: &Ground<'_>, stage: &Stage) -> Option<PastLimit> {
    let most = ground.asked.assessed.limits.mets_station_high.to_mets();
    let hardest = stage
        .segments
        .iter()
        .map(|one| one.mets)
        .fold(0.0, f64::max);
    (hardest > most + SLACK_METS).then_some(PastLimit::Station(hardest, most))
}

/// Mean over time of the stations of a round. Easy change-overs never buy harder stations: only those above the most
/// count with them.
fn round(ground: &Ground<'_>, stage: &Stage) -> Option<PastLimit> {
    let most = ground.asked.assessed.limits.mets.high.to_mets();
    let of_round = |number: u8| {
        let all = stage.segments.iter();
        all.filter(move |one| one.phase == Phase::Conditioning && one.round == number)
    };
    let mean = |number: u8| {
        let time = |one: &Segment| f64::from(one.duration_ms);
        let all: f64 = of_round(number)
            .filter(|one| is_station(one))
            .map(time)
            .sum();
        let above = |one: &Segment| {
            let off = one.mets - most;
            time(one) * if is_station(one) { off } else { off.max(0.0) }
        };
        let sum: f64 = of_round(number).map(above).sum();
        (all > 0.0).then(|| most + sum / all)
    };
    let last = stage.segments.iter().map(|one| one.round).max()?;
    let hardest = (0..=last).filter_map(mean).fold(0.0, f64::max);
    (hardest > most + SLACK_METS).then_some(PastLimit::Round(hardest, most))
}

/// The one rule of the hard ceiling, by the response of today: see `response/hard-ceiling`. A page that was made by effort
/// alone, because no pulse could be predicted then either, is no further than what would be made today.
fn pulse(ground: &Ground<'_>, stage: &Stage) -> Option<PastLimit> {
    let limits = &ground.asked.assessed.limits;
    let ceiling = limits.hard_rate()?.to_bpm();
    let Some(response) = &ground.response else {
        return stage.predicted.peak_hr.map(|_| PastLimit::NoPrediction);
    };
    let work = work_of(&stage.segments);
    let peak = predict(response, &work)
        .iter()
        .map(|one| one.mean_bpm)
        .fold(0.0, f64::max);
    let band = limits.hr.map_or(f64::INFINITY, |band| band.high.to_bpm());
    let rare = chance_of_passing(response, &work, ceiling) <= CHANCE_MOST;
    let under = peak <= ceiling.min(band) + SLACK_BPM;
    (!rare || !under).then_some(PastLimit::Pulse(peak, ceiling.min(band)))
}

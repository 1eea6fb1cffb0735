//! One rung made whole: composed, put together, checked against every limit that reaches across its parts.

use super::before::{Before, dose, dose_range, is_station};
use super::growth::{self, Growth};
use super::instance::{Given, instance, pins, with_refused};
use super::session::{fill_predictions, last_stop, predicted, stations};
use super::shape::{Lever, Shape};
use super::{NoRung, Rung, Tries, movements};
use crate::evidence::{Finding, Weight};
use crate::programme::ceiling::HardCeiling;
use crate::programme::composer::{Composed, Instance, explain, solve};
use crate::programme::cool_down::{After, CoolDown, NEAR_REST, cool_down, length_ms};
use crate::programme::ground::Ground;
use crate::programme::response::CHANCE_MOST;
use crate::programme::slope::{has_seat, too_few_unlike};
use crate::programme::warm_up::{WarmUp, warm_up};
use crate::programme::{Segment, Stage};
use std::collections::BTreeSet;

/// Steps by which the highest mean is lowered when the probability is too high, bpm, and how often.
const LOWER_BPM: f64 = 1.0;
const LOWERINGS: u32 = 20;
/// Times the range of the dose is corrected to what the rung itself allows.
const CORRECTIONS: u32 = 4;
/// By how much the top of a warm-up is lowered beside the page at home, METs.
const TOP_STEP: f64 = 0.2;
/// What the quiet part of the cool-down is lengthened by, and up to how much.
const LONGER_MS: u32 = 60_000;
const LONGEST_MS: u32 = 300_000;
/// A dose without a bound.
const NO_BOUND: i64 = i64::MAX / 4;

/// What is to be made.
pub(super) struct Order<'g> {
    pub(super) number: u16,
    pub(super) lever: Lever,
    pub(super) shape: Shape,
    pub(super) before: &'g Before,
    pub(super) tries: Tries,
    /// The way down at its quietest, also if it does not take turns: where otherwise a hard ceiling is passed.
    pub(super) quiet: bool,
}

/// Makes a rung; with the quietest way down where otherwise it would pass a hard ceiling.
pub(super) fn make(ground: &Ground<'_>, order: &Order<'_>) -> Result<Rung, NoRung> {
    match make_under(ground, order) {
        Err(NoRung::PassesCeiling) => make_under(
            ground,
            &Order {
                quiet: true,
                ..*order
            },
        ),
        made => made,
    }
}

/// Makes a rung; under a hard ceiling the highest mean is lowered until the probability of passing it is small enough.
fn make_under(ground: &Ground<'_>, order: &Order<'_>) -> Result<Rung, NoRung> {
    let session_s = planned_s(ground, order) as f64 + f64::from(LONGEST_MS) / 1000.0;
    let whole = ground.ceiling_of(session_s);
    let mut lowered = 0;
    loop {
        let ceiling = whole.map(|ceiling| ceiling.lowered(LOWER_BPM * f64::from(lowered)));
        let rung = attempt(ground, order, ceiling.as_ref())?;
        if under_ceiling(&rung.stage, whole.as_ref()) {
            return Ok(Rung { ceiling, ..rung });
        }
        lowered += 1;
        if lowered > LOWERINGS {
            return Err(NoRung::PassesCeiling);
        }
    }
}

/// Whether a whole session keeps the one rule of the hard ceiling.
fn under_ceiling(stage: &Stage, ceiling: Option<&HardCeiling>) -> bool {
    let Some(ceiling) = ceiling else {
        return true;
    };
    let means = stage
        .segments
        .iter()
        .filter_map(|segment| segment.predicted_hr);
    let chance = stage.predicted.ceiling_probability;
    means.fold(0.0, f64::max) <= ceiling.most_bpm
        && chance.is_none_or(|chance| chance <= CHANCE_MOST)
}

/// Length of the session as it is planned, s.
fn planned_s(ground: &Ground<'_>, order: &Order<'_>) -> u64 {
    let lengths = ground.asked.service.lengths;
    u64::from(lengths.warm_up_s)
        + u64::from(order.shape.longer_warm_up_s)
        + u64::from(order.shape.conditioning_s(ground.change_over.seconds))
        + u64::from(length_ms(ground)) / 1000
}

fn attempt(
    ground: &Ground<'_>,
    order: &Order<'_>,
    ceiling: Option<&HardCeiling>,
) -> Result<Rung, NoRung> {
    let lengths = ground.asked.service.lengths;
    if planned_s(ground, order) > u64::from(lengths.session_max_s) {
        return Err(NoRung::TooLong);
    }
    let warm_up_ms = lengths
        .warm_up_s
        .saturating_add(order.shape.longer_warm_up_s)
        .saturating_mul(1000);
    let none = if ceiling.is_some() {
        NoRung::PassesCeiling
    } else {
        NoRung::NothingOpen
    };
    let warm = warm_up(ground, ceiling, warm_up_ms, f64::INFINITY).ok_or(none)?;
    if let Some(unlike) = no_seat(ground, &warm) {
        return Err(NoRung::NoSeat(unlike));
    }
    let growth = Growth::of(ground, order.before, order.number);
    let made = with_warm_up(ground, order, ceiling, &warm, growth);
    let because_of_home = made.is_err()
        && growth.is_held_to_home()
        && with_warm_up(ground, order, ceiling, &warm, growth.away_from_home()).is_ok();
    if !because_of_home {
        return made;
    }
    // Beside the page at home a gentler warm-up leaves room, where the band was lower when that page was made.
    let mut top = hardest(&warm.segments);
    while top > 1.0 {
        top -= TOP_STEP;
        let Some(warm) = warm_up(ground, ceiling, warm_up_ms, top) else {
            continue;
        };
        let gentler = with_warm_up(ground, order, ceiling, &warm, growth);
        if gentler.is_ok() {
            return gentler;
        }
    }
    made
}

/// How many unlike exercises are open where there is nothing to sit on and they are too few to take turns.
fn no_seat(ground: &Ground<'_>, warm: &WarmUp) -> Option<usize> {
    if has_seat(ground) {
        return None;
    }
    let within = || {
        movements(ground, &warm.segments)
            .into_iter()
            .collect::<BTreeSet<_>>()
            .len()
    };
    too_few_unlike(ground).or_else(|| warm.repeats.then(within))
}

fn hardest(segments: &[Segment]) -> f64 {
    segments.iter().map(|one| one.mets).fold(1.0, f64::max)
}

fn with_warm_up(
    ground: &Ground<'_>,
    order: &Order<'_>,
    ceiling: Option<&HardCeiling>,
    warm: &WarmUp,
    growth: Growth<'_>,
) -> Result<Rung, NoRung> {
    if order.shape.pairs > 0 {
        return with_stations(ground, order, ceiling, warm, growth);
    }
    let rung = finish(ground, order, warm, Vec::new(), None)?;
    // A longer warm-up can bring other movements with it, so its dose is held against the growth like any other.
    if growth.allows(&rung.stage) {
        Ok(rung)
    } else {
        Err(NoRung::GrowsTooFast)
    }
}

/// Composes within the growth of the dose. What one pair more comes to is known from the rung before; for the first
/// stations only their own list tells it, so the range is corrected by what was composed.
fn with_stations(
    ground: &Ground<'_>,
    order: &Order<'_>,
    ceiling: Option<&HardCeiling>,
    warm: &WarmUp,
    growth: Growth<'_>,
) -> Result<Rung, NoRung> {
    let before = order.before;
    let mut beside = beside_stations(ground, order, warm)?;
    let mut most = most_for_stations(growth, 0.0, beside);
    for _ in 0..CORRECTIONS {
        let given = Given {
            shape: order.shape,
            number: order.number,
            before,
            warm_up: &warm.segments,
            ceiling,
            dose: dose_range(least(ground, order), most),
            tries: order.tries,
        };
        let problem = instance(ground, &given);
        let Some(composed) = solve(&problem) else {
            if before.has_stations() || most == NO_BOUND {
                return Err(no_list(ground, order, &given));
            }
            most = NO_BOUND;
            continue;
        };
        let from = last_stop(ground, &warm.segments);
        let list = stations(ground, order.shape, &problem, &composed, from);
        let rung = finish(ground, order, warm, list, Some((problem, composed)))?;
        if growth.allows(&rung.stage) {
            return Ok(rung);
        }
        let pair = growth::dearest_pair(&rung.stage.segments);
        beside = rung
            .stage
            .segments
            .iter()
            .filter(|one| !is_station(one))
            .map(dose)
            .sum();
        most = most_for_stations(growth, pair, beside).min(most - 1);
    }
    Err(NoRung::GrowsTooFast)
}

fn no_list(ground: &Ground<'_>, order: &Order<'_>, given: &Given<'_>) -> NoRung {
    NoRung::NoList(if order.tries.explain {
        explain(&with_refused(ground, given))
    } else {
        Vec::new()
    })
}

/// Not less than the rung before, except where the practitioner pins stations: a hill may be made lower.
fn least(ground: &Ground<'_>, order: &Order<'_>) -> i64 {
    let pinned = !pins(ground, order.shape, order.number).is_empty();
    if pinned {
        0
    } else {
        order.before.least_dose(order.lever == Lever::Harder)
    }
}

/// The most for the stations so that the whole session keeps to the growth.
fn most_for_stations(growth: Growth<'_>, pair: f64, beside: i64) -> i64 {
    growth
        .most(pair)
        .map_or(NO_BOUND, |most| growth::in_milli_met_ms(most) - beside)
}

/// Dose of what will stand beside the stations: warm-up, change-overs, cool-down.
fn beside_stations(ground: &Ground<'_>, order: &Order<'_>, warm: &WarmUp) -> Result<i64, NoRung> {
    let down = way_down(ground, order, &warm.segments, &[], 0).ok_or(NoRung::NothingOpen)?;
    let change_over_ms = i64::from(ground.change_over.seconds) * 1000;
    let change_overs = i64::from(order.shape.stations())
        * change_over_ms
        * libm::ceil(ground.change_over.mets_low * 1000.0) as i64;
    let beside = warm.segments.iter().chain(&down.segments);
    Ok(beside.map(dose).sum::<i64>() + change_overs)
}

/// Effort at which the way down begins: under that of the last pair of stations, or of the warm-up's end.
fn begin_of_way_down(warm: &[Segment], list: &[Segment]) -> f64 {
    /// Share of the warm-up's last effort above rest. Source: `programme-ours`.
    const OF_WARM_UP: f64 = 0.7;
    /// Segments of the last pair: two stations and two change-overs.
    const LAST_PAIR: usize = 4;
    let top = warm
        .last()
        .map_or(1.5, |last| 1.0 + OF_WARM_UP * (last.mets - 1.0));
    let pair = &list[list.len().saturating_sub(LAST_PAIR)..];
    let ms: f64 = pair.iter().map(|one| f64::from(one.duration_ms)).sum();
    let work: f64 = pair
        .iter()
        .map(|one| f64::from(one.duration_ms) * one.mets)
        .sum();
    if ms > 0.0 { top.min(work / ms) } else { top }
}

fn way_down(
    ground: &Ground<'_>,
    order: &Order<'_>,
    warm: &[Segment],
    list: &[Segment],
    longer_ms: u32,
) -> Option<CoolDown> {
    let after = After {
        warm_up: warm,
        stations: list,
        stop: last_stop(ground, if list.is_empty() { warm } else { list }),
        begin_mets: begin_of_way_down(warm, list),
        most_mets: hardest(warm),
        quiet: order.quiet,
    };
    cool_down(ground, &after, longer_ms)
}

/// Puts warm-up, stations and cool-down together and predicts the whole.
fn finish(
    ground: &Ground<'_>,
    order: &Order<'_>,
    warm: &WarmUp,
    list: Vec<Segment>,
    composed: Option<(Instance, Composed)>,
) -> Result<Rung, NoRung> {
    let mut segments = warm.segments.clone();
    segments.extend(list.iter().cloned());
    let used_ms: u64 = segments.iter().map(|one| u64::from(one.duration_ms)).sum();
    let mut longer = 0;
    let mut near_rest;
    let of_way_down;
    loop {
        let CoolDown {
            segments: down,
            finding,
        } = way_down(ground, order, &warm.segments, &list, longer).ok_or(NoRung::NothingOpen)?;
        let down_ms: u64 = down.iter().map(|one| u64::from(one.duration_ms)).sum();
        let mut whole = segments.clone();
        whole.extend(down);
        fill_predictions(ground, &mut whole);
        near_rest = ends_near_rest(ground, &whole);
        let room_ms = u64::from(ground.asked.service.lengths.session_max_s) * 1000;
        let more = longer < LONGEST_MS && used_ms + down_ms + u64::from(LONGER_MS) <= room_ms;
        if near_rest || !more {
            segments = whole;
            of_way_down = finding;
            break;
        }
        longer += LONGER_MS;
    }
    let (objective, bound, proven) = match &composed {
        Some((_, composed)) => (composed.objective, composed.bound, composed.proven),
        None => (0, 0, true),
    };
    let (instance, composed) = composed.unzip();
    Ok(Rung {
        stage: Stage {
            number: order.number,
            lever: order.lever.word().to_owned(),
            sessions_per_week: order.before.times_a_week,
            predicted: predicted(ground, &segments),
            segments,
            objective,
            bound,
            proven,
            because: Vec::new(),
        },
        instance,
        composed,
        shape: order.shape,
        near_rest,
        ceiling: None,
        findings: findings_of(ground, warm, of_way_down, near_rest),
    })
}

fn findings_of(
    ground: &Ground<'_>,
    warm: &WarmUp,
    of_way_down: Option<Finding>,
    near_rest: bool,
) -> Vec<Finding> {
    let mut findings = warm.findings.clone();
    findings.extend(of_way_down);
    if !near_rest {
        let within = ground.asked.service.cool_down_within_bpm;
        let text = format!(
            "The pulse is predicted to be still more than {within} bpm above the rate before exercise when the cool-down ends; stay with them and count."
        );
        findings.push(NEAR_REST.finding(Weight::Note, text));
    }
    findings
}

/// Whether the predicted end comes near the rate before exercise.
fn ends_near_rest(ground: &Ground<'_>, segments: &[Segment]) -> bool {
    let within = ground.asked.service.cool_down_within_bpm;
    let end = segments.last().and_then(|last| last.predicted_hr);
    match (&ground.response, end) {
        (Some(response), Some(end)) => end <= response.level_bpm + within,
        _ => true,
    }
}

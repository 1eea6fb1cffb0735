//! How a programme grows from one rung to the next, and whether its sums are those of its segments.

use super::record::Record;
use super::{Faults, list, number, word};
use serde_json::Value;

/// Sessions a week: fewest, most, and most for those who begin gently (our default).
const TIMES: (f64, f64, f64) = (2.0, 5.0, 3.0);
/// Half of the last digit that minutes and MET-minutes are printed with.
const PRINTED: f64 = 0.006;
/// What rounding of METs to the thousandth may come to over an hour of MET-minutes, twice.
const SUMMED: f64 = 0.07;

pub(super) fn check(record: &Record<'_>, limits: &Value, programme: &Value, faults: &mut Faults) {
    let stages = list(programme, "stages");
    for stage in stages {
        check_sums(stage, faults);
        check_proof(stage, faults);
        let times = number(stage, "sessions_per_week").unwrap_or(0.0);
        let (least, usual, gently) = TIMES;
        let most = if record.gentle(limits) { gently } else { usual };
        faults.expect((least..=most).contains(&times), "programme/times", || {
            format!("{times} times a week, at most {most}")
        });
    }
    for pair in stages.windows(2) {
        check_growth(record.settings.growth, &pair[0], &pair[1], faults);
    }
}

fn check_sums(stage: &Value, faults: &mut Faults) {
    let segments = list(stage, "segments");
    let minutes: f64 = segments
        .iter()
        .filter_map(|one| number(one, "seconds"))
        .sum::<f64>()
        / 60.0;
    let dose = dose(segments);
    let holds = near(number(stage, "minutes"), minutes, PRINTED)
        && near(number(stage, "met_minutes"), dose, SUMMED)
        && number(stage, "sessions_per_week").is_some_and(|times| (1.0..=7.0).contains(&times));
    faults.expect(holds, "programme/sums", || {
        format!(
            "{} minutes and {} MET-minutes, by the segments {minutes} and {dose}",
            stage["minutes"], stage["met_minutes"]
        )
    });
}

fn near(printed: Option<f64>, own: f64, within: f64) -> bool {
    printed.is_some_and(|printed| (printed - own).abs() <= within)
}

/// MET-minutes from the low ends.
fn dose<'s>(segments: impl IntoIterator<Item = &'s Value>) -> f64 {
    let each = segments.into_iter().map(|one| {
        number(one, "mets_low").unwrap_or(0.0) * number(one, "seconds").unwrap_or(0.0) / 60.0
    });
    each.sum()
}

/// A rung with stations says what it is worth and that nothing better is possible; one without says nothing.
fn check_proof(stage: &Value, faults: &mut Faults) {
    let stations = list(stage, "segments")
        .iter()
        .any(|one| word(one, "kind") == "cardiovascular");
    let (objective, bound) = (stage["objective"].as_i64(), stage["bound"].as_i64());
    let holds = match (objective, bound) {
        (Some(objective), Some(bound)) => stations && objective <= bound,
        (None, None) => !stations,
        _ => false,
    };
    faults.expect(holds, "programme/proof", || {
        format!("objective {objective:?}, bound {bound:?}, stations: {stations}")
    });
}

/// A week grows by at most the service's share, or by one brisk and one easy station with their change-overs.
fn check_growth(cap: f64, before: &Value, after: &Value, faults: &mut Faults) {
    let week = |stage: &Value| {
        dose(list(stage, "segments")) * number(stage, "sessions_per_week").unwrap_or(0.0)
    };
    let times = number(after, "sessions_per_week").unwrap_or(0.0);
    let pair = dearest_pair(before).max(dearest_pair(after)) * times;
    let (first, second) = (week(before), week(after));
    let most = (first * (1.0 + cap)).max(first + pair);
    faults.expect(second <= most + SUMMED * times, "programme/growth", || {
        format!(
            "rung {}: {first} then {second}, most {most}",
            after["number"]
        )
    });
}

fn dearest_pair(stage: &Value) -> f64 {
    let segments = list(stage, "segments");
    let most = |wanted: &[&str]| {
        let found = segments
            .iter()
            .filter(|one| wanted.contains(&word(one, "kind")))
            .filter(|one| word(one, "phase") == "conditioning");
        found.map(|one| dose([one])).fold(0.0, f64::max)
    };
    most(&["cardiovascular"]) + most(&["active-recovery"]) + 2.0 * most(&["march", "walk", "rest"])
}

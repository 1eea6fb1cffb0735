//! The shape of one session: its parts, their order and lengths.

use super::record::Record;
use super::today::pressure_falls;
use super::{Faults, Library, list, number, word};
use serde_json::Value;

/// Shortest change-over where changes of posture are slow, in seconds (our default).
const SLOW_S: f64 = 15.0;

/// Rungs stand only where the decision is to exercise; none then needs a reason.
pub(super) fn check_decision(limits: &Value, programme: &Value, faults: &mut Faults) {
    let decision = word(&programme["screening"], "decision");
    let same = decision == word(&limits["screening"], "decision");
    let stages = !list(programme, "stages").is_empty();
    let reasons = !list(programme, "findings").is_empty();
    let holds = match decision {
        "exercise" => stages || reasons,
        "not-today" | "not-at-home" => !stages,
        _ => false,
    };
    faults.expect(same && holds, "programme/decision", || {
        format!("{decision}, rungs: {stages}, reasons: {reasons}")
    });
}

pub(super) fn check(record: &Record<'_>, limits: &Value, stage: &Value, faults: &mut Faults) {
    let settings = record.settings;
    let segments = list(stage, "segments");
    let places: Vec<usize> = segments
        .iter()
        .map(|one| match word(one, "phase") {
            "warm-up" => 0,
            "conditioning" => 1,
            "cool-down" => 2,
            _ => 9,
        })
        .collect();
    let ordered = places.is_sorted() && places.iter().all(|place| *place < 3);
    faults.expect(ordered, "session/order", || {
        format!("rung {}: {places:?}", stage["number"])
    });
    let seconds = |phase: &str| -> f64 {
        segments
            .iter()
            .filter(|one| phase.is_empty() || word(one, "phase") == phase)
            .filter_map(|one| number(one, "seconds"))
            .sum()
    };
    let (warm, cool, all) = (seconds("warm-up"), seconds("cool-down"), seconds(""));
    faults.expect(warm >= settings.warm_up_s - 1e-6, "session/warm-up", || {
        format!("rung {}: {warm} s", stage["number"])
    });
    faults.expect(
        cool >= settings.cool_down_s - 1e-6,
        "session/cool-down",
        || format!("rung {}: {cool} s", stage["number"]),
    );
    let most = settings.session_most_s;
    faults.expect(all <= most + 1e-6, "session/length", || {
        format!("rung {}: {all} s of {most}", stage["number"])
    });
    check_change_overs(record, limits, stage, faults);
}

/// Before a station there is time to walk, as long as the service sets; where pressure falls on standing never under 15 s
/// (our default).
fn check_change_overs(record: &Record<'_>, limits: &Value, stage: &Value, faults: &mut Faults) {
    let slow = pressure_falls(record) || limits["limits"]["hypotensive"].as_bool() == Some(true);
    let set = record.settings.change_over_s;
    let own = if slow { set.max(SLOW_S) } else { set };
    let station = |one: &Value| matches!(word(one, "kind"), "cardiovascular" | "active-recovery");
    let all = list(stage, "segments");
    for (at, one) in all.iter().enumerate().filter(|(_, one)| station(one)) {
        let before = at.checked_sub(1).and_then(|at| all.get(at));
        let between = before.filter(|one| matches!(word(one, "kind"), "march" | "walk" | "rest"));
        let seconds = between
            .and_then(|one| number(one, "seconds"))
            .unwrap_or(0.0);
        let holds = (seconds - own).abs() < 1e-6;
        faults.expect(holds, "session/change-over", || {
            format!("{seconds} s of {own} before {}", one["exercise"])
        });
    }
}

/// In the cool-down the arms stay below the shoulder (`thow-2006`, secondary).
pub(super) fn check_cool_down_arms(library: &Library, stage: &Value, faults: &mut Faults) {
    for segment in list(stage, "segments") {
        let (exercise, variant) = (word(segment, "exercise"), word(segment, "variant"));
        let above = library
            .way(exercise, variant)
            .is_some_and(|way| way.arms == "above-shoulder");
        faults.expect(
            !(above && word(segment, "phase") == "cool-down"),
            "session/cool-down-arms",
            || format!("{exercise}/{variant} in the cool-down"),
        );
    }
}

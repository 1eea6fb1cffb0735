//! The shape of one session: its parts, their order and lengths.

use super::{Faults, Library, list, number, word};
use serde_json::Value;

/// Shortest warm-up, shortest cool-down and longest session in seconds: the built-in settings. Source: `thow-2006` for the
/// first two (15 and 10 minutes, secondary).
const WARM_UP_S: f64 = 900.0;
const COOL_DOWN_S: f64 = 600.0;
const SESSION_MOST_S: f64 = 3600.0;

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

pub(super) fn check(stage: &Value, faults: &mut Faults) {
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
    faults.expect(warm >= WARM_UP_S - 1e-6, "session/warm-up", || {
        format!("rung {}: {warm} s", stage["number"])
    });
    faults.expect(cool >= COOL_DOWN_S - 1e-6, "session/cool-down", || {
        format!("rung {}: {cool} s", stage["number"])
    });
    faults.expect(all <= SESSION_MOST_S + 1e-6, "session/length", || {
        format!("rung {}: {all} s", stage["number"])
    });
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

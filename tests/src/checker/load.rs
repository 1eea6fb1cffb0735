//! METs, capacity, risk class, effort and balance, recomputed from the case.

use super::record::Record;
use super::today::any_present;
use super::{Faults, number, word};
use serde_json::Value;

/// Half of the last digit that METs are printed with, and as much again for a sum.
const PRINTED_METS: f64 = 0.001_1;

/// Weights of the twelve yes-no questions on activity. Source: `hlatky-1989`.
const ACTIVITY_WEIGHTS: [f64; 12] = [
    2.75, 1.75, 2.75, 5.50, 8.00, 2.70, 3.50, 8.00, 4.50, 5.25, 6.00, 7.50,
];

pub(super) fn check(record: &Record<'_>, limits: &Value, faults: &mut Faults) {
    check_mets(record, limits, faults);
    check_capacity(record, limits, faults);
    check_risk(record, limits, faults);
    check_effort(record, limits, faults);
    check_balance(record, limits, faults);
}

fn check_mets(record: &Record<'_>, limits: &Value, faults: &mut Faults) {
    let printed = &limits["limits"];
    let low = number(&printed["mets"], "low").unwrap_or(f64::NAN);
    let high = number(&printed["mets"], "high").unwrap_or(f64::NAN);
    let station = number(printed, "mets_station_high").unwrap_or(f64::NAN);
    faults.expect(
        1.0 <= low && low <= high && high <= station + PRINTED_METS,
        "load/order",
        || format!("{low} to {high}, station {station}"),
    );
    let settings = record.settings;
    let share = settings.share_high(word(&limits["risk"], "class"));
    let measured = limits["capacity"]["measured"].as_bool() == Some(true);
    let (most_high, most_station) = match number(&limits["capacity"], "mets") {
        None => (settings.mets_without, settings.mets_without),
        Some(peak) => {
            let high = 1.0 + share * (peak - 1.0);
            // Only estimated: one station may reach the service's share of the estimate.
            let station = if measured {
                high
            } else {
                (settings.of_estimated_peak * peak).max(1.0)
            };
            (high.min(station), station)
        }
    };
    // Where one test alone speaks nothing can hold the load lower, so it is exact.
    let alone = capacity_tests(record) == 1 && limits["capacity"]["mets"].is_number();
    let holds = |value: f64, most: f64| {
        value <= most + PRINTED_METS && (!alone || value >= most - PRINTED_METS)
    };
    // Without a capacity the share is of the top itself; the low end never lies above the high one.
    let peak = number(&limits["capacity"], "mets").unwrap_or(most_high);
    let most_low = (1.0 + settings.share_low() * (peak - 1.0)).min(most_high);
    faults.expect(holds(low, most_low), "load/low", || {
        format!("from {low}, by the capacity {most_low}")
    });
    faults.expect(holds(high, most_high), "load/band", || {
        format!("up to {high}, by the capacity {most_high}")
    });
    faults.expect(holds(station, most_station), "load/station", || {
        format!("a station up to {station}, by the capacity {most_station}")
    });
}

fn capacity_tests(record: &Record<'_>) -> usize {
    let kinds = [
        "exercise-test",
        "step",
        "shuttle-walk",
        "six-minute-walk",
        "activity-status",
    ];
    kinds.iter().map(|kind| record.tests(kind).len()).sum()
}

/// METs of a capacity from the tests of its method: measured, or by the published lines over 3.5 mL/kg/min.
fn check_capacity(record: &Record<'_>, limits: &Value, faults: &mut Faults) {
    let capacity = &limits["capacity"];
    let Some(mets) = number(capacity, "mets") else {
        return;
    };
    let method = word(capacity, "method");
    let tests = record.tests(method);
    // Sources: ross-2010, singh-1994, hlatky-1989.
    let of = |test: &Value| -> Option<f64> {
        let distance = number(test, "distance_m");
        match method {
            "exercise-test" => number(test, "peak_mets"),
            "six-minute-walk" => Some((4.948 + 0.023 * distance?) / 3.5),
            "shuttle-walk" => Some((4.19 + 0.025 * distance?) / 3.5),
            "activity-status" => {
                let yes = test["yes"].as_array()?.iter().filter_map(Value::as_u64);
                let points: f64 = yes
                    .filter_map(|at| ACTIVITY_WEIGHTS.get(at as usize - 1))
                    .sum();
                Some((0.43 * points + 9.6) / 3.5)
            }
            _ => None,
        }
    };
    let measured = capacity["measured"].as_bool() == Some(true);
    let known = method == "step"
        || tests
            .iter()
            .filter_map(|(_, test)| of(test))
            .any(|own| (own.max(1.0) - mets).abs() <= PRINTED_METS);
    let kind = (method == "exercise-test") == measured;
    faults.expect(known && kind, "load/capacity", || {
        format!("{mets} METs by {method} (measured: {measured}) is in no test of that kind")
    });
}

/// One high criterion makes the class high; low needs 7 measured METs and an ejection fraction of 50.
/// Source: `aacvpr-guidelines` as tabulated.
fn check_risk(record: &Record<'_>, limits: &Value, faults: &mut Faults) {
    let class = word(&limits["risk"], "class");
    let fraction = number(&record.case["heart"], "ejection_fraction_pct");
    let complicated = record
        .events()
        .filter(|event| {
            matches!(
                word(event, "kind"),
                "myocardial-infarction" | "bypass-surgery"
            )
        })
        .any(|event| event["complicated"].as_bool() == Some(true));
    let history = [
        "heart-failure",
        "cardiac-arrest",
        "complex-arrhythmia",
        "post-event-ischaemia",
        "clinical-depression",
    ];
    let high = fraction.is_some_and(|pct| pct < 40.0)
        || any_present(record, &history)
        || record.had("heart-failure")
        || record.had("cardiac-arrest")
        || record.case["heart"]["device"].is_object()
        || complicated
        || record
            .pressure_answers()
            .iter()
            .any(|answer| *answer != "normal");
    faults.expect(!high || class == "high", "risk/high", || {
        format!("{class} in spite of a criterion of the high class")
    });
    let measured = limits["capacity"]["measured"].as_bool() == Some(true);
    let strong = measured && number(&limits["capacity"], "mets").is_some_and(|mets| mets >= 7.0);
    let proven = strong && fraction.is_some_and(|pct| pct >= 50.0);
    faults.expect(class != "low" || proven, "risk/low", || {
        format!("low with fraction {fraction:?} and strong {strong}")
    });
}

/// The service's band on the service's scale; its gentle one in high risk, in heart failure and at the beginning.
fn check_effort(record: &Record<'_>, limits: &Value, faults: &mut Faults) {
    let effort = &limits["limits"]["effort"];
    let (low, high) = (number(effort, "low"), number(effort, "high"));
    let settings = record.settings;
    let own = if record.gentle(limits) {
        settings.effort_gentle
    } else {
        settings.effort
    };
    let holds = word(effort, "scale") == settings.scale && low.zip(high) == Some(own);
    faults.expect(holds, "effort/band", || {
        format!("{effort}, by the settings {own:?} of {}", settings.scale)
    });
}

/// A frame: both hands or seated; a stick, two falls, poor balance or vertigo: both feet; one fall: no held single leg.
fn check_balance(record: &Record<'_>, limits: &Value, faults: &mut Faults) {
    let function = &record.case["function"];
    let falls = number(function, "falls_12_months");
    let mut most: f64 = match word(function, "aid") {
        "frame" => 0.0,
        "stick" => 1.0,
        _ => 3.0,
    };
    if any_present(record, &["poor-balance", "vertigo"]) || falls.is_some_and(|falls| falls >= 2.0)
    {
        most = most.min(1.0);
    }
    if falls.is_none_or(|falls| falls >= 1.0) {
        most = most.min(2.0);
    }
    let level = number(&limits["limits"], "balance_max").unwrap_or(f64::NAN);
    faults.expect((0.0..=most).contains(&level), "balance/level", || {
        format!("level {level}, by the record {most}")
    });
}

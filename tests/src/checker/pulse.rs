//! The pulse band and the ceiling, recomputed from the case's own tests and devices.

use super::record::Record;
use super::{Faults, number, word};
use serde_json::Value;

/// Beats under a pacemaker's upper tracking rate. Source: `pacing-practice` (recalled).
const UNDER_TRACKING: f64 = 10.0;
/// Half of the last digit that a rate is printed with.
const PRINTED_BPM: f64 = 0.051;

pub(super) fn check(record: &Record<'_>, limits: &Value, faults: &mut Faults) {
    let printed = &limits["limits"];
    let no_target = no_target(record);
    let guiding = word(printed, "hr_ceiling_kind") == "guiding";
    let silent = printed["hr"].is_null() && !guiding;
    faults.expect(!no_target || silent, "pulse/no-target", || {
        format!("a pulse target in spite of the rhythm: {}", printed["hr"])
    });
    check_order(printed, faults);
    check_reserve(record, limits, faults);
    let tested = tested_peak(record);
    check_ceiling(record, printed, tested, no_target, faults);
}

/// Fibrillation, flutter, a rhythm that nobody wrote down, a transplanted heart and an assist device: the pulse does not
/// say how hard the heart works.
pub(super) fn no_target(record: &Record<'_>) -> bool {
    super::today::fibrillates(record)
        || super::today::rhythm_open(record)
        || record.had("transplant")
        || record.present("ventricular-assist-device")
}

fn check_order(printed: &Value, faults: &mut Faults) {
    let band = &printed["hr"];
    if band.is_null() {
        return;
    }
    let (low, high) = (number(band, "low"), number(band, "high"));
    let ceiling = number(printed, "hr_ceiling");
    let holds = match (low, high, ceiling) {
        (Some(low), Some(high), Some(ceiling)) => {
            low <= high && high <= ceiling && low.fract() == 0.0 && high.fract() == 0.0
        }
        _ => false,
    };
    faults.expect(holds, "pulse/order", || format!("{band} under {ceiling:?}"));
}

/// Rest + share x (peak - rest): the service's low share rounded up, its high one (or that of the risk class) rounded down
/// and cut to the ceiling; the peak is a measured one or what the service's policy predicts.
fn check_reserve(record: &Record<'_>, limits: &Value, faults: &mut Faults) {
    let printed = &limits["limits"];
    let rest = number(printed, "resting_hr");
    let same_rest = match (rest, record.resting_hr()) {
        (Some(printed), Some(written)) => (printed - written).abs() <= PRINTED_BPM,
        (printed, written) => printed == written,
    };
    faults.expect(same_rest, "pulse/reserve", || {
        format!("rest {rest:?}, last counted {:?}", record.resting_hr())
    });
    let Some(peak) = number(printed, "peak_hr") else {
        return;
    };
    let candidates = super::peak::open(record, limits);
    let alike: Vec<f64> = candidates
        .iter()
        .copied()
        .filter(|one| (one - peak).abs() <= PRINTED_BPM)
        .collect();
    faults.expect(!alike.is_empty(), "pulse/peak", || {
        format!("peak {peak} is none of {candidates:?}")
    });
    let Some(rest) = record.resting_hr().filter(|_| !alike.is_empty()) else {
        return;
    };
    let (low, high) = (
        number(&printed["hr"], "low"),
        number(&printed["hr"], "high"),
    );
    let (Some(low), Some(high)) = (low, high) else {
        return;
    };
    let share = record.settings.share_high(word(&limits["risk"], "class"));
    let share_low = record.settings.share_low();
    let ceiling = number(printed, "hr_ceiling").unwrap_or(f64::INFINITY);
    let own = |peak: f64| {
        // A hair of room, so that a product that is a whole number in decimals is not rounded to the next.
        let own_low = (rest + share_low * (peak - rest) - 1e-9).ceil();
        let own_high = (rest + share * (peak - rest) + 1e-9).floor();
        (own_low, own_high.min(ceiling))
    };
    let holds = alike.iter().any(|peak| {
        let (own_low, own_high) = own(*peak);
        (low - own_low).abs() < 1e-6 && (high - own_high).abs() < 1e-6
    });
    faults.expect(holds, "pulse/reserve", || {
        format!("band {low} to {high}, from rest {rest} and a peak of {alike:?}")
    });
}

/// What the newest exercise test with a peak says.
#[derive(Clone, Copy)]
struct Tested {
    /// The peak, less the margin where the test did not end free of symptoms.
    most: f64,
    /// Whether nothing speaks against it: since the newest event, with the medicines of today.
    stands: bool,
}

fn tested_peak(record: &Record<'_>) -> Option<Tested> {
    let mut tests = record.exercise_tests();
    tests.retain(|(_, test)| number(test, "peak_hr_bpm").is_some());
    let days = tests.first()?.0;
    // Of several tests of one day the safer counts.
    tests.retain(|(other, _)| *other == days);
    let of = |(_, test): &(Option<i64>, &Value)| {
        let free = test["symptoms"].as_array().is_some_and(Vec::is_empty)
            && !ended_badly(test)
            && !found_ischaemia(test);
        let peak = number(test, "peak_hr_bpm").unwrap_or(f64::NAN);
        if free {
            peak
        } else {
            peak - record.settings.under_ischaemia
        }
    };
    let most = tests.iter().map(of).fold(f64::INFINITY, f64::min);
    let since_event =
        days.is_some_and(|days| record.newest_event().is_none_or(|event| event >= days));
    let changed = super::list(record.case, "medicine").iter().any(|medicine| {
        let began = record.days_since(&medicine["since"]);
        let ended = record.days_since(&medicine["until"]);
        began.is_none() || began < days || ended.is_some()
    });
    let blocked_then = tests
        .iter()
        .all(|(_, test)| test["beta_blocked"].as_bool() == Some(true));
    Some(Tested {
        most,
        stands: since_event && blocked_then && !changed,
    })
}

fn found_ischaemia(test: &Value) -> bool {
    number(test, "ischaemia_hr_bpm").is_some()
        || number(test, "st_depression_mm").is_some_and(|mm| mm >= 1.0)
        || test["arrhythmia"].as_bool() == Some(true)
        || word(test, "bp_response") == "fall"
        || super::record::has_word(&test["symptoms"], "angina")
}

/// A symptom, or severely low pressure, after the load.
fn ended_badly(test: &Value) -> bool {
    test["symptom_in_recovery"].as_bool() == Some(true) || word(test, "bp_response") == "fall-after"
}

/// The least ischaemic rate of the tests that are not older than one, since the newest event, that looked for everything
/// and found nothing. One of the same day is not older: it stays.
pub(super) fn ischaemic_rate(record: &Record<'_>) -> Option<f64> {
    let all = record.exercise_tests();
    let settled = all
        .iter()
        .filter(|(_, test)| {
            !found_ischaemia(test)
                && !ended_badly(test)
                && test["symptoms"].is_array()
                && number(test, "st_depression_mm").is_some()
                && test["arrhythmia"].is_boolean()
                && test["bp_response"].is_string()
        })
        .filter_map(|(days, _)| *days)
        .filter(|days| record.newest_event().is_none_or(|event| event >= *days))
        .min();
    let counts = |days: Option<i64>| match (days, settled) {
        (Some(days), Some(settled)) => days <= settled,
        _ => true,
    };
    let rates = all
        .iter()
        .filter(|(days, _)| counts(*days))
        .filter_map(|(_, test)| number(test, "ischaemia_hr_bpm"));
    rates.min_by(f64::total_cmp)
}

fn check_ceiling(
    record: &Record<'_>,
    printed: &Value,
    tested: Option<Tested>,
    no_target: bool,
    faults: &mut Faults,
) {
    let ceiling = number(printed, "hr_ceiling");
    let hard = word(printed, "hr_ceiling_kind") == "hard";
    let under = |most: Option<f64>| {
        most.is_none_or(|most| hard && ceiling.is_some_and(|rate| rate <= most.floor()))
    };
    // What is known to bring ischaemia on stays a ceiling, also beside a defibrillator whose rate nobody knows.
    let ischaemia = ischaemic_rate(record).map(|rate| rate - record.settings.under_ischaemia);
    faults.expect(under(ischaemia), "ceiling/ischaemia", || {
        format!("{ceiling:?} (hard: {hard}) for ischaemia that allows {ischaemia:?}")
    });
    if record.defibrillator() == Some(None) {
        return;
    }
    let device = record
        .defibrillator()
        .flatten()
        .map(|rate| rate - record.settings.under_device);
    let tracking = number(&record.case["heart"]["pacemaker"], "upper_tracking_bpm")
        .map(|rate| rate - UNDER_TRACKING);
    faults.expect(under(device), "ceiling/device", || {
        format!("{ceiling:?} (hard: {hard}) for a device that allows {device:?}")
    });
    let model = !no_target && printed["pulse_model"].as_bool() == Some(true);
    let peak = tested.filter(|_| model);
    let below_peak = peak.is_none_or(|one| ceiling.is_some_and(|rate| rate <= one.most.floor()));
    faults.expect(below_peak, "ceiling/tested-peak", || {
        format!(
            "{ceiling:?} above the measured peak {:?}",
            peak.map(|one| one.most)
        )
    });
    let firm = [device, ischaemia, tracking];
    let mut must_be_hard = firm.iter().any(Option::is_some);
    must_be_hard |= peak.is_some_and(|one| one.stands);
    let may_be_hard = must_be_hard || peak.is_some();
    let kind_holds = match word(printed, "hr_ceiling_kind") {
        "hard" => may_be_hard,
        "guiding" => !must_be_hard && printed["hr"].is_object(),
        _ => !must_be_hard && ceiling.is_none(),
    };
    faults.expect(kind_holds, "ceiling/kind", || {
        format!("kind {}, firm {firm:?}", printed["hr_ceiling_kind"])
    });
    let least = firm
        .iter()
        .chain(&[peak.map(|one| one.most)])
        .flatten()
        .copied()
        .fold(f64::INFINITY, f64::min);
    let value_holds = match (hard, ceiling) {
        (true, Some(rate)) => (rate - least.floor()).abs() < 1e-6,
        (false, Some(rate)) => number(&printed["hr"], "high") == Some(rate),
        _ => true,
    };
    faults.expect(value_holds, "ceiling/value", || {
        format!("{ceiling:?}, by the record {least}")
    });
}

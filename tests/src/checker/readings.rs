//! The readings of the newest examination against the cut-offs that the service chose, and how near an infarction is.

use super::record::Record;
use super::{number, word};
use serde_json::Value;

/// What is read on the day.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Reading {
    Systolic,
    Diastolic,
    Rate,
    VeryHighRate,
    WeightGain,
    Saturation,
}

/// A value that holds the day.
#[derive(Clone, Copy)]
struct CutOff {
    value: f64,
    /// Whether the value itself holds already.
    itself: bool,
    /// Whether an agreement given with the reading in hand opens the day.
    settled: bool,
}

const fn from(value: f64) -> CutOff {
    CutOff {
        value,
        itself: true,
        settled: false,
    }
}

const fn above(value: f64) -> CutOff {
    CutOff {
        itself: false,
        ..from(value)
    }
}

const fn relative(cut: CutOff) -> CutOff {
    CutOff {
        settled: true,
        ..cut
    }
}

/// The number of a set; `None` where the set gives none and the cautious one counts.
/// Sources: our own gate (`day-gate-ours`), `uk-phase-iv`, `heart-fail-rev-2023` (table 1), `australian-heart-failure`,
/// `acsm-getp` (recalled), `aacvpr-2004-sheets`, `uk-teaching-deck`, `esc-heart-failure-patients` for UK gains of weight,
/// `holland-2014` for the saturation.
fn of_set(set: &str, reading: Reading) -> Option<CutOff> {
    use Reading::{Diastolic, Rate, Saturation, Systolic, VeryHighRate, WeightGain};
    Some(match (set, reading) {
        ("cautious", Systolic) => from(180.0),
        ("cautious", Diastolic | Rate) => from(100.0),
        ("cautious", VeryHighRate) => from(120.0),
        ("cautious", WeightGain) => from(1.8),
        // Under 88 holds; the others hold at 85 and under.
        ("cautious", Saturation) => above(88.0),
        ("uk-teaching-deck" | "aacvpr-2004-sheets", Saturation) => return None,
        (_, Saturation) => from(85.0),
        ("uk-phase-iv", Systolic) => above(180.0),
        ("uk-phase-iv", Diastolic | Rate) => above(100.0),
        ("uk-phase-iv", WeightGain) => above(2.0),
        ("heart-failure-review-2023", Systolic) => from(180.0),
        ("heart-failure-review-2023", Diastolic) => from(110.0),
        ("heart-failure-review-2023" | "australian-heart-failure", Rate) => relative(from(100.0)),
        ("heart-failure-review-2023" | "australian-heart-failure", VeryHighRate) => above(120.0),
        ("heart-failure-review-2023", WeightGain) => relative(from(1.8)),
        ("australian-heart-failure", Systolic) => relative(above(180.0)),
        ("australian-heart-failure", Diastolic) => relative(above(110.0)),
        ("australian-heart-failure", WeightGain) => relative(from(2.0)),
        ("acsm-aacvpr", Systolic) => above(180.0),
        ("uk-teaching-deck", Systolic) => from(200.0),
        ("uk-teaching-deck", Diastolic) => from(110.0),
        ("aacvpr-2004-sheets", Systolic) => above(200.0),
        ("acsm-aacvpr" | "aacvpr-2004-sheets", Diastolic) => above(110.0),
        ("acsm-aacvpr" | "aacvpr-2004-sheets", Rate | VeryHighRate) => above(120.0),
        _ => return None,
    })
}

fn cut_off(set: &str, reading: Reading) -> CutOff {
    let own = of_set(set, reading).or_else(|| of_set("cautious", reading));
    own.expect("the cautious set has every number")
}

/// Gains of weight that hold, each with its days; the pound is 0.453 592 37 kg.
/// Sources: as above, `us-heart-failure-patients` (2 lb in a day, 5 lb in a week), `us-skip-exercise` (3 lb in 3 days).
fn gains(record: &Record<'_>) -> Vec<(CutOff, i64)> {
    const POUND: f64 = 0.453_592_37;
    match record.settings.weight_rule.as_str() {
        "of-the-set" => vec![(cut_off(&record.settings.cut_offs, Reading::WeightGain), 3)],
        "heart-failure-review-2023" => vec![(relative(from(1.8)), 3)],
        "australian-heart-failure" => vec![(relative(from(2.0)), 3)],
        "esc-patients" => vec![(above(2.0), 3)],
        "us-patient-text" => vec![(from(2.0 * POUND), 1), (from(5.0 * POUND), 7)],
        "us-skip-exercise" => vec![(from(3.0 * POUND), 3)],
        other => panic!("the checker does not know the rule of weight `{other}`"),
    }
}

/// The readings of the newest examination that hold the day.
pub(super) fn held(record: &Record<'_>) -> Vec<&'static str> {
    let Some(newest) = record.newest_examination() else {
        return Vec::new();
    };
    let since = record.days_since(&newest["date"]);
    let agreement = record.days_since(&record.case["agreement"]["date"]);
    let settled = super::today::agreed(record)
        && agreement
            .zip(since)
            .is_some_and(|(agreed, examined)| agreed <= examined);
    let set = record.settings.cut_offs.as_str();
    let holds = |cut: CutOff, value: f64| {
        let reached = value > cut.value || (cut.itself && value >= cut.value);
        reached && !(cut.settled && settled)
    };
    let over = |reading: Reading, value: Option<f64>| {
        value.is_some_and(|value| holds(cut_off(set, reading), value))
    };
    let mut found = Vec::new();
    let mut say = |held: bool, what: &'static str| {
        if held {
            found.push(what);
        }
    };
    for key in ["resting_bp_mmhg", "standing_bp_mmhg"] {
        let pressure = record.pressure(key);
        let (up, down) = (pressure.map(|one| one.0), pressure.map(|one| one.1));
        say(over(Reading::Systolic, up), "a high systolic pressure");
        say(over(Reading::Diastolic, down), "a high diastolic pressure");
        // Of no body, recalled practice: under 90.
        say(up.is_some_and(|up| up < 90.0), "a low systolic pressure");
    }
    let rate = number(newest, "resting_hr_bpm");
    say(over(Reading::Rate, rate), "a high resting rate");
    say(
        over(Reading::VeryHighRate, rate),
        "a very high resting rate",
    );
    say(rate.is_some_and(|bpm| bpm < 40.0), "a low resting rate");
    // In a known fibrillation a rate above 100 holds under every set. Source: `uk-phase-iv`.
    let fast = super::today::fibrillates(record) && rate.is_some_and(|bpm| bpm > 100.0);
    say(fast, "a rate above 100 in fibrillation");
    let fever = number(newest, "temperature_c").is_some_and(|degrees| degrees >= 38.0);
    say(fever, "fever");
    let gained = gains(record)
        .into_iter()
        .any(|(cut, days)| gained(record, newest, days).is_some_and(|kg| holds(cut, kg)));
    say(gained, "a gain of weight within days");
    let low = number(newest, "spo2_pct").is_some_and(|pct| {
        let cut = cut_off(set, Reading::Saturation);
        pct < cut.value || (cut.itself && pct <= cut.value)
    });
    say(low, "a low saturation");
    found
}

/// Kilograms gained over the last days, to the hundredth.
fn gained(record: &Record<'_>, newest: &Value, within: i64) -> Option<f64> {
    let now = number(newest, "weight_kg")?;
    let day = record.days_since(&newest["date"])?;
    let before = record.examinations().into_iter().filter(|one| {
        let other = record.days_since(&one["date"]);
        other.is_some_and(|other| (1..=within).contains(&(other - day)))
    });
    let least = before
        .filter_map(|one| number(one, "weight_kg"))
        .reduce(f64::min)?;
    Some(((now - least) * 100.0).round() / 100.0)
}

/// Under 2 days nobody trains; under 3 weeks nobody by the Australian set and nobody whose heart may be failing by the
/// cautious one. Sources: `heart-fail-rev-2023`, `esc-working-group-2001`, `australian-heart-failure`.
pub(super) fn infarction_too_near(record: &Record<'_>) -> bool {
    let newest = record
        .events()
        .filter(|one| {
            matches!(
                word(one, "kind"),
                "myocardial-infarction" | "coronary-dissection"
            )
        })
        .filter_map(|one| record.days_since(&one["date"]))
        .min();
    let no_failure = record.absent("heart-failure") && !record.had("heart-failure");
    let weeks = match record.settings.cut_offs.as_str() {
        "australian-heart-failure" => true,
        "cautious" => !no_failure,
        _ => false,
    };
    newest.is_some_and(|days| days < 2 || (weeks && days < 21))
}

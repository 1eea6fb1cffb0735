//! The peak that the pulse band is made from: a measured one, or what the service's policy predicts.

use super::record::{Record, has_word};
use super::today::any_present;
use super::{list, number, word};
use serde_json::Value;

/// What the printed peak may be, not rounded: exactly one rate, or none.
pub(super) fn open(record: &Record<'_>, limits: &Value) -> Vec<f64> {
    let measured = measured(record);
    if limits["limits"]["peak_hr_measured"].as_bool() == Some(true) {
        return measured.into_iter().collect();
    }
    let slowed = word(&limits["limits"], "rate_slowed") != "absent";
    // A measured peak that does not count any more still lowers a predicted one.
    let both = [measured, predicted(record, slowed)];
    both.into_iter()
        .flatten()
        .reduce(f64::min)
        .into_iter()
        .collect()
}

/// The least peak of the newest day with an exercise test that has one.
fn measured(record: &Record<'_>) -> Option<f64> {
    let tests = record.exercise_tests();
    let mut peaks = tests
        .iter()
        .filter_map(|(days, test)| Some((*days, number(test, "peak_hr_bpm")?)));
    let (newest, first) = peaks.next()?;
    let same_day = peaks.filter(|(days, _)| *days == newest);
    Some(same_day.map(|(_, peak)| peak).fold(first, f64::min))
}

/// What the policy of the service predicts; `slowed` where a medicine slows the heart or may.
/// Sources: `fox-1971`, `tanaka-2001`, `inbar-1994`, `gellish-2007`, `gulati-2010`, `sydo-2014`, `brawner-2004`.
fn predicted(record: &Record<'_>, slowed: bool) -> Option<f64> {
    let age = record.age_years()?;
    let inbar = 205.8 - 0.685 * age;
    let sex = word(&record.case["person"], "sex");
    match record.settings.peak_policy.as_str() {
        "by-condition" => {
            let clear = !slowed && no_coronary_disease(record);
            let kept = if clear { inbar } else { 164.0 - 0.7 * age };
            Some(if weak(record) {
                weakened(record, age, kept)
            } else {
                kept
            })
        }
        // Source: `uk-acpicr-bacpr` (secondary): 220 - age under 45 years, Inbar from then on, 30 less when slowed; in heart
        // failure Keteyian.
        "uk-practice" => {
            let line = if age < 45.0 { 220.0 - age } else { inbar };
            let kept = if slowed { line - 30.0 } else { line };
            Some(if weak(record) || failing(record) {
                weakened(record, age, kept)
            } else {
                kept
            })
        }
        "fox-1971" => Some(220.0 - age),
        "tanaka-2001" => Some(208.0 - 0.7 * age),
        "inbar-1994" => Some(inbar),
        "gellish-2007" => Some(206.9 - 0.67 * age),
        "gulati-2010" => (sex == "female").then_some(206.0 - 0.88 * age),
        "sydo-2014" => match sex {
            "male" => Some(220.0 - 0.95 * age),
            "female" => Some(210.0 - 0.79 * age),
            _ => None,
        },
        "none" => None,
        other => panic!("the checker does not know the policy `{other}`"),
    }
}

/// A weak ventricle is never given more than a preserved one. Sources: `keteyian-2012`; without a resting rate the equation
/// for ischaemic heart failure.
fn weakened(record: &Record<'_>, age: f64, kept: f64) -> f64 {
    let own = record
        .resting_hr()
        .map_or(168.0 - 0.76 * age, |rest| 119.0 + 0.5 * rest - 0.5 * age);
    own.min(kept)
}

fn failing(record: &Record<'_>) -> bool {
    record.present("heart-failure") || record.had("heart-failure")
}

fn weak(record: &Record<'_>) -> bool {
    match number(&record.case["heart"], "ejection_fraction_pct") {
        Some(fraction) if fraction < 40.0 => true,
        Some(fraction) if fraction >= 50.0 => false,
        _ => failing(record),
    }
}

/// Whether it is known that there is no coronary disease: every event is one before which the arteries are looked at, and
/// nothing speaks for one (our default).
fn no_coronary_disease(record: &Record<'_>) -> bool {
    let mut events = record.events().peekable();
    let looked_at = events.peek().is_some()
        && events.all(|event| {
            let clear = matches!(
                word(event, "kind"),
                "valve-surgery" | "catheter-valve" | "stress-cardiomyopathy"
            );
            let opened = list(event, "procedures")
                .iter()
                .any(|one| matches!(word(one, "kind"), "stent" | "bypass"));
            clear && !opened && event["residual_disease"].as_bool() != Some(true)
        });
    let told = any_present(
        record,
        &[
            "unstable-angina",
            "ischaemia-at-low-load",
            "post-event-ischaemia",
        ],
    );
    let tested = record.exercise_tests().into_iter().any(|(_, test)| {
        has_word(&test["symptoms"], "angina")
            || number(test, "ischaemia_hr_bpm").is_some()
            || number(test, "st_depression_mm").is_some_and(|mm| mm >= 1.0)
    });
    let usual = list(record.case, "usual_symptom")
        .iter()
        .any(|one| word(one, "kind") == "chest-discomfort");
    looked_at && !told && !tested && !usual
}

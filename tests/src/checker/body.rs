//! What this body must not do, by the record: the checker's own table of reasons.

use super::record::{Record, Since, has_word};
use super::today::{any_present, pressure_falls};
use super::{list, number, word};
use serde_json::Value;

/// A reason of a restriction that holds, and since when.
pub(super) struct Holds {
    pub(super) reason: &'static str,
    /// How long ago what heals was; [`Since::Unknown`] for what does not heal.
    pub(super) since: Since,
}

/// Every reason that the record surely gives.
pub(super) fn restrictions(record: &Record<'_>, limits: &Value) -> Vec<Holds> {
    let mut all = Vec::new();
    let mut add = |holds: bool, reason: &'static str| {
        if holds {
            all.push(Holds {
                reason,
                since: Since::Unknown,
            });
        }
    };
    let joints = [
        ("knee", "knee-pain", "knee-osteoarthritis"),
        ("hip", "hip-pain", "hip-osteoarthritis"),
        ("shoulder", "shoulder-pain", "shoulder-pain"),
        ("back", "back-pain", "back-pain"),
        ("wrist", "wrist-pain", "wrist-pain"),
    ];
    for (joint, reason, item) in joints {
        add(
            record.present(item) || usual(record, reason) || sore(record, joint),
            reason,
        );
    }
    add(
        any_present(record, &["osteoporosis", "vertebral-fracture"]),
        "osteoporosis",
    );
    add(record.present("foot-neuropathy"), "foot-neuropathy");
    add(
        record.present("peripheral-arterial-disease"),
        "claudication",
    );
    add(record.present("low-vision"), "low-vision");
    add(record.present("vertigo"), "vertigo");
    add(poor_balance(record), "poor-balance");
    add(pressure_falls(record), "orthostatic-hypotension");
    let pressure = record.pressure("resting_bp_mmhg");
    add(
        pressure.is_some_and(|(up, down)| up >= 160.0 || down >= 100.0),
        "high-pressure",
    );
    add(word(&limits["risk"], "class") == "high", "high-risk");
    add_healing(record, &mut all);
    all
}

/// What heals: the breastbone 12 weeks, the arm beside a device 6, a new hip 12.
/// Sources: `sternal-precautions`, `device-arm-survey`, `hip-precautions`.
fn add_healing(record: &Record<'_>, all: &mut Vec<Holds>) {
    let mut heals = |since: Since, weeks: f64, reasons: &[&'static str]| {
        if since.within_weeks(weeks) {
            all.extend(reasons.iter().map(|reason| Holds { reason, since }));
        }
    };
    heals(record.breastbone(), 12.0, &["sternotomy"]);
    heals(record.implant(), 6.0, &["device-arm"]);
    if record.present("hip-replacement") {
        let day = &record.case["history"]["since"]["hip-replacement"];
        let since = record.days_since(day).map_or(Since::Unknown, Since::Days);
        let reasons = [
            "hip-replacement",
            "hip-flexion",
            "hip-adduction",
            "hip-pivot",
        ];
        heals(since, 12.0, &reasons);
    }
}

fn usual(record: &Record<'_>, kind: &str) -> bool {
    list(record.case, "usual_symptom")
        .iter()
        .any(|one| word(one, "kind") == kind)
}

/// Whether the newest report of a joint says that it hurts.
fn sore(record: &Record<'_>, joint: &str) -> bool {
    list(record.case, "pain")
        .iter()
        .filter(|one| word(one, "joint") == joint)
        .map(|one| (record.days_since(&one["date"]).unwrap_or(i64::MAX), one))
        .filter(|(days, _)| *days >= 0)
        .min_by_key(|(days, _)| *days)
        .is_some_and(|(_, one)| {
            number(one, "during") != Some(0.0) || one["worse_next_morning"].as_bool() == Some(true)
        })
}

fn poor_balance(record: &Record<'_>) -> bool {
    let function = &record.case["function"];
    has_word(&record.case["history"]["present"], "poor-balance")
        || word(function, "aid") == "frame"
        || number(function, "falls_12_months").is_some_and(|falls| falls >= 2.0)
}

//! Whether this person may exercise today, and what must be known before anything is signed.

use super::record::{Record, has_word};
use super::{Faults, list, number, word};
use serde_json::Value;

/// Absolute contraindications by their words in the history. Source: `heart-fail-rev-2023`, table 1; an unstable
/// breastbone is our default.
const ABSOLUTE: &[&str] = &[
    "unstable-angina",
    "decompensated-heart-failure",
    "worsening-tolerance",
    "ischaemia-at-low-load",
    "thrombophlebitis",
    "recent-embolism",
    "endocarditis",
    "myocarditis-or-pericarditis",
    "aortic-dissection",
    "severe-aortic-stenosis",
    "acute-illness",
    "uncontrolled-arrhythmia",
    "new-atrial-fibrillation",
    "unpaced-third-degree-block",
    "uncontrolled-diabetes",
    "sternum-unstable",
];

/// Those that nothing else in a record can answer: a question left open waits for its answer.
const ONLY_BY_ASKING: &[&str] = &[
    "unstable-angina",
    "worsening-tolerance",
    "ischaemia-at-low-load",
    "thrombophlebitis",
    "recent-embolism",
    "endocarditis",
    "myocarditis-or-pericarditis",
    "aortic-dissection",
    "severe-aortic-stenosis",
    "uncontrolled-arrhythmia",
];

/// Symptoms that hold a session whoever has them: none of these is ever usual.
const RED: &[&str] = &[
    "chest-pain-at-rest",
    "changed-angina",
    "new-breathlessness",
    "faint",
    "fever",
    "unwell",
    "device-shock",
];

pub(super) fn check(record: &Record<'_>, limits: &Value, faults: &mut Faults) {
    let exercise = word(&limits["screening"], "decision") == "exercise";
    let blocked = limits["signing_blocked"].as_bool() == Some(true);
    let mut forbids = |found: bool, rule: &'static str, what: &str| {
        faults.expect(!(found && exercise), rule, || {
            format!("exercise in spite of {what}")
        });
    };
    for item in ABSOLUTE {
        forbids(record.present(item), "today/absolute", item);
    }
    for what in super::readings::held(record) {
        forbids(true, "today/reading", what);
    }
    forbids(
        super::readings::infarction_too_near(record),
        "today/infarction",
        "an infarction so near",
    );
    for symptom in RED {
        forbids(record.reports(symptom), "today/symptom", symptom);
    }
    // An irregular pulse holds where it is new; in a known fibrillation or flutter it is not.
    let new = record.reports("irregular-pulse") && !fibrillates(record);
    forbids(new, "today/symptom", "a new irregular pulse");
    forbids(
        not_examined(record),
        "today/examined",
        "no examination that counts",
    );
    let status = word(&record.case["status"], "kind");
    let stands = matches!(status, "" | "referred" | "active");
    forbids(!stands, "today/status", status);
    let class_iv = record
        .examinations()
        .into_iter()
        .find_map(|one| number(one, "nyha"))
        == Some(4.0);
    forbids(class_iv, "today/class-iv", "functional class IV");
    let class = word(&limits["risk"], "class");
    let home = record.settings.class(class).home.as_str();
    let open = home == "yes" || (home == "after-agreement" && agreed(record));
    forbids(
        !open,
        "today/agreement",
        "a class of risk that the service lets not exercise at home",
    );
    for item in ONLY_BY_ASKING {
        let open = !record.present(item) && !record.absent(item);
        faults.expect(!open || blocked, "signing/unanswered", || {
            format!("{item} was not answered and signing is open")
        });
    }
    let device_open = record.defibrillator() == Some(None);
    let ceiling = &limits["limits"]["hr_ceiling"];
    // Of the ceilings only one below a known ischaemic rate may stay beside it.
    let ischaemic =
        super::pulse::ischaemic_rate(record).map(|rate| rate - record.settings.under_ischaemia);
    let no_looser = match (ceiling.as_f64(), ischaemic) {
        (None, None) => true,
        (Some(rate), Some(most)) => rate <= most,
        _ => false,
    };
    let held = blocked && no_looser && limits["limits"]["hr"].is_null();
    faults.expect(!device_open || held, "signing/device-rate", || {
        format!("a defibrillator without its rate: ceiling {ceiling}, blocked {blocked}")
    });
}

pub(super) fn fibrillates(record: &Record<'_>) -> bool {
    let rhythm = word(&record.case["heart"], "rhythm");
    matches!(rhythm, "atrial-fibrillation" | "atrial-flutter")
}

/// Without a known rhythm the pulse proves nothing, however regular it was felt to be.
pub(super) fn rhythm_open(record: &Record<'_>) -> bool {
    record.case["heart"]["rhythm"].is_null()
}

/// Whether the newest examination is missing, too old, or older than the newest event. Without pulse and pressure it is none.
fn not_examined(record: &Record<'_>) -> bool {
    let taken =
        |one: &&Value| !one["resting_hr_bpm"].is_null() || !one["resting_bp_mmhg"].is_null();
    let newest = record.examinations().into_iter().find(taken);
    let Some(days) = newest.and_then(|one| record.days_since(&one["date"])) else {
        return true;
    };
    days > record.settings.valid_days || record.newest_event().is_some_and(|event| event < days)
}

pub(super) fn agreed(record: &Record<'_>) -> bool {
    let days = record.days_since(&record.case["agreement"]["date"]);
    days.is_some_and(|days| days >= 0 && record.newest_event().is_none_or(|event| event >= days))
}

/// Whether a person is surely in need of slow changes of posture: pressure was seen to be low or to fall.
pub(super) fn pressure_falls(record: &Record<'_>) -> bool {
    let resting = record.pressure("resting_bp_mmhg");
    let standing = record.pressure("standing_bp_mmhg");
    let falls = resting
        .zip(standing)
        .is_some_and(|(down, up)| down.0 - up.0 >= 20.0 || down.1 - up.1 >= 10.0);
    record.present("orthostatic-hypotension")
        || record.reports("dizziness-on-standing")
        || falls
        || resting.is_some_and(|pressure| pressure.0 < 100.0)
        || record.pressure_answers().contains(&"fall-after")
}

/// Whether a watched way of exercising was done well since the newest event, at an effort not above the band.
pub(super) fn watched_well(
    record: &Record<'_>,
    limits: &Value,
    exercise: &str,
    variant: &str,
) -> bool {
    let effort = &limits["limits"]["effort"];
    let event = record.newest_event();
    let newest = list(record.case, "watched")
        .iter()
        .filter(|one| word(one, "exercise") == exercise && word(one, "variant") == variant)
        .filter_map(|one| Some((record.days_since(&one["date"])?, one)))
        .filter(|(days, _)| *days >= 0)
        .min_by_key(|(days, _)| *days);
    newest.is_some_and(|(days, one)| {
        let felt = &one["effort"];
        word(one, "technique") == "good"
            && event.is_none_or(|event| event >= days)
            && felt["scale"] == effort["scale"]
            && number(felt, "value") <= number(effort, "high")
            && number(felt, "value").is_some()
    })
}

/// Whether the record names any of these conditions as present.
pub(super) fn any_present(record: &Record<'_>, items: &[&str]) -> bool {
    items
        .iter()
        .any(|item| has_word(&record.case["history"]["present"], item))
}

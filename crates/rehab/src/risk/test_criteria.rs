//! The criteria that only a symptom-limited exercise test answers.
//!
//! The newest test that answers decides, of two of one day the one that speaks against the person. What speaks against the person counts from any test; only a test since the
//! newest event can say that nothing was found.

use super::Asked;
use super::criteria::{CriterionRule, TABLE_SOURCES, answer_of};
use crate::assessed::{Met, RiskClass};
use crate::assessment::{ExerciseTest, PressureResponse};
use crate::evidence::{Finding, Input, Rule, RuleId, SourceId, Tag, Weight};
use crate::inputs::{answer_word, or_not_known};
use crate::known::Known;
use crate::recovery::ONE_MINUTE_ABNORMAL_BPM;

// Source: aacvpr-guidelines (recalled): symptoms under 5 METs, ST depression of 2 mm.
const LOW_EXERTION_METS: f64 = 5.0;
const HIGH_LEVEL_ST_MM: f64 = 2.0;
// Source: aacvpr-risk-table.
const CAPACITY_MODERATE_METS: f64 = 5.0;
const CAPACITY_LOW_RISK_METS: f64 = 7.0;

const WITH_BOOKS: &[SourceId] = &[
    SourceId("aacvpr-risk-table"),
    SourceId("thow-2006"),
    SourceId("aacvpr-guidelines"),
];

/// What the tests of a record say: the newest that answers decides, an undated finding always counts, and only a
/// test since the newest event can say no.
fn from_tests(known: &Known, answers: fn(&ExerciseTest) -> Option<bool>) -> Met {
    let tests = known.exercise_tests();
    let undated_found = tests
        .iter()
        .any(|(test, exercise)| test.date.is_none() && answers(exercise) == Some(true));
    if undated_found {
        return Met::Met;
    }
    for (test, exercise) in &tests {
        // Which of two tests of one day came later is not known: what speaks against the person counts.
        let found_that_day = tests
            .iter()
            .any(|(other, found)| other.date == test.date && answers(found) == Some(true));
        match answers(exercise).map(|found| found || found_that_day) {
            Some(true) => return Met::Met,
            Some(false) if known.since_newest_event(test) => return Met::NotMet,
            Some(false) => return Met::NotKnown,
            None => {}
        }
    }
    Met::NotKnown
}

fn arrhythmia(test: &ExerciseTest) -> Option<bool> {
    test.arrhythmia
}

/// Whether a symptom came at low exertion or in recovery; `None` when its load or recovery is not recorded.
fn symptoms_low(test: &ExerciseTest) -> Option<bool> {
    if test.symptom_in_recovery == Some(true) {
        return Some(true);
    }
    if test.symptoms.as_ref()?.is_empty() {
        return Some(false);
    }
    let low = test.symptom_mets? < LOW_EXERTION_METS;
    if low {
        return Some(true);
    }
    test.symptom_in_recovery
}

/// Whether any symptom came at all.
fn symptoms_any(test: &ExerciseTest) -> Option<bool> {
    let any = !test.symptoms.as_ref()?.is_empty();
    Some(any || test.symptom_in_recovery == Some(true))
}

fn ischaemia_high(test: &ExerciseTest) -> Option<bool> {
    test.st_depression_mm.map(|mm| mm >= HIGH_LEVEL_ST_MM)
}

fn ischaemia_any(test: &ExerciseTest) -> Option<bool> {
    match (test.st_depression_mm, test.ischaemia_hr_bpm) {
        (_, Some(_)) => Some(true),
        (Some(mm), None) => Some(mm > 0.0),
        (None, None) => None,
    }
}

/// Whether pressure or heart rate answered abnormally. A normal pressure with a recorded peak rate and no word of
/// chronotropic incompetence counts as normal: reports name what they find. A fall of the rate in the first minute that
/// would be abnormal after the upright cool-down of its source leaves it open: how the test ended is not recorded.
fn haemodynamics(test: &ExerciseTest) -> Option<bool> {
    let slow_fall = test
        .hr_recovery_1min_bpm
        .is_some_and(|fall| fall <= ONE_MINUTE_ABNORMAL_BPM);
    match pressure_and_rate(test) {
        Some(false) if slow_fall => None,
        other => other,
    }
}

fn pressure_and_rate(test: &ExerciseTest) -> Option<bool> {
    let pressure = test
        .bp_response
        .map(|response| response != PressureResponse::Normal);
    match (pressure, test.chronotropic_incompetence) {
        (Some(true), _) | (_, Some(true)) => Some(true),
        (Some(false), Some(false)) => Some(false),
        (Some(false), None) if test.peak_hr_bpm.is_some() => Some(false),
        _ => None,
    }
}

fn capacity_under_five(test: &ExerciseTest) -> Option<bool> {
    test.peak_mets.map(|mets| mets < CAPACITY_MODERATE_METS)
}

/// The newest measured capacity that counts as it is now; of several of one day the lowest.
fn capacity_seven(known: &Known) -> Met {
    let tests = known.exercise_tests();
    let newest = tests.iter().find(|(_, one)| one.peak_mets.is_some());
    let Some((test, _)) = newest else {
        return Met::NotKnown;
    };
    let of_that_day = tests.iter().filter(|(other, _)| other.date == test.date);
    let mets = of_that_day
        .filter_map(|(_, one)| one.peak_mets)
        .fold(f64::INFINITY, f64::min);
    match (
        mets >= CAPACITY_LOW_RISK_METS,
        known.since_newest_event(test),
    ) {
        (false, _) => Met::NotMet,
        (true, true) => Met::Met,
        (true, false) => Met::NotKnown,
    }
}

fn words(known: &Known, what: &str, state: Met) -> String {
    match state {
        Met::Met => what.to_owned(),
        Met::NotMet => format!("no {what}"),
        Met::NotKnown if known.exercise_tests().is_empty() => format!("{what}: no exercise test"),
        Met::NotKnown => format!("{what}: the exercise test since the event does not say"),
    }
}

const fn rule(
    id: &'static str,
    name: &'static str,
    statement: &'static str,
    inputs: &'static [Input],
    evaluate: fn(
        &crate::evidence::Values,
    ) -> Result<crate::evidence::Answer, crate::evidence::RuleError>,
) -> Rule {
    Rule {
        id: RuleId(id),
        name,
        statement,
        sources: WITH_BOOKS,
        tag: Tag::Recalled,
        inputs,
        evaluate,
    }
}

const fn read(mut rule: Rule) -> Rule {
    rule.sources = TABLE_SOURCES;
    rule.tag = Tag::Read;
    rule
}

fn met(found: Option<bool>) -> Met {
    match found {
        Some(true) => Met::Met,
        Some(false) => Met::NotMet,
        None => Met::NotKnown,
    }
}

const FOUND: &[Input] = &[Input::flag("found").or_none()];
const MM: &[Input] = &[Input::number("st_depression_mm", "mm", 0.0, 10.0).or_none()];
const METS: &[Input] = &[Input::number("peak_mets", "METs", 1.0, 25.0).or_none()];

fn evaluate_found(
    values: &crate::evidence::Values,
) -> Result<crate::evidence::Answer, crate::evidence::RuleError> {
    let found = values.optional_text("found").map(|word| word == "yes");
    answer_of(met(found), format!("found: {}", answer_word(found)))
}

macro_rules! judged {
    ($answers:ident, $words:literal) => {
        |known| {
            let state = from_tests(known, $answers);
            (state, words(known, $words, state))
        }
    };
}

/// The table.
pub(super) const TABLE: &[CriterionRule] = &[
    CriterionRule {
        // Departure: one printing of the table sets complex ventricular arrhythmia under moderate as well; it is high.
        rule: read(rule(
            "risk/test-arrhythmia",
            "Complex ventricular arrhythmia in test or recovery",
            "Any complex ventricular arrhythmia in test or recovery puts the risk high (one printing of the table also \
             sets it under moderate, a slip of transcription).",
            FOUND,
            evaluate_found,
        )),
        class: RiskClass::High,
        asked_of: Asked::WithTheTest,
        question: "",
        judge: judged!(
            arrhythmia,
            "complex ventricular arrhythmia in the exercise test"
        ),
    },
    CriterionRule {
        rule: rule(
            "risk/test-symptoms-low-exertion",
            "Symptoms at low exertion or in recovery",
            "Angina, unusual breathlessness or dizziness at low exertion (under 5 METs, recalled) or in recovery puts \
             the risk high.",
            &[
                Input::number("symptom_mets", "METs", 1.0, 25.0).or_none(),
                Input::flag("in_recovery").or_none(),
            ],
            |values| {
                let mets = values.optional_number("symptom_mets");
                let recovery = values
                    .optional_text("in_recovery")
                    .map(|word| word == "yes");
                let low = mets.map(|mets| mets < LOW_EXERTION_METS);
                let state = match (low, recovery) {
                    (Some(true), _) | (_, Some(true)) => Met::Met,
                    (Some(false), Some(false)) => Met::NotMet,
                    _ => Met::NotKnown,
                };
                answer_of(
                    state,
                    format!(
                        "{} against 5, in recovery: {}",
                        or_not_known(mets, "METs"),
                        answer_word(recovery)
                    ),
                )
            },
        ),
        class: RiskClass::High,
        asked_of: Asked::WithTheTest,
        question: "",
        judge: judged!(symptoms_low, "symptoms at low exertion or in recovery"),
    },
    CriterionRule {
        rule: rule(
            "risk/test-ischaemia-high-level",
            "High-level ischaemia",
            "ST depression of 2 mm or more (recalled) puts the risk high.",
            MM,
            |values| {
                let mm = values.optional_number("st_depression_mm");
                answer_of(
                    met(mm.map(|mm| mm >= HIGH_LEVEL_ST_MM)),
                    format!("{} against 2", or_not_known(mm, "mm")),
                )
            },
        ),
        class: RiskClass::High,
        asked_of: Asked::WithTheTest,
        question: "",
        judge: judged!(ischaemia_high, "ST depression of 2 mm or more"),
    },
    CriterionRule {
        rule: rule(
            "risk/test-haemodynamics",
            "Abnormal answer of pressure or heart rate",
            "Chronotropic incompetence, systolic pressure that stays flat or falls with load, or severely low pressure \
             after exercise (details recalled) puts the risk high. A fall of the rate of 12 or less in the first minute leaves it open, because the cut-off \
             belongs to one cool-down.",
            FOUND,
            evaluate_found,
        ),
        class: RiskClass::High,
        asked_of: Asked::WithTheTest,
        question: "",
        judge: judged!(haemodynamics, "abnormal answer of pressure or heart rate"),
    },
    CriterionRule {
        rule: rule(
            "risk/test-symptoms",
            "Symptoms only at higher exertion",
            "Angina or other symptoms at higher exertion (7 METs or more, recalled) put the risk moderate; between 5 and \
             7 METs it is moderate because low is not met.",
            FOUND,
            evaluate_found,
        ),
        class: RiskClass::Moderate,
        asked_of: Asked::WithTheTest,
        question: "",
        judge: judged!(symptoms_any, "symptoms in the exercise test"),
    },
    CriterionRule {
        rule: rule(
            "risk/test-ischaemia",
            "Mild to moderate ischaemia",
            "Any ST depression under 2 mm (recalled) puts the risk moderate.",
            MM,
            |values| {
                let mm = values.optional_number("st_depression_mm");
                answer_of(
                    met(mm.map(|mm| mm > 0.0)),
                    format!("{} against 0", or_not_known(mm, "mm")),
                )
            },
        ),
        class: RiskClass::Moderate,
        asked_of: Asked::WithTheTest,
        question: "",
        judge: judged!(ischaemia_any, "ischaemia in the exercise test"),
    },
    CriterionRule {
        rule: read(rule(
            "risk/capacity-under-5",
            "Measured capacity under 5 METs",
            "A measured capacity under 5 METs puts the risk moderate.",
            METS,
            |values| {
                let mets = values.optional_number("peak_mets");
                answer_of(
                    met(mets.map(|mets| mets < CAPACITY_MODERATE_METS)),
                    format!("{} against 5", or_not_known(mets, "METs")),
                )
            },
        )),
        class: RiskClass::Moderate,
        asked_of: Asked::WithTheTest,
        question: "",
        judge: judged!(capacity_under_five, "measured capacity under 5 METs"),
    },
    CriterionRule {
        rule: read(rule(
            "risk/capacity-7",
            "Measured capacity of 7 METs or more",
            "Low needs a measured capacity of 7 METs or more; an estimate never proves it (our default).",
            METS,
            |values| {
                let mets = values.optional_number("peak_mets");
                answer_of(
                    met(mets.map(|mets| mets >= CAPACITY_LOW_RISK_METS)),
                    format!("{} against 7", or_not_known(mets, "METs")),
                )
            },
        )),
        class: RiskClass::Low,
        asked_of: Asked::WithTheTest,
        question: "",
        judge: |known| {
            let state = capacity_seven(known);
            (
                state,
                words(known, "measured capacity of 7 METs or more", state),
            )
        },
    },
];

/// The one question that stands for all criteria of the test.
pub(super) fn no_test() -> Finding {
    TABLE[TABLE.len() - 1]
        .rule
        .finding(
            Weight::FindOut,
            "Was there an exercise test since the event? Without one low risk cannot be proved",
        )
        .asking("the doctor", "")
}

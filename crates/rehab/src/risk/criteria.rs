//! The criteria that need no exercise test.

use super::Asked;
use crate::assessed::{Met, RiskClass};
use crate::assessment::{Answered, HistoryItem, ProcedureKind};
use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::or_not_known;
use crate::known::Known;

/// One criterion: its rule, the class it speaks for, and how the record answers it.
#[derive(Clone, Copy, Debug)]
pub(super) struct CriterionRule {
    pub(super) rule: Rule,
    pub(super) class: RiskClass,
    pub(super) asked_of: Asked,
    /// What is asked while it is not known.
    pub(super) question: &'static str,
    pub(super) judge: fn(&Known) -> (Met, String),
}

pub(super) const TABLE_SOURCES: &[SourceId] =
    &[SourceId("aacvpr-risk-table"), SourceId("thow-2006")];
const BOOKS: &[SourceId] = &[SourceId("aacvpr-guidelines")];

// Source: aacvpr-risk-table.
const EJECTION_FRACTION_HIGH_RISK_PCT: f64 = 40.0;
const EJECTION_FRACTION_LOW_RISK_PCT: f64 = 50.0;

const EJECTION_FRACTION: &[Input] =
    &[Input::number("ejection_fraction_pct", "per cent", 5.0, 85.0).or_none()];
const ANSWER: &[Input] = &[Input::choice("answer", &["present", "absent", "not known"])];

/// The answer of a criterion as a rule answers it.
pub(super) fn answer_of(state: Met, working: String) -> Result<Answer, RuleError> {
    Ok(Answer::new(Value::Text(state.word().to_owned()), working))
}

const fn state_of(answer: Answered) -> Met {
    match answer {
        Answered::Present => Met::Met,
        Answered::Absent => Met::NotMet,
        Answered::NotKnown => Met::NotKnown,
    }
}

fn evaluate_answer(values: &Values) -> Result<Answer, RuleError> {
    let word = values.text("answer")?;
    let answer = Answered::parse(word).map_err(|unknown| RuleError {
        message: unknown.to_string(),
    })?;
    answer_of(state_of(answer), word.to_owned())
}

fn fraction_low(fraction: Option<f64>) -> Met {
    match fraction {
        Some(pct) if pct < EJECTION_FRACTION_HIGH_RISK_PCT => Met::Met,
        Some(_) => Met::NotMet,
        None => Met::NotKnown,
    }
}

fn fraction_middling(fraction: Option<f64>) -> Met {
    match fraction {
        Some(pct)
            if (EJECTION_FRACTION_HIGH_RISK_PCT..EJECTION_FRACTION_LOW_RISK_PCT).contains(&pct) =>
        {
            Met::Met
        }
        Some(_) => Met::NotMet,
        None => Met::NotKnown,
    }
}

fn fraction_words(known: &Known) -> String {
    match known.case.heart.ejection_fraction_pct {
        Some(pct) => format!("ejection fraction {pct} per cent"),
        None => "ejection fraction not known".to_owned(),
    }
}

fn history(known: &Known, item: HistoryItem, name: &str) -> (Met, String) {
    let answer = known.answer(item);
    (state_of(answer), format!("{name}: {answer}"))
}

macro_rules! history_criterion {
    ($id:literal, $item:ident, $name:literal, $words:literal) => {
        CriterionRule {
            rule: Rule {
                id: RuleId($id),
                name: $name,
                statement: concat!(
                    $name,
                    " puts the risk high; low needs it known to be absent."
                ),
                sources: TABLE_SOURCES,
                tag: Tag::Read,
                inputs: ANSWER,
                evaluate: evaluate_answer,
            },
            class: RiskClass::High,
            asked_of: Asked::Doctor,
            question: concat!("Is it known: ", $words, "? Not answered yet"),
            judge: |known| history(known, HistoryItem::$item, $words),
        }
    };
}

/// The table.
pub(super) const TABLE: &[CriterionRule] = &[
    CriterionRule {
        rule: Rule {
            id: RuleId("risk/ejection-fraction-under-40"),
            name: "Ejection fraction under 40 per cent",
            statement: "An ejection fraction under 40 per cent puts the risk high.",
            sources: TABLE_SOURCES,
            tag: Tag::Read,
            inputs: EJECTION_FRACTION,
            evaluate: |values| {
                let fraction = values.optional_number("ejection_fraction_pct");
                let read = or_not_known(fraction, "per cent");
                answer_of(fraction_low(fraction), format!("{read} against 40"))
            },
        },
        class: RiskClass::High,
        asked_of: Asked::Doctor,
        question: "What is the ejection fraction? It is not recorded",
        judge: |known| {
            let state = fraction_low(known.case.heart.ejection_fraction_pct);
            (state, fraction_words(known))
        },
    },
    CriterionRule {
        rule: Rule {
            id: RuleId("risk/ejection-fraction-40-to-49"),
            name: "Ejection fraction 40 to 49 per cent",
            statement: "An ejection fraction from 40 to under 50 per cent puts the risk moderate; low needs 50 or more.",
            sources: TABLE_SOURCES,
            tag: Tag::Read,
            inputs: EJECTION_FRACTION,
            evaluate: |values| {
                let fraction = values.optional_number("ejection_fraction_pct");
                let read = or_not_known(fraction, "per cent");
                answer_of(
                    fraction_middling(fraction),
                    format!("{read} against 40 to 50"),
                )
            },
        },
        class: RiskClass::Moderate,
        asked_of: Asked::WithTheTest,
        question: "",
        judge: |known| {
            let state = fraction_middling(known.case.heart.ejection_fraction_pct);
            (state, fraction_words(known))
        },
    },
    CriterionRule {
        rule: Rule {
            id: RuleId("risk/complicated-event"),
            name: "A complicated event or procedure",
            statement: "A complicated infarction or revascularisation puts the risk high. Every recorded event \
                        counts (our default).",
            sources: TABLE_SOURCES,
            tag: Tag::Read,
            inputs: ANSWER,
            evaluate: evaluate_answer,
        },
        class: RiskClass::High,
        asked_of: Asked::Doctor,
        question: "Was the course of the event complicated? Not answered yet",
        judge: complicated,
    },
    history_criterion!(
        "risk/cardiac-arrest",
        CardiacArrest,
        "Cardiac arrest",
        "cardiac arrest"
    ),
    history_criterion!(
        "risk/complex-arrhythmia-at-rest",
        ComplexArrhythmia,
        "Complex ventricular arrhythmia at rest",
        "complex ventricular arrhythmia"
    ),
    history_criterion!(
        "risk/heart-failure",
        HeartFailure,
        "Heart failure",
        "heart failure"
    ),
    history_criterion!(
        "risk/post-event-ischaemia",
        PostEventIschaemia,
        "Ischaemia after the event",
        "ischaemia after the event"
    ),
    history_criterion!(
        "risk/clinical-depression",
        ClinicalDepression,
        "Clinical depression",
        "clinical depression"
    ),
    CriterionRule {
        rule: Rule {
            id: RuleId("risk/implanted-defibrillator"),
            name: "An implanted defibrillator",
            statement: "An implanted defibrillator puts the risk high (lists of 2012 and later, recalled). A record with \
                        events and without any implant counts as without one.",
            sources: BOOKS,
            tag: Tag::Recalled,
            inputs: ANSWER,
            evaluate: evaluate_answer,
        },
        class: RiskClass::High,
        asked_of: Asked::Doctor,
        question: "Is there an implanted defibrillator? No event is recorded yet",
        judge: defibrillator,
    },
];

fn defibrillator(known: &Known) -> (Met, String) {
    let by_procedure = known
        .events()
        .flat_map(|event| &event.procedures)
        .any(|procedure| procedure.kind == ProcedureKind::Icd);
    if known.case.heart.device.is_some() || by_procedure {
        (Met::Met, "an implanted defibrillator".to_owned())
    } else if known.device_unnamed() {
        (
            Met::NotKnown,
            "a device was implanted, and which one is not recorded".to_owned(),
        )
    } else if known.events().next().is_some() {
        (Met::NotMet, "no defibrillator recorded".to_owned())
    } else {
        (
            Met::NotKnown,
            "no event recorded, so no word on a defibrillator".to_owned(),
        )
    }
}

fn complicated(known: &Known) -> (Met, String) {
    let mut state = None;
    for event in known.events() {
        state = Some(match (state, event.complicated) {
            (Some(Met::Met), _) | (_, Some(true)) => Met::Met,
            (Some(Met::NotKnown), _) | (_, None) => Met::NotKnown,
            (_, Some(false)) => Met::NotMet,
        });
    }
    let state = state.unwrap_or(Met::NotKnown);
    let words = match state {
        Met::Met => "a complicated course",
        Met::NotMet => "an uncomplicated course",
        Met::NotKnown => "whether the course was complicated is not known",
    };
    (state, words.to_owned())
}

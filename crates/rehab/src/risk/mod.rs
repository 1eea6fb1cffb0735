//! Risk class: each criterion met, not met or not known; only what is known can prove low.
//!
//! High when any high criterion is met; low when every low one holds and nothing is unknown; everything else is
//! moderate. A class that something still unknown could change is provisional.

mod criteria;
mod other_tools;
mod test_criteria;

use crate::assessed::{Criterion, Met, Risk, RiskClass};
use crate::evidence::{
    Answer, Because, Finding, Input, Named, Rule, RuleError, RuleId, SourceId, Tag, Value, Weight,
};
use crate::inputs::refuse;
use crate::known::Known;
use criteria::CriterionRule;

const SOURCES: &[SourceId] = &[
    SourceId("aacvpr-risk-table"),
    SourceId("thow-2006"),
    SourceId("risk-ours"),
];

const STATES: &[&str] = &["met", "not met", "not known"];

const CLASS: Rule = Rule {
    id: RuleId("risk/class"),
    name: "Risk class",
    statement: "High: any one high criterion met. Low: every criterion known, none of them met, and 7 METs or more \
                measured. Everything else: moderate, so 5.0 to 6.9 METs with all else low is moderate. Provisional \
                where something not known could change the class (our default).",
    sources: SOURCES,
    tag: Tag::Ours,
    inputs: &[
        Input::choice("any_high", STATES),
        Input::choice("any_moderate", STATES),
        Input::choice("seven_mets_measured", STATES),
    ],
    evaluate: |values| {
        let state = |name| match Met::parse(values.text(name)?) {
            Ok(state) => Ok(state),
            Err(unknown) => refuse::<Met>(unknown.to_string()),
        };
        let (class, provisional) = class_of(Gathered {
            high: state("any_high")?,
            moderate: state("any_moderate")?,
            low: state("seven_mets_measured")?,
        });
        let word = if provisional { ", provisional" } else { "" };
        Ok::<Answer, RuleError>(Answer::new(
            Value::Text(class.word().to_owned()),
            format!("{class}{word}"),
        ))
    },
};

/// Every rule of this module.
pub(crate) fn rules() -> impl Iterator<Item = &'static Rule> {
    [&CLASS]
        .into_iter()
        .chain(criteria::TABLE.iter().map(|one| &one.rule))
        .chain(test_criteria::TABLE.iter().map(|one| &one.rule))
        .chain(other_tools::RULES)
}

/// The state of all criteria of each class together.
#[derive(Clone, Copy, Debug)]
struct Gathered {
    /// Met when any high criterion is, else not known when any is not known.
    high: Met,
    /// The same for moderate.
    moderate: Met,
    /// Whether 7 METs or more were measured.
    low: Met,
}

/// The class, and whether something not known could change it.
const fn class_of(gathered: Gathered) -> (RiskClass, bool) {
    match (gathered.high, gathered.moderate, gathered.low) {
        (Met::Met, _, _) => (RiskClass::High, false),
        (Met::NotMet, Met::NotMet, Met::Met) => (RiskClass::Low, false),
        (Met::NotKnown, _, _) => (RiskClass::Moderate, true),
        // Nothing can make it high any more; it may still turn out low.
        (Met::NotMet, Met::NotKnown, Met::Met | Met::NotKnown)
        | (Met::NotMet, Met::NotMet, Met::NotKnown) => (RiskClass::Moderate, true),
        (Met::NotMet, _, _) => (RiskClass::Moderate, false),
    }
}

fn gather(criteria: &[Criterion], class: RiskClass) -> Met {
    let mut state = Met::NotMet;
    for criterion in criteria.iter().filter(|one| one.class == class) {
        match criterion.state {
            Met::Met => return Met::Met,
            Met::NotKnown => state = Met::NotKnown,
            Met::NotMet => {}
        }
    }
    state
}

/// Risk with what is still to find out for it.
pub(crate) struct Stratified {
    pub(crate) risk: Risk,
    pub(crate) questions: Vec<Finding>,
}

/// The risk class of the record on its day.
pub(crate) fn stratify(known: &Known) -> Stratified {
    let mut criteria = Vec::new();
    let mut questions = Vec::new();
    for one in test_criteria::TABLE.iter().chain(criteria::TABLE) {
        let (state, text) = (one.judge)(known);
        if state == Met::NotKnown && one.asked_of != Asked::WithTheTest {
            questions.push(question(one));
        }
        criteria.push(Criterion {
            rule: one.rule.id,
            class: one.class,
            state,
            text,
            sources: one.rule.sources.to_vec(),
        });
    }
    if known.exercise_tests().is_empty() {
        questions.push(test_criteria::no_test());
    }
    let gathered = Gathered {
        high: gather(&criteria, RiskClass::High),
        moderate: gather(&criteria, RiskClass::Moderate),
        low: gather(&criteria, RiskClass::Low),
    };
    let (class, provisional) = class_of(gathered);
    let because = explain(class, provisional, gathered, &criteria);
    Stratified {
        risk: Risk {
            class,
            provisional,
            criteria,
            because,
        },
        questions,
    }
}

/// Whom a criterion is asked of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Asked {
    /// The doctor's letter.
    Doctor,
    /// The exercise test that is asked for as a whole.
    WithTheTest,
}

fn question(one: &CriterionRule) -> Finding {
    one.rule
        .finding(Weight::FindOut, one.question)
        .asking("the doctor's letter", "")
}

fn explain(
    class: RiskClass,
    provisional: bool,
    gathered: Gathered,
    criteria: &[Criterion],
) -> Because {
    let of = |state: Met| {
        criteria
            .iter()
            .filter(move |one| one.state == state)
            .collect::<Vec<_>>()
    };
    let speaking: Vec<&str> = of(Met::Met)
        .into_iter()
        .filter(|one| one.class == class)
        .map(|one| one.text.as_str())
        .collect();
    let unknown = of(Met::NotKnown).len();
    let mut text = match class {
        RiskClass::High => format!("High: {}.", speaking.join("; ")),
        RiskClass::Low => "Low: every criterion is known and none speaks against it.".to_owned(),
        RiskClass::Moderate if speaking.is_empty() => {
            "Moderate: nothing speaks for high, and low is not proved.".to_owned()
        }
        RiskClass::Moderate => format!("Moderate: {}.", speaking.join("; ")),
    };
    if unknown > 0 {
        text.push_str(&format!(
            " {unknown} of {} criteria are not known; what is not known never counts for low.",
            criteria.len()
        ));
    }
    let mut because = CLASS
        .because(Value::Text(class.word().to_owned()), text)
        .working(format!(
            "any high criterion: {}; any moderate: {}; 7 METs measured: {}",
            gathered.high, gathered.moderate, gathered.low
        ))
        .changes_with("a new event, a test, an answer of the doctor");
    for (name, state) in [
        ("met", Met::Met),
        ("not_met", Met::NotMet),
        ("not_known", Met::NotKnown),
    ] {
        let count = i64::try_from(of(state).len()).unwrap_or(i64::MAX);
        because = because.with(Named::whole(name, count, "criteria"));
    }
    if provisional {
        because = because
            .unsure("provisional: an answer still missing could change the class")
            .changes_with("an exercise test, an echo, the doctor's answers; a new event");
    }
    because
}

#[cfg(test)]
mod tests;

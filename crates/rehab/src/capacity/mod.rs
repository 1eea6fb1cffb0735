//! Capacity: which test says what this person can do, with its error.

use crate::assessed::{Capacity, CapacityEstimate};
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::inputs::PEAK_METS;
use crate::known::Known;
use crate::quantity::Mets;

const MEASURED: Rule = Rule {
    id: RuleId("capacity/exercise-test"),
    name: "Capacity from an exercise test",
    statement: "The peak METs of the newest symptom-limited exercise test since the newest event: measured, it comes \
                before every estimate.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[PEAK_METS],
    evaluate: |values| {
        let mets = values.number("peak_mets")?;
        Ok(Answer::new(
            Value::Number(mets, "METs"),
            format!("measured, {mets}"),
        ))
    },
};

const ORDER: Rule = Rule {
    id: RuleId("capacity/order"),
    name: "Which capacity is used",
    statement: "Exercise test, step test, shuttle walk, six-minute walk, activity questionnaire, in this order; only \
                one taken since the newest event under standard conditions. The others are shown on demand. None: 3.0 \
                METs at most, warm-up rungs only, and which test to do (our default).",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[Input::flag("any")],
    evaluate: |values| {
        let any = values.flag("any")?;
        let word = if any {
            "the first in the order"
        } else {
            "warm-up rungs only"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("any: {any}"),
        ))
    },
};

/// Every rule of this module.
pub(crate) const RULES: &[Rule] = &[ORDER, MEASURED];

/// Capacity with what is still to find out.
pub(crate) struct Measured {
    pub(crate) capacity: Capacity,
    pub(crate) questions: Vec<Finding>,
}

/// Capacity of the record on its day.
pub(crate) fn capacity(known: &Known) -> Measured {
    let mut good = Vec::new();
    let mut others = Vec::new();
    for (test, exercise) in known.exercise_tests() {
        let Some(peak) = exercise.peak_mets else {
            continue;
        };
        let because = MEASURED
            .because(Value::Number(peak, "METs"), "Measured in an exercise test.")
            .with(Named::number("peak_mets", peak, "METs"));
        let mut estimate = CapacityEstimate {
            mets: Mets::of(peak.max(1.0)),
            error_mets: None,
            method: "exercise-test".to_owned(),
            measured: true,
            date: test.date,
            because,
            cautions: Vec::new(),
        };
        if known.since_newest_event(test) {
            good.push(estimate);
        } else {
            estimate.cautions.push(match test.date {
                Some(_) => "from before the newest event: not used".to_owned(),
                None => "its day is not recorded: not used".to_owned(),
            });
            others.push(estimate);
        }
    }
    let mut good = good.into_iter();
    let used = good.next();
    let others: Vec<CapacityEstimate> = good.chain(others).collect();
    let mut questions = Vec::new();
    if used.is_none() {
        questions.push(
            ORDER
                .finding(
                    Weight::FindOut,
                    "What can they do? No test of capacity counts. Do the six-minute walk on a 30 m course, the step \
                     test or the twelve activity questions",
                )
                .asking("measure it at the visit", "anything beyond the warm-up"),
        );
    }
    Measured {
        capacity: Capacity {
            used,
            others,
            findings: Vec::new(),
        },
        questions,
    }
}

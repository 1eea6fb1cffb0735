//! Capacity: which test says what this person can do, with its error, and what the function tests say.

mod estimates;
mod norms;
mod reading;

use crate::assessed::{Capacity, CapacityEstimate};
use crate::assessment::Answered;
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;

const ORDER: Rule = Rule {
    id: RuleId("capacity/order"),
    name: "Which capacity is used",
    statement: "Exercise test, step test, shuttle walk, six-minute walk, activity questionnaire, in this order; only \
                one taken since the newest event under standard conditions; of two exercise tests of one day the lower. A more trusted one that does not count any more \
                may hold the limits lower, never raise them. The others are shown on demand. None: 3.0 METs at most, \
                warm-up rungs only, and which test to do (our default).",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[Input::choice(
        "method",
        &[
            "exercise-test",
            "step",
            "shuttle-walk",
            "six-minute-walk",
            "activity-status",
        ],
    )],
    evaluate: |values| {
        let method = values.text("method")?;
        let place = estimates::ORDER.iter().position(|one| *one == method);
        let place = place.map_or(0, |at| at + 1);
        Ok(Answer::new(
            Value::Whole(i64::try_from(place).unwrap_or(0), "of 5"),
            estimates::ORDER.join(", then "),
        ))
    },
};

/// From this many times another usable number on, the one that is used is asked for once more. Source: `service-ours`.
const APART: f64 = 2.0;

const FAR_APART: Rule = Rule {
    id: RuleId("capacity/far-apart"),
    name: "Capacities that lie far apart",
    statement: "Where the capacity that is used comes to twice another one that counts, or more, it is asked which is right; the order of trust stays (our default).",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("used", "METs", 1.0, 25.0),
        Input::number("other", "METs", 1.0, 25.0),
    ],
    evaluate: |values| {
        let (used, other) = (values.number("used")?, values.number("other")?);
        Ok(Answer::new(
            Value::Flag(used >= APART * other),
            format!("{used} / {other} = {:.2}", used / other),
        ))
    },
};

/// Every rule of this module.
pub(crate) fn rules() -> impl Iterator<Item = &'static Rule> {
    [&ORDER, &FAR_APART, &reading::MEASURED].into_iter()
}

/// Capacity with what is still to find out.
pub(crate) struct Measured {
    pub(crate) capacity: Capacity,
    /// Tests that do not count now but are trusted at least as much as the one used: of each kind the newest ones, back
    /// to the first that was taken under standard conditions. What they found may hold the limits lower, never raise
    /// them, until a test of their kind is taken again.
    pub(crate) holding: Vec<CapacityEstimate>,
    pub(crate) questions: Vec<Finding>,
}

/// Capacity of the record on its day.
pub(crate) fn capacity(known: &Known, rate_slowed: Answered) -> Measured {
    let mut usable: Vec<CapacityEstimate> = Vec::new();
    let mut others: Vec<CapacityEstimate> = Vec::new();
    let mut findings = norms::findings(known);
    let mut questions = Vec::new();
    let mut holding = Vec::new();
    for method in estimates::ORDER {
        let mut newest = true;
        for test in known.tests() {
            if test.result.kind() != *method {
                continue;
            }
            match estimates::estimate(known, test, rate_slowed) {
                estimates::Outcome::Usable(estimate) => {
                    newest = false;
                    usable.push(estimate);
                }
                estimates::Outcome::NotUsed(not_used) => {
                    let same_day = holding.last().is_some_and(|last: &CapacityEstimate| {
                        same_exercise_day(last, &not_used.estimate)
                    });
                    if newest || same_day {
                        holding.push(not_used.estimate.clone());
                    }
                    newest &= !not_used.standard;
                    others.push(not_used.estimate);
                    questions.extend(not_used.asked);
                }
                estimates::Outcome::Nothing(finding) => findings.extend(finding),
            }
        }
    }
    lowest_of_the_day_first(&mut usable);
    let mut usable = usable.into_iter();
    let used = usable.next();
    let beside: Vec<CapacityEstimate> = usable.collect();
    if let Some(used) = &used {
        questions.extend(beside.iter().find_map(|other| far_apart(used, other)));
    }
    let others = beside.into_iter().chain(others).collect();
    if used.is_none() {
        questions.push(no_capacity(known));
    }
    if let Some(used) = &used {
        holding.retain(|one| rank(&one.method) <= rank(&used.method));
    }
    Measured {
        capacity: Capacity {
            used,
            others,
            findings,
        },
        holding,
        questions,
    }
}

/// Whether two numbers are of exercise tests of one day: then it is not known which came later, and the lower counts.
fn same_exercise_day(one: &CapacityEstimate, other: &CapacityEstimate) -> bool {
    one.measured && other.measured && one.date == other.date
}

/// Of exercise tests of one day the lowest comes first; everything else keeps its order.
fn lowest_of_the_day_first(usable: &mut [CapacityEstimate]) {
    usable.sort_by(|one, other| {
        let by_day = rank(&one.method)
            .cmp(&rank(&other.method))
            .then(other.date.cmp(&one.date));
        if same_exercise_day(one, other) {
            by_day.then(one.mets.to_mets().total_cmp(&other.mets.to_mets()))
        } else {
            by_day
        }
    });
}

fn rank(method: &str) -> usize {
    let place = estimates::ORDER.iter().position(|one| *one == method);
    place.unwrap_or(estimates::ORDER.len())
}

/// The question which of two is right, where the one that is used is far higher.
fn far_apart(used: &CapacityEstimate, other: &CapacityEstimate) -> Option<Finding> {
    let (mets, low) = (used.mets.to_mets(), other.mets.to_mets());
    (mets >= APART * low).then(|| {
        let text = format!(
            "Which is right? By the {} they can do {mets:.1} METs, by the {} {low:.1}; the first is used",
            used.method.replace('-', " "),
            other.method.replace('-', " ")
        );
        FAR_APART
            .finding(Weight::FindOut, text)
            .with(Named::number("used", mets, "METs"))
            .with(Named::number("other", low, "METs"))
            .asking("measure it again at the visit", "trust in the limits of load")
    })
}

fn no_capacity(known: &Known) -> Finding {
    let taken = known
        .tests()
        .into_iter()
        .any(|test| estimates::ORDER.contains(&test.result.kind()));
    let why = if taken {
        "No test of capacity counts now"
    } else {
        "No test of capacity is recorded"
    };
    ORDER
        .finding(
            Weight::FindOut,
            format!(
                "What can they do? {why}. Do the six-minute walk on a 30 m course, or the shuttle walk on 10 m; where \
                 there is no room, the step test or the twelve activity questions"
            ),
        )
        .asking("measure it at the visit", "anything beyond the warm-up")
}

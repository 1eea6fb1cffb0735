//! From a record to a programme.

use super::choices::Choices;
use super::ground::{Asked, Ground};
use super::ladder::{Rung, climb, outline};
use super::{Exercises, Plan};
use crate::assess;
use crate::assessed::{Assessed, Decision};
use crate::assessment::Case;
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::service::Service;
use jiff::civil::Date;

/// Rungs that are told in detail: the present one and the next.
const IN_DETAIL: u16 = 2;
/// Rung up to which the rest is outlined.
const OUTLINED: u16 = 12;

/// The programme of a record on a day, with what was noticed.
///
/// A function of the record, the service's settings, the exercises and the day. Stages are empty, with the reasons in
/// the findings, unless the decision is to exercise.
pub fn plan(
    case: &Case,
    service: &Service,
    exercises: &Exercises,
    on: Date,
) -> (Plan, Vec<Finding>) {
    plan_with(case, service, exercises, on, &Choices::none())
}

/// The same with the practitioner's choices: pins, bans and the present rung.
pub fn plan_with(
    case: &Case,
    service: &Service,
    exercises: &Exercises,
    on: Date,
    choices: &Choices,
) -> (Plan, Vec<Finding>) {
    plan_from(case, service, exercises, assess(case, service, on), choices)
}

/// The same from an assessment that was made already.
pub fn plan_from(
    case: &Case,
    service: &Service,
    exercises: &Exercises,
    assessed: Assessed,
    choices: &Choices,
) -> (Plan, Vec<Finding>) {
    let present = choices.stage.max(1);
    let upto = present.saturating_add(IN_DETAIL - 1);
    let (rungs, mut findings) = rungs(case, service, exercises, &assessed, choices, upto);
    findings.extend(past_the_end(present, &rungs));
    let sketch = rungs.last().map_or_else(Vec::new, |last| {
        outline(service, &assessed, last, OUTLINED.max(upto))
    });
    // Past the end of the ladder the last rungs there are stay the present ones.
    let first = rungs
        .len()
        .saturating_sub(usize::from(IN_DETAIL))
        .min(usize::from(present) - 1);
    let stages = rungs
        .into_iter()
        .skip(first)
        .map(|rung| rung.stage)
        .collect();
    let plan = Plan {
        assessed,
        stages,
        sketch,
    };
    (plan, findings)
}

/// The rungs of a person from the first up to a number, each with the problem that the composer solved for it.
///
/// Fewer than asked for where no lever is left; none unless the decision is to exercise.
pub fn rungs(
    case: &Case,
    service: &Service,
    exercises: &Exercises,
    assessed: &Assessed,
    choices: &Choices,
    upto: u16,
) -> (Vec<Rung>, Vec<Finding>) {
    let decision = assessed.screening.decision;
    if decision != Decision::Exercise {
        let text =
            format!("No rung: the answer today is {decision}; the reasons stand under screening.");
        return (
            Vec::new(),
            vec![NOT_TO_EXERCISE.finding(Weight::Note, text)],
        );
    }
    let ground = Ground::new(Asked {
        case,
        service,
        exercises,
        assessed,
        choices,
    });
    let (rungs, mut found) = climb(&ground, upto);
    let mut findings = ground.findings;
    findings.append(&mut found);
    for rung in &rungs {
        for finding in &rung.findings {
            if !findings.contains(finding) {
                findings.push(finding.clone());
            }
        }
    }
    (rungs, findings)
}

/// What is said where the present rung lies past the end of the ladder.
fn past_the_end(present: u16, rungs: &[Rung]) -> Option<Finding> {
    let last = rungs.last()?.stage.number;
    (present > last).then(|| {
        let text = format!(
            "There is no rung {present} for this person today: {last} is the last. Whoever was further stays on it"
        );
        END.finding(Weight::Caution, text)
            .with(Named::whole("present", i64::from(present), ""))
            .with(Named::whole("last", i64::from(last), ""))
    })
}

const END: Rule = Rule {
    id: RuleId("programme/past-the-end"),
    name: "Past the end of the ladder",
    statement: "Where no lever is left the ladder ends. Past its end the last rung that there is stays the present one, and it is said.",
    sources: &[SourceId("programme-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("present", "rung", 1.0, 200.0),
        Input::number("last", "rung", 1.0, 200.0),
    ],
    evaluate: |values| {
        let (present, last) = (values.number("present")?, values.number("last")?);
        let stays = present.min(last);
        Ok(Answer::new(
            Value::Number(stays, "rung"),
            format!("the lower of {present} and {last}"),
        ))
    },
};

const NOT_TO_EXERCISE: Rule = Rule {
    id: RuleId("programme/not-to-exercise"),
    name: "No programme without the decision to exercise",
    statement: "A programme is made only where screening and eligibility say: exercise. Limits are computed and shown whatever the answer is.",
    sources: &[SourceId("programme-ours")],
    tag: Tag::Ours,
    inputs: &[Input::choice(
        "decision",
        &["exercise", "not-today", "not-at-home"],
    )],
    evaluate: |values| {
        let decision = values.text("decision")?;
        Ok(Answer::new(Value::Flag(decision == "exercise"), decision))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[NOT_TO_EXERCISE, END];

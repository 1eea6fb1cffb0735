//! What has to be in order before anything is done alone: the spray, the record, and how the person is.

mod doubts;
mod mood;
mod record;

use crate::assessment::EventKind;
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;
use crate::medicine::Medicines;

const SPRAY: Rule = Rule {
    id: RuleId("readiness/nitrate"),
    name: "The spray for chest discomfort",
    statement: "Where a spray or tablet for chest discomfort is prescribed it must be in date and its use taught before \
                a page names it; not answered, or out of date, signing waits.",
    sources: &[SourceId("nhs-gtn"), SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::flag("prescribed").or_none(),
        Input::flag("in_date").or_none(),
    ],
    evaluate: |values| {
        let yes = |name| values.optional_text(name).map(|word| word == "yes");
        let waits = yes("prescribed") == Some(true) && yes("in_date") != Some(true);
        let word = if waits { "blocks-signing" } else { "nothing" };
        Ok(Answer::new(Value::Text(word.to_owned()), word))
    },
};

/// Mood is asked.
pub(crate) const MOOD: Rule = Rule {
    id: RuleId("readiness/mood"),
    name: "Mood is asked",
    statement: "Mood is asked at a contact, by the nine, seven or five questions; nothing waits for it.",
    sources: &[SourceId("who-5"), SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[Input::flag("asked")],
    evaluate: |values| {
        let asked = values.flag("asked")?;
        let word = if asked { "nothing" } else { "find-out" };
        Ok(Answer::new(Value::Text(word.to_owned()), word))
    },
};

/// The rules of this module.
pub(crate) const RULES: &[Rule] = &[SPRAY, MOOD, record::RECORD, doubts::DOUBTS];

/// What is still to find out.
pub(crate) fn questions(known: &Known, medicines: &Medicines) -> Vec<Finding> {
    let mut all = Vec::new();
    let nitrate = known.case.nitrate;
    match (nitrate.prescribed, nitrate.is_in_date(known.on)) {
        (None, _) => all.push(
            SPRAY
                .finding(
                    Weight::FindOut,
                    "Is a spray or tablet for chest discomfort prescribed? Not answered yet",
                )
                .asking(
                    "the patient and the doctor's list",
                    "the steps for chest discomfort",
                ),
        ),
        (Some(true), None) => all.push(
            SPRAY
                .finding(Weight::BlocksSigning, "Is the spray in date? Look at it")
                .asking("the patient", "signing"),
        ),
        (Some(true), Some(false)) => all.push(
            SPRAY
                .finding(
                    Weight::BlocksSigning,
                    "The spray is out of date: when does the new one come?",
                )
                .asking("the patient and the pharmacy", "signing"),
        ),
        _ => {}
    }
    if nitrate.prescribed == Some(true) && nitrate.taught != Some(true) {
        all.push(
            SPRAY
                .finding(
                    Weight::FindOut,
                    "Can they show how the spray is used? Teach it at the visit",
                )
                .asking("the patient", "the first session alone"),
        );
    }
    all.extend(record::questions(known));
    all.extend(doubts::questions(known, medicines));
    all.extend(mood::questions(known));
    all
}

/// What was noticed.
pub(crate) fn findings(known: &Known) -> Vec<Finding> {
    let mut all = mood::findings(known);
    if known.had(EventKind::Angina) && known.case.nitrate.prescribed == Some(false) {
        all.push(
            SPRAY
                .finding(
                    Weight::Caution,
                    "Angina is recorded and no spray is prescribed: ask the doctor whether it should be",
                )
                .with(Named::flag("prescribed", false)),
        );
    }
    all
}

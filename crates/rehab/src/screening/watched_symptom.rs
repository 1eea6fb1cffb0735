//! A symptom felt while a practitioner watched.

use super::gate::Gate;
use super::watched_pressure::since_examined;
use crate::diary::SymptomKind;
use crate::evidence::{Answer, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;
use crate::watching::red_symptoms;

const SYMPTOM: Rule = Rule {
    id: RuleId("screening/symptom-watched"),
    name: "A symptom in a watched session",
    statement: "A symptom that stops (discomfort of the chest, a faint, a shock, heart racing, new breathlessness), felt \
                while somebody watched, ends the session and holds the next until somebody has examined on a later \
                day. That session is none of those that are watched before anything is done alone.",
    sources: &[SourceId("day-gate-ours"), SourceId("heart-fail-rev-2023")],
    tag: Tag::Ours,
    inputs: &[
        Input::flag("symptom_that_stops"),
        Input::flag("examined_on_a_later_day"),
    ],
    evaluate: |values| {
        let felt = values.flag("symptom_that_stops")?;
        let holds = felt && !values.flag("examined_on_a_later_day")?;
        let word = if holds {
            Weight::NotToday.word()
        } else {
            "nothing"
        };
        let working = if felt { "felt" } else { "not felt" };
        Ok(Answer::new(Value::Text(word.to_owned()), working))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[SYMPTOM];

/// Asks everything that was watched since the newest examination.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    let felt = since_examined(known).filter_map(|one| {
        let red = red_symptoms(known.case, one);
        (!red.is_empty()).then_some((one.date, red))
    });
    let Some((date, red)) = felt.max_by_key(|(date, _)| *date) else {
        return;
    };
    let words: Vec<String> = red
        .iter()
        .map(|kind: &SymptomKind| kind.word().replace('-', " "))
        .collect();
    let text = format!(
        "In the session watched on {date} there was {}. Not today: speak with the doctor, then examine again",
        words.join(", ")
    );
    gate.say(
        SYMPTOM
            .finding(Weight::NotToday, text)
            .with(Named::date("watched", date)),
    );
}

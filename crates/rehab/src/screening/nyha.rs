//! Functional class.

use super::gate::Gate;
use crate::evidence::{Answer, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;

const NYHA: Rule = Rule {
    id: RuleId("contraindication/nyha-iv"),
    name: "Functional class IV",
    statement: "NYHA class IV is a relative contraindication; a home programme is not made for it (our default).",
    sources: &[
        SourceId("heart-fail-rev-2023"),
        SourceId("contraindications-ours"),
    ],
    tag: Tag::Ours,
    inputs: &[Input::number("nyha", "class", 1.0, 4.0)],
    evaluate: |values| {
        let class = values.number("nyha")?;
        let word = if class >= 4.0 {
            "not-at-home"
        } else {
            "nothing"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("class {class}"),
        ))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[NYHA];

/// Asks the functional class.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    match known.nyha() {
        Some((class, date)) if class >= 4 => gate.say(
            NYHA.finding(
                Weight::NotAtHome,
                "Functional class IV. Not at home: the specialist decides where and how",
            )
            .with(Named::whole("nyha", i64::from(class), ""))
            .with(Named::date("examined", date)),
        ),
        Some(_) => {}
        None => gate.ask(
            NYHA.finding(
                Weight::FindOut,
                "Which functional class (I to IV) is it? It is not recorded",
            )
            .asking("ask at the visit", ""),
        ),
    }
}

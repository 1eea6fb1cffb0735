//! Warning signs told at an earlier examination: an examination on which all is well does not answer them by itself.

use super::gate::Gate;
use crate::assessment::ExaminationSymptom;
use crate::calendar::days_between;
use crate::evidence::{Answer, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;

/// Days in which a warning sign waits for the doctor's word, as long as one in a diary does.
const OPEN_DAYS: i32 = 14;

/// Signs that nobody may leave unanswered.
const SIGNS: &[ExaminationSymptom] = &[
    ExaminationSymptom::ChestPainAtRest,
    ExaminationSymptom::ChangedAngina,
    ExaminationSymptom::Faint,
    ExaminationSymptom::DeviceShock,
];

const EARLIER: Rule = Rule {
    id: RuleId("day/earlier-warning-sign"),
    name: "A warning sign at an earlier examination",
    statement: "Chest pain at rest, angina that has changed, a faint or a shock of the device told at an examination in \
                the 14 days before blocks signing until the doctor has agreed to exercise since: feeling well again \
                is no answer to why it happened.",
    sources: &[SourceId("day-gate-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("days_since", "days", 0.0, 40_000.0),
        Input::flag("doctor_agreed_since").or_none(),
    ],
    evaluate: |values| {
        let days = values.number("days_since")?;
        let agreed = values.optional_text("doctor_agreed_since") == Some("yes");
        let open = days <= f64::from(OPEN_DAYS) && !agreed;
        Ok(Answer::new(
            Value::Text(if open { "blocks-signing" } else { "nothing" }.to_owned()),
            format!("{days} days against {OPEN_DAYS}"),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[EARLIER];

/// Asks the examinations before the newest; what the newest tells, and what was told since, is the day's own matter.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    let all = known.examinations();
    let newest = all.iter().position(|one| one.examines()).unwrap_or(0);
    for examination in all.into_iter().skip(newest + 1) {
        let days = days_between(examination.date, known.on);
        let answered = known
            .agreement()
            .is_some_and(|agreement| agreement.date >= examination.date);
        if days > OPEN_DAYS || answered {
            continue;
        }
        let told = examination.symptoms.iter().flatten();
        for sign in told.filter(|symptom| SIGNS.contains(symptom)) {
            let text = format!(
                "What did the doctor say about what was told on {} ({})? Nothing is recorded since",
                examination.date,
                sign.word().replace('-', " ")
            );
            gate.ask(
                EARLIER
                    .finding(Weight::BlocksSigning, text)
                    .with(Named::date("told", examination.date))
                    .with(Named::text("symptom", sign.word()))
                    .asking("the doctor; write the agreement with its day", "signing"),
            );
        }
    }
}

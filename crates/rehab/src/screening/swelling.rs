//! Swelling of the legs seen at the examination.

use super::gate::Gate;
use crate::assessment::Examination;
use crate::evidence::{Answer, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;

const SWELLING: Rule = Rule {
    id: RuleId("day/swelling"),
    name: "Swelling of the legs on the day",
    statement: "New swelling holds the session: fluid may be gathering. Swelling that the examination before already \
                showed, or with which the doctor agreed since, is a caution. Where no earlier examination says how \
                the legs were, it counts as new.",
    sources: &[SourceId("day-gate-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::flag("swollen"),
        Input::flag("swollen_before").or_none(),
        Input::flag("doctor_agreed").or_none(),
    ],
    evaluate: |values| {
        let yes = |name| values.optional_text(name) == Some("yes");
        let known = yes("swollen_before") || yes("doctor_agreed");
        let weight = values.flag("swollen")?.then(|| weight_of(known));
        Ok(Answer::new(
            Value::Text(weight.map_or("nothing", Weight::word).to_owned()),
            if known {
                "not new"
            } else {
                "new, or not known to be old"
            },
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[SWELLING];

const fn weight_of(known: bool) -> Weight {
    if known {
        Weight::Caution
    } else {
        Weight::NotToday
    }
}

/// Asks the newest examination.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    let examinations = known.examinations();
    // Where the legs were looked at alone since the newest examination, that counts; a weight alone tells nothing of them.
    let told = |one: &&Examination| one.oedema.is_some() || one.examines();
    let Some(at) = examinations.iter().position(told) else {
        return;
    };
    let (newest, earlier) = (examinations[at], &examinations[at + 1..]);
    if newest.oedema != Some(true) {
        return;
    }
    let before = earlier
        .iter()
        .find_map(|one| one.oedema.map(|swollen| (one.date, swollen)));
    let agreed = known
        .agreement()
        .is_some_and(|agreement| agreement.date >= newest.date);
    let weight = weight_of(agreed || matches!(before, Some((_, true))));
    let text = match (weight, before) {
        (Weight::Caution, Some((date, true))) => format!(
            "The legs are swollen, as on {date}: weigh them and ask whether it is more than usual"
        ),
        (Weight::Caution, _) => "The legs are swollen. The doctor agreed with it: weigh them and look closely".to_owned(),
        _ => "The legs are swollen, and no earlier examination shows it. Not today: weigh them, ask about breathlessness \
              and telephone the doctor today"
            .to_owned(),
    };
    gate.say(
        SWELLING
            .finding(weight, text)
            .with(Named::date("examined", newest.date)),
    );
}

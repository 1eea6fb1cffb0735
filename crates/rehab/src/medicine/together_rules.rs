//! Rules about medicines together: conflicts, masking, sums, and what is not known.

use super::class::MedicineEffect;
use super::class_rules::described;
use super::recognise::recognise;
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::refuse;

/// Hours without a nitrate after a phosphodiesterase-5 inhibitor; `None` where our source gives none.
///
/// Source: register `nitrate-pde5` (recalled).
pub fn hours_without_nitrate(inn: &str) -> Option<u32> {
    match inn {
        "sildenafil" | "vardenafil" => Some(24),
        "tadalafil" => Some(48),
        _ => None,
    }
}

const NAME: Input = Input::text("name");

pub(super) const RECOGNISE: Rule = Rule {
    id: RuleId("medicine/recognise"),
    name: "Which substances and classes a name stands for",
    statement: "Medicines are recognised by international name; case, accents, salts, doses and forms are set aside, combinations are read part by part, local names are the service's data. What is not recognised is a question, never skipped.",
    sources: &[SourceId("inn-atc")],
    tag: Tag::Recalled,
    inputs: &[NAME],
    evaluate: |values| {
        let name = values.text("name")?;
        let found = recognise(name, &[]);
        let mut answer = Answer::new(
            Value::Text(described(&found)),
            format!("'{name}' read word by word"),
        );
        for one in &found.unknown {
            let nearest = one
                .nearest
                .map(|inn| format!("; nearest known name: {inn}"))
                .unwrap_or_default();
            answer = answer.keep_in_mind(format!(
                "'{}' was not recognised: ask what it is{nearest}",
                one.text
            ));
        }
        Ok(answer)
    },
};

pub(super) const NOT_RECOGNISED: Rule = Rule {
    id: RuleId("medicine/not-recognised"),
    name: "A name that is not recognised",
    statement: "A medicine that is not recognised is asked for; until then it counts as one that may slow the heart.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    ..RECOGNISE
};

pub(super) const NONE_RECORDED: Rule = Rule {
    id: RuleId("medicine/none-recorded"),
    name: "No medicine recorded",
    statement: "No recorded medicine is not the same as none taken: it is asked for, and until then the heart counts as slowed.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[],
    evaluate: |_| {
        Ok(Answer::new(
            Value::Text("ask".to_owned()),
            "a rule, nothing is computed",
        ))
    },
};

pub(super) const NITRATE_CONFLICT: Rule = Rule {
    id: RuleId("medicine/nitrate-with-pde5"),
    name: "Nitrate and phosphodiesterase-5 inhibitor",
    statement: "No nitrate within 24 hours of sildenafil or vardenafil and 48 hours of tadalafil; other medicines of this kind: ask the doctor. Both recorded blocks signing.",
    sources: &[SourceId("nitrate-pde5")],
    tag: Tag::Recalled,
    inputs: &[NAME],
    evaluate: |values| {
        let found = recognise(values.text("name")?, &[]);
        let Some(one) = found
            .substances
            .iter()
            .find(|one| one.has(MedicineEffect::NitrateConflict))
        else {
            return refuse(
                "the name is not of a medicine that must not meet a nitrate; name one that is",
            );
        };
        Ok(match hours_without_nitrate(one.inn) {
            Some(hours) => Answer::new(
                Value::Whole(i64::from(hours), "h"),
                format!("{}: {hours} h", one.inn),
            ),
            None => Answer::new(
                Value::Text("ask the doctor".to_owned()),
                format!("{}: no interval known to us", one.inn),
            ),
        })
    },
};

pub(super) const MASKED_LOW_SUGAR: Rule = Rule {
    id: RuleId("medicine/beta-blocker-masks-low-sugar"),
    name: "Beta-blocker with a medicine that can bring low sugar",
    statement: "A beta-blocker hides trembling and a racing heart as signs of low sugar; sweating and glucose stay.",
    sources: &[SourceId("ada-2016")],
    tag: Tag::Recalled,
    inputs: &[],
    evaluate: |_| {
        Ok(Answer::new(
            Value::Text("caution".to_owned()),
            "a rule, nothing is computed",
        ))
    },
};

pub(super) const TWO_SLOW: Rule = Rule {
    id: RuleId("medicine/two-rate-slowing"),
    name: "Two medicines that slow the heart",
    statement: "Two substances that slow the heart add up: watch for a slow pulse, dizziness and faints.",
    sources: &[SourceId("medicine-exercise")],
    ..MASKED_LOW_SUGAR
};

pub(super) const TWO_BLEED: Rule = Rule {
    id: RuleId("medicine/two-bleeding"),
    name: "Two medicines that make bleeding easier",
    statement: "An anticoagulant with an antiplatelet, or two of a kind: more bleeding at a fall or a knock.",
    sources: &[SourceId("medicine-exercise")],
    ..MASKED_LOW_SUGAR
};

pub(super) const RATE_SLOWING_CHANGED: Rule = Rule {
    id: RuleId("medicine/rate-slowing-changed"),
    name: "A rate-slowing medicine changed between two tests",
    statement: "When a rate-slowing medicine began, ended or changed its dose between two tests, or when that is not known, the two are not comparable.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    ..MASKED_LOW_SUGAR
};

/// Rules about medicines together.
pub(super) const RULES: &[Rule] = &[
    RECOGNISE,
    NOT_RECOGNISED,
    NONE_RECORDED,
    NITRATE_CONFLICT,
    MASKED_LOW_SUGAR,
    TWO_SLOW,
    TWO_BLEED,
    RATE_SLOWING_CHANGED,
];

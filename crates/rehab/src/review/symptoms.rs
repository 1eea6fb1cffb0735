//! Red, changed or usual: what a reported symptom means for this person.

use super::rules;
use crate::assessment::{Case, UsualSymptom};
use crate::diary::{DiaryEntry, DiarySymptom, SymptomKind};
use crate::evidence::RuleId;
use jiff::civil::Date;

closed_words!(
    /// What a symptom means: red stops, changed holds and asks, usual has no effect, joint changes the exercise.
    SymptomClass as "class of a symptom" { Usual = "usual", Joint = "joint", Changed = "changed", Red = "red" }
);

/// One reported symptom with its class and the rule that gave it.
#[derive(Clone, Debug, PartialEq)]
pub struct SymptomReading {
    /// Entry it stands in.
    pub entry: String,
    /// Day.
    pub date: Date,
    /// Which.
    pub kind: SymptomKind,
    /// What it means.
    pub class: SymptomClass,
    /// The rule.
    pub rule: RuleId,
    /// In words.
    pub text: String,
}

/// Classifies one symptom against what is recorded as usual for this person.
///
/// The person's own word "as usual" counts only where a usual symptom is recorded, and never for a faint or a
/// shock. Chest discomfort that is worse than usual is red, not changed: changed angina is unstable until shown
/// otherwise.
pub fn classify(case: &Case, symptom: &DiarySymptom) -> (SymptomClass, RuleId) {
    let recorded = case
        .usual_symptoms
        .iter()
        .find(|usual| usual.kind == symptom.kind);
    let as_usual = recorded.is_some_and(|usual| is_as_usual(usual, symptom));
    class_of(symptom.kind, recorded.is_some(), as_usual)
}

/// The class of a kind of symptom, by whether it is recorded as usual and whether it came as usual.
pub(super) fn class_of(
    kind: SymptomKind,
    recorded: bool,
    as_usual: bool,
) -> (SymptomClass, RuleId) {
    match kind {
        SymptomKind::Faint => (SymptomClass::Red, rules::RED_FAINT),
        SymptomKind::DeviceShock => (SymptomClass::Red, rules::RED_SHOCK),
        SymptomKind::KneePain
        | SymptomKind::HipPain
        | SymptomKind::ShoulderPain
        | SymptomKind::BackPain
        | SymptomKind::OtherJointPain => (SymptomClass::Joint, rules::JOINT),
        _ if as_usual => (SymptomClass::Usual, rules::USUAL),
        SymptomKind::ChestDiscomfort => (SymptomClass::Red, rules::RED_CHEST),
        SymptomKind::Palpitations => (SymptomClass::Red, rules::RED_PALPITATIONS),
        SymptomKind::Breathlessness if !recorded => (SymptomClass::Red, rules::RED_BREATH),
        _ => (SymptomClass::Changed, rules::CHANGED),
    }
}

/// As usual: the person does not say otherwise, and no score is above the recorded one.
fn is_as_usual(usual: &UsualSymptom, symptom: &DiarySymptom) -> bool {
    let not_scored_higher = match (usual.score, symptom.score) {
        (Some(usual), Some(now)) => now <= usual,
        _ => true,
    };
    symptom.usual == Some(true) && not_scored_higher
}

/// Every symptom of every entry.
pub(super) fn read_all(case: &Case, entries: &[&DiaryEntry]) -> Vec<SymptomReading> {
    let mut readings = Vec::new();
    for entry in entries {
        for symptom in entry.symptoms.iter().flatten() {
            let (class, rule) = classify(case, symptom);
            let class_words = match class {
                SymptomClass::Red => "stop and contact",
                SymptomClass::Changed => "worse than usual or not known before: hold and ask",
                SymptomClass::Usual => "usual for this person",
                SymptomClass::Joint => "a joint: changes the exercise, not the heart programme",
            };
            readings.push(SymptomReading {
                entry: entry.id.clone(),
                date: entry.date,
                kind: symptom.kind,
                class,
                rule,
                text: format!(
                    "{} on {}: {class_words}",
                    symptom.kind.word().replace('-', " "),
                    entry.date
                ),
            });
        }
    }
    readings
}

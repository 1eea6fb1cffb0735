//! Red, changed or usual: what a reported symptom means for this person.

use super::{ReviewInput, rules};
use crate::assessment::{Answered, Case, UsualSymptom};
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
/// otherwise. So is worse breathlessness where heart failure is not known to be absent: it may be failing.
pub fn classify(case: &Case, symptom: &DiarySymptom) -> (SymptomClass, RuleId) {
    let recorded = case
        .usual_symptoms
        .iter()
        .find(|usual| usual.kind == symptom.kind);
    let as_usual = recorded.is_some_and(|usual| is_as_usual(usual, symptom));
    // Not asked is not absent.
    let failing = case.heart_failure() != Answered::Absent;
    class_of(symptom.kind, recorded.is_some(), as_usual, failing)
}

/// The class of a kind of symptom, by whether it is recorded as usual and whether it came as usual.
pub(super) fn class_of(
    kind: SymptomKind,
    recorded: bool,
    as_usual: bool,
    failing: bool,
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
        SymptomKind::Breathlessness if !recorded || failing => {
            (SymptomClass::Red, rules::RED_BREATH)
        }
        _ => (SymptomClass::Changed, rules::CHANGED),
    }
}

/// As usual: the person says so, and no score stands against it.
fn is_as_usual(usual: &UsualSymptom, symptom: &DiarySymptom) -> bool {
    symptom.usual == Some(true) && not_scored_higher(usual.score, symptom.score)
}

/// A score that can be held against no recorded one is not known to be usual.
pub(super) fn not_scored_higher(usual: Option<f64>, now: Option<f64>) -> bool {
    match (usual, now) {
        (Some(usual), Some(now)) => now <= usual,
        (None, Some(_)) => false,
        (_, None) => true,
    }
}

/// Every symptom of every entry, each by the stricter of what it means now and what it meant when it came.
pub(super) fn read_all(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Vec<SymptomReading> {
    let now = entries.iter().flat_map(|entry| read(input.case, entry));
    now.map(|reading| {
        let same = |one: &&SymptomReading| one.entry == reading.entry && one.kind == reading.kind;
        let then = input.heard.iter().filter(same).max_by_key(|one| one.class);
        match then {
            Some(then) if then.class > reading.class => then.clone(),
            _ => reading,
        }
    })
    .collect()
}

/// Every symptom of one entry.
pub(crate) fn read(case: &Case, entry: &DiaryEntry) -> Vec<SymptomReading> {
    let symptoms = entry.symptoms.iter().flatten();
    symptoms
        .map(|symptom| {
            let (class, rule) = classify(case, symptom);
            let class_words = match class {
                SymptomClass::Red => "stop and contact",
                SymptomClass::Changed => "worse than usual or not known before: hold and ask",
                SymptomClass::Usual => "usual for this person",
                SymptomClass::Joint => "a joint: changes the exercise, not the heart programme",
            };
            SymptomReading {
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
            }
        })
        .collect()
}

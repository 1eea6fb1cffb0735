//! The rules of the readings, one for each, and how a reading is judged under a cut-off.

use super::cutoffs::{CutOff, Strength, Vital, cut_off};
use super::recent_events::SETS;
use crate::evidence::{
    Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values, Weight,
};
use crate::service::ScreeningSet;

const SOURCES: &[SourceId] = &[
    SourceId("day-gate-ours"),
    SourceId("day-gate-practice"),
    SourceId("uk-phase-iv"),
    SourceId("heart-fail-rev-2023"),
    SourceId("australian-heart-failure"),
    SourceId("acsm-getp"),
    SourceId("aacvpr-2004-sheets"),
    SourceId("holland-2014"),
    SourceId("esc-heart-failure-patients"),
];

macro_rules! reading_rule {
    ($vital:ident, $id:literal, $name:literal, $statement:literal, [$unit:literal, $low:literal, $high:literal]) => {
        Rule {
            id: RuleId($id),
            name: $name,
            statement: $statement,
            sources: SOURCES,
            tag: Tag::Recalled,
            inputs: &[
                Input::choice("set", SETS),
                Input::number("value", $unit, $low, $high),
                Input::flag("dizzy_or_faint").or_none(),
                Input::flag("doctor_agreed").or_none(),
            ],
            evaluate: |values| evaluate(Vital::$vital, values),
        }
    };
}

/// The rules of this part, one for each reading in the order of [`Vital::ALL`].
pub(crate) const RULES: &[Rule] = &[
    reading_rule!(
        SystolicHigh,
        "day/systolic-high",
        "High systolic pressure on the day",
        "Resting systolic pressure on the stopping side of the set's value holds the session.",
        ["mmHg", 50.0, 280.0]
    ),
    reading_rule!(
        DiastolicHigh,
        "day/diastolic-high",
        "High diastolic pressure on the day",
        "Resting diastolic pressure on the stopping side of the set's value holds the session.",
        ["mmHg", 20.0, 180.0]
    ),
    reading_rule!(
        SystolicLow,
        "day/systolic-low",
        "Low systolic pressure on the day",
        "Resting systolic pressure under the value holds the session (no consensus number; common practice, recalled).",
        ["mmHg", 50.0, 280.0]
    ),
    reading_rule!(
        SystolicLowWithSymptoms,
        "day/systolic-low-with-symptoms",
        "Low systolic pressure with dizziness",
        "Resting systolic pressure under the value together with dizziness or a faint holds the session.",
        ["mmHg", 50.0, 280.0]
    ),
    reading_rule!(
        OrthostaticFall,
        "day/orthostatic-fall",
        "Fall of pressure on standing, with symptoms",
        "A fall of systolic pressure within 3 minutes of standing, together with dizziness or a faint, holds the \
         session.",
        ["mmHg", 0.0, 200.0]
    ),
    reading_rule!(
        HeartRateHigh,
        "day/heart-rate-high",
        "High resting heart rate on the day",
        "A resting heart rate on the stopping side of the set's value holds the session.",
        ["a minute", 25.0, 220.0]
    ),
    reading_rule!(
        HeartRateVeryHigh,
        "day/heart-rate-very-high",
        "Very high resting heart rate on the day",
        "A resting heart rate on the stopping side of this second value is a hard stop in every case.",
        ["a minute", 25.0, 220.0]
    ),
    reading_rule!(
        HeartRateLow,
        "day/heart-rate-low",
        "Low resting heart rate on the day",
        "A resting heart rate under the value holds the session (no consensus number; common practice, recalled).",
        ["a minute", 25.0, 220.0]
    ),
    reading_rule!(
        HeartRateLowWithSymptoms,
        "day/heart-rate-low-with-symptoms",
        "Low resting heart rate with dizziness",
        "A resting heart rate under the value together with dizziness or a faint holds the session.",
        ["a minute", 25.0, 220.0]
    ),
    reading_rule!(
        Temperature,
        "day/temperature",
        "Temperature on the day",
        "Fever holds the session, and so does fever in the 48 hours before.",
        ["degrees Celsius", 30.0, 43.0]
    ),
    reading_rule!(
        WeightGain,
        "day/weight-gain",
        "Gain of weight within days",
        "A gain of weight within 1 to 3 days on the stopping side of the set's value holds the session: fluid may \
         be gathering.",
        ["kg", -50.0, 50.0]
    ),
    reading_rule!(
        SaturationLow,
        "day/saturation-low",
        "Low oxygen saturation on the day",
        "Oxygen saturation in room air on the stopping side of the set's value holds the session.",
        ["per cent", 50.0, 100.0]
    ),
];

/// The rule of a reading.
pub(super) fn rule_of(vital: Vital) -> &'static Rule {
    &RULES[vital as usize]
}

/// What a reading does under a cut-off.
pub(super) fn weight_of(cut: &CutOff, value: f64, dizzy: bool, agreed: bool) -> Option<Weight> {
    if !cut.stops(value) || (cut.vital.needs_symptoms() && !dizzy) {
        return None;
    }
    match cut.strength {
        Strength::Relative if agreed => Some(Weight::Caution),
        _ => Some(Weight::NotToday),
    }
}

fn evaluate(vital: Vital, values: &Values) -> Result<Answer, RuleError> {
    let set = ScreeningSet::parse(values.text("set")?).map_err(|unknown| RuleError {
        message: unknown.to_string(),
    })?;
    let cut = cut_off(set, vital);
    let value = values.number("value")?;
    let yes = |name| values.optional_text(name) == Some("yes");
    let weight = weight_of(cut, value, yes("dizzy_or_faint"), yes("doctor_agreed"));
    let mut cautions = Vec::new();
    if cut.set != set {
        cautions.push(format!(
            "{set} gives no number; the cautious set's is used (source {}, {})",
            cut.source, cut.tag
        ));
    }
    Ok(Answer {
        value: Value::Text(weight.map_or("nothing", Weight::word).to_owned()),
        working: format!(
            "{value} {} stops {} {} ({}, {})",
            vital.unit(),
            cut.side,
            cut.value,
            cut.source,
            cut.tag
        ),
        cautions,
    })
}

//! Gains of weight that hold the day, as bodies print them: they disagree in amount, side and days.

use super::cutoffs::{Side, Strength, Vital, cut_off};
use crate::evidence::{
    Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values, Weight,
};
use crate::inputs::short;
use crate::service::{Service, WeightGainRule};

/// Kilograms in a pound.
const KG_PER_LB: f64 = 0.453_592_37;

/// A gain within days that holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeightWindow {
    /// Gain in kg.
    pub gain_kg: f64,
    /// Which side of it holds.
    pub side: Side,
    /// Within this many days.
    pub within_days: u16,
    /// Absolute, or to be settled with the doctor.
    pub strength: Strength,
    /// Where the number comes from.
    pub source: SourceId,
    /// How well it is known.
    pub tag: Tag,
}

impl WeightWindow {
    /// Whether a gain is on the side that holds.
    pub fn holds(&self, gain_kg: f64) -> bool {
        match self.side {
            Side::Above => gain_kg > self.gain_kg,
            _ => gain_kg >= self.gain_kg,
        }
    }
}

const fn window(gain_kg: f64, side: Side, within_days: u16, source: &'static str) -> WeightWindow {
    WeightWindow {
        gain_kg,
        side,
        within_days,
        strength: Strength::Absolute,
        source: SourceId(source),
        tag: Tag::Read,
    }
}

const fn relative(mut window: WeightWindow) -> WeightWindow {
    window.strength = Strength::Relative;
    window
}

// Source: heart-fail-rev-2023, relative.
const REVIEW: &[WeightWindow] = &[relative(window(
    1.8,
    Side::AtOrAbove,
    3,
    "heart-fail-rev-2023",
))];
// Source: australian-heart-failure, relative.
const AUSTRALIA: &[WeightWindow] = &[relative(window(
    2.0,
    Side::AtOrAbove,
    3,
    "australian-heart-failure",
))];
// Source: esc-heart-failure-patients.
const ESC: &[WeightWindow] = &[window(2.0, Side::Above, 3, "esc-heart-failure-patients")];
// Source: us-heart-failure-patients: 2 to 3 lb in a day, of which the lower end is taken, or 5 lb in a week.
const US: &[WeightWindow] = &[
    window(
        2.0 * KG_PER_LB,
        Side::AtOrAbove,
        1,
        "us-heart-failure-patients",
    ),
    window(
        5.0 * KG_PER_LB,
        Side::AtOrAbove,
        7,
        "us-heart-failure-patients",
    ),
];
// Source: us-skip-exercise: 3 lb or more in 2 to 3 days, no exercise.
const US_SKIP: &[WeightWindow] = &[window(
    3.0 * KG_PER_LB,
    Side::AtOrAbove,
    3,
    "us-skip-exercise",
)];

fn printed(rule: WeightGainRule) -> &'static [WeightWindow] {
    match rule {
        WeightGainRule::OfTheSet => &[],
        WeightGainRule::HeartFailureReview2023 => REVIEW,
        WeightGainRule::AustralianHeartFailure => AUSTRALIA,
        WeightGainRule::EscPatients => ESC,
        WeightGainRule::UsPatientText => US,
        WeightGainRule::UsSkipExercise => US_SKIP,
    }
}

/// The gains that hold the day in a service: those of its rule, or that of its set of cut-offs.
pub fn weight_windows(service: &Service) -> Vec<WeightWindow> {
    if service.weight_gain_rule != WeightGainRule::OfTheSet {
        return printed(service.weight_gain_rule).to_vec();
    }
    let cut = cut_off(service.screening_set, Vital::WeightGain);
    vec![WeightWindow {
        gain_kg: cut.value,
        side: cut.side,
        within_days: cut.within_days.unwrap_or(3),
        strength: cut.strength,
        source: cut.source,
        tag: cut.tag,
    }]
}

const INPUTS: &[Input] = &[
    Input::number("gain_kg", "kg", -50.0, 50.0),
    Input::number("within_days", "days", 0.0, 60.0),
];

fn evaluate(values: &Values, rule: WeightGainRule) -> Result<Answer, RuleError> {
    let (gain, days) = (values.number("gain_kg")?, values.number("within_days")?);
    let holds = |one: &&WeightWindow| days <= f64::from(one.within_days) && one.holds(gain);
    let found = printed(rule).iter().find(holds);
    let word = found.map_or("nothing", |_| Weight::NotToday.word());
    let windows: Vec<String> = printed(rule)
        .iter()
        .map(|one| {
            format!(
                "{} {} kg in {} days",
                one.side,
                short(one.gain_kg),
                one.within_days
            )
        })
        .collect();
    let answer = Answer::new(
        Value::Text(word.to_owned()),
        format!("{gain} kg in {days} days; held: {}", windows.join(", or ")),
    );
    Ok(match found {
        Some(one) if one.strength == Strength::Relative => answer
            .keep_in_mind("relative: a doctor who agrees with this reading in hand opens the day"),
        _ => answer,
    })
}

macro_rules! variant {
    ($rule:ident, $id:literal, $name:literal, $statement:literal, $source:literal) => {
        Rule {
            id: RuleId(concat!("weight-gain/", $id)),
            name: $name,
            statement: $statement,
            sources: &[SourceId($source)],
            tag: Tag::Read,
            inputs: INPUTS,
            evaluate: |values| evaluate(values, WeightGainRule::$rule),
        }
    };
}

/// The printed variants; a service chooses one, else that of its set counts.
pub(super) const RULES: &[Rule] = &[
    variant!(
        HeartFailureReview2023,
        "heart-failure-review-2023",
        "Gain of weight, review of 2023",
        "1.8 kg or more in 1 to 3 days holds the session (relative).",
        "heart-fail-rev-2023"
    ),
    variant!(
        AustralianHeartFailure,
        "australian-heart-failure",
        "Gain of weight, Australia",
        "2 kg or more in 1 to 3 days holds the session (relative).",
        "australian-heart-failure"
    ),
    variant!(
        EscPatients,
        "esc-patients",
        "Gain of weight, European text for patients",
        "More than 2 kg in 3 days holds the session.",
        "esc-heart-failure-patients"
    ),
    variant!(
        UsPatientText,
        "us-patient-text",
        "Gain of weight, US text for patients",
        "2 to 3 lb in a day (0.91 kg, the lower end, is taken) or 5 lb (2.27 kg) in a week holds the session.",
        "us-heart-failure-patients"
    ),
    variant!(
        UsSkipExercise,
        "us-skip-exercise",
        "Gain of weight, US text on skipping exercise",
        "3 lb (1.36 kg) or more in 2 to 3 days: exercise is left out.",
        "us-skip-exercise"
    ),
];

#[cfg(test)]
mod tests {
    use super::*;

    // Sources stand beside each row: heart-fail-rev-2023, australian-heart-failure, esc-heart-failure-patients,
    // us-heart-failure-patients, us-skip-exercise. Both sides of each boundary; 1 lb is 0.45359 kg.
    #[test]
    fn published_gains_of_weight_that_hold() {
        let held = |rule: WeightGainRule, days: u16, gain: f64| {
            printed(rule)
                .iter()
                .any(|one| days <= one.within_days && one.holds(gain))
        };
        use WeightGainRule::{
            AustralianHeartFailure, EscPatients, HeartFailureReview2023, UsPatientText,
            UsSkipExercise,
        };
        let check = |rule, days, passes, holds| {
            assert!(!held(rule, days, passes), "{rule} {passes}");
            assert!(held(rule, days, holds), "{rule} {holds}");
            assert!(!held(rule, 8, 10.0), "{rule} after a week");
        };
        check(HeartFailureReview2023, 3, 1.79, 1.8);
        check(AustralianHeartFailure, 3, 1.99, 2.0);
        check(EscPatients, 3, 2.0, 2.01);
        check(UsPatientText, 1, 0.90, 0.91);
        check(UsPatientText, 7, 2.26, 2.27);
        check(UsSkipExercise, 3, 1.36, 1.37);
    }
}

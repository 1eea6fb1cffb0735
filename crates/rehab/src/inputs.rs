//! Inputs that many rules share, and the numbers of a working as they are written.

use crate::assessment::Sex;
use crate::evidence::{Input, RuleError, Values};

/// Age in completed years.
pub(crate) const AGE: Input = Input::number("age_years", "years", 16.0, 110.0);
/// Resting heart rate.
pub(crate) const RESTING_HR: Input = Input::number("resting_hr_bpm", "beats a minute", 25.0, 220.0);
/// Peak heart rate, measured or predicted.
pub(crate) const PEAK_HR: Input = Input::number("peak_hr_bpm", "beats a minute", 40.0, 240.0);
/// Height.
pub(crate) const HEIGHT: Input = Input::number("height_cm", "cm", 100.0, 230.0);
/// Weight.
pub(crate) const WEIGHT: Input = Input::number("weight_kg", "kg", 25.0, 300.0);
/// Distance walked.
pub(crate) const DISTANCE: Input = Input::number("distance_m", "m", 0.0, 1100.0);
/// Repetitions.
pub(crate) const COUNT: Input = Input::number("count", "repetitions", 0.0, 250.0);
/// Time.
pub(crate) const SECONDS: Input = Input::number("seconds", "s", 0.5, 180.0);
/// Peak capacity.
pub(crate) const PEAK_METS: Input = Input::number("peak_mets", "METs", 1.0, 25.0);
/// Sex, for equations only.
pub(crate) const SEX: Input = Input::choice("sex", &["female", "male"]);

/// The sex given to a rule.
///
/// # Errors
/// When it was not given.
pub(crate) fn sex_of(values: &Values) -> Result<Sex, RuleError> {
    let word = values.text("sex")?;
    Sex::parse(word).map_err(|unknown| RuleError {
        message: unknown.to_string(),
    })
}

/// A number with what it counts.
pub(crate) fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// A number as it stands in a working: three decimals at most, no trailing zeros.
pub(crate) fn short(value: f64) -> f64 {
    // Adding zero turns the minus zero of a small negative number into plain zero.
    libm::round(value * 1000.0) / 1000.0 + 0.0
}

/// A number that need not be given, in the words of a working.
pub(crate) fn or_not_known(value: Option<f64>, unit: &str) -> String {
    match (value, unit) {
        (Some(value), "") => short(value).to_string(),
        (Some(value), unit) => format!("{} {unit}", short(value)),
        (None, _) => "not known".to_owned(),
    }
}

/// A yes or no that need not be given, in the words of a working.
pub(crate) const fn answer_word(answer: Option<bool>) -> &'static str {
    match answer {
        Some(true) => "yes",
        Some(false) => "no",
        None => "not known",
    }
}

/// A yes or no in the words of a working.
pub(crate) const fn yes_no(answer: bool) -> &'static str {
    answer_word(Some(answer))
}

/// Numbers in the words of a working.
pub(crate) fn several(values: &[f64]) -> String {
    let words: Vec<String> = values.iter().map(|one| short(*one).to_string()).collect();
    words.join(", ")
}

/// A number given to a rule that must be whole.
///
/// # Errors
/// When it was not given or has a fraction.
pub(crate) fn whole(values: &Values, name: &'static str) -> Result<u32, RuleError> {
    let value = values.number(name)?;
    if value < 0.0 || libm::floor(value) != value || value > f64::from(u32::MAX) {
        return refuse(format!(
            "'{name}' of {value} is not a whole number; count again"
        ));
    }
    Ok(value as u32)
}

/// Refuses to evaluate, with what, why and what to do.
pub(crate) fn refuse<T>(message: impl Into<String>) -> Result<T, RuleError> {
    Err(RuleError {
        message: message.into(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::InputKind;
    use crate::quantity::bound_of;

    #[test]
    fn shared_inputs_have_the_bounds_of_the_one_table() {
        for input in [
            AGE, RESTING_HR, PEAK_HR, PEAK_METS, HEIGHT, WEIGHT, DISTANCE, COUNT, SECONDS,
        ] {
            let bound = bound_of(input.name).expect("the input stands in the table of bounds");
            match input.kind {
                InputKind::Number { unit, low, high } => {
                    assert_eq!((unit, low, high), (bound.unit, bound.low, bound.high));
                }
                _ => panic!("{} is not a number", input.name),
            }
        }
    }
}

//! Keys and values of a case file as they are said.

use crate::phrases;
use jiff::civil::Date;

/// Keys of the case file whose words are not their own.
const KEYS: [(&str, &str); 6] = [
    ("nyha", "functional class"),
    ("oedema", "swelling of the legs"),
    ("resting_bp_mmhg", "pressure, seated"),
    ("standing_bp_mmhg", "pressure, standing"),
    ("resting_hr_bpm", "pulse at rest"),
    ("spo2_pct", "oxygen, per cent"),
];
/// Units at the end of a key.
const UNITS: [(&str, &str); 7] = [
    ("_pct", ", per cent"),
    ("_kg", ", kg"),
    ("_cm", ", cm"),
    ("_bpm", ", a minute"),
    ("_mmol_l", ", mmol/L"),
    ("_s", ", seconds"),
    ("_m", ", metres"),
];

/// A key as it is said.
pub(super) fn in_words(key: &str) -> String {
    if let Some((_, words)) = KEYS.iter().find(|(one, _)| *one == key) {
        return (*words).to_owned();
    }
    let unit = UNITS.iter().find(|(end, _)| key.ends_with(end));
    let named = match unit {
        Some((end, words)) => format!("{}{words}", key.trim_end_matches(end)),
        None => key.to_owned(),
    };
    named.replace('_', " ")
}

/// A value as it is said: pressures with their stroke, days as days.
pub(super) fn value_in_words(key: &str, value: &str) -> String {
    match value.parse::<Date>() {
        Ok(date) if value.len() == 10 => phrases::full_day(date),
        _ if key.ends_with("_bp_mmhg") => value.replace(", ", "/"),
        _ => value.to_owned(),
    }
}

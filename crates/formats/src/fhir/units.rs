//! Units: what a quantity is in, brought to the unit of our key or refused.
//!
//! Source: `ucum-units`; the factors are definitions, but for glucose (molar mass 180.16 g/mol) they carry no error.

use super::concept::short;
use crate::tree::Node;

/// What a number is brought to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Target {
    Kilograms,
    Centimetres,
    Metres,
    PerMinute,
    MillimetresOfMercury,
    PerCent,
    Celsius,
    MillimolesOfGlucose,
    MillimolesOfKetones,
    GramsOfHaemoglobinPerDecilitre,
}

const POUND_KG: f64 = 0.453_592_37;
const INCH_CM: f64 = 2.54;
const FOOT_M: f64 = 0.3048;
const KILOPASCAL_MMHG: f64 = 7.500_615_758;
const GLUCOSE_MG_DL: f64 = 18.016;

/// A unit for people that says another number than the unit for machines: nobody can tell which was meant.
pub(super) fn contradiction(quantity: &Node, target: Target) -> Option<String> {
    let value = quantity.number("value")?;
    let (unit, code) = (quantity.text("unit")?, quantity.text("code")?);
    let (by_unit, by_code) = (convert(value, unit, target)?, convert(value, code, target)?);
    (by_unit != by_code).then(|| {
        format!(
            "its unit reads '{}' and its code '{}', and {value} is not the same in both; measure it again",
            short(unit),
            short(code)
        )
    })
}

/// The number in the wanted unit, or nothing when the unit is not known.
pub(super) fn convert(value: f64, unit: &str, target: Target) -> Option<f64> {
    let unit = unit.trim();
    let exact = match target {
        Target::Kilograms => match unit {
            "kg" => value,
            "g" => value / 1000.0,
            "[lb_av]" | "lb" | "lbs" => value * POUND_KG,
            _ => return None,
        },
        Target::Centimetres => match unit {
            "cm" => value,
            "m" => value * 100.0,
            "mm" => value / 10.0,
            "[in_i]" | "in" => value * INCH_CM,
            _ => return None,
        },
        Target::Metres => match unit {
            "m" => value,
            "cm" => value / 100.0,
            "km" => value * 1000.0,
            "[ft_i]" | "ft" => value * FOOT_M,
            _ => return None,
        },
        Target::PerMinute => match unit {
            "/min" | "{beats}/min" | "{Beats}/min" | "bpm" | "beats/minute" | "beats/min"
            | "min-1" => value,
            "/s" => value * 60.0,
            _ => return None,
        },
        Target::MillimetresOfMercury => match unit {
            "mm[Hg]" | "mmHg" | "mm Hg" => value,
            "kPa" => value * KILOPASCAL_MMHG,
            _ => return None,
        },
        Target::PerCent => match unit {
            "%" => value,
            "1" | "{fraction}" => value * 100.0,
            _ => return None,
        },
        Target::Celsius => match unit {
            "Cel" | "C" | "°C" | "degC" => value,
            "[degF]" | "°F" | "degF" => (value - 32.0) / 1.8,
            "K" => value - 273.15,
            _ => return None,
        },
        Target::MillimolesOfGlucose => match unit {
            "mmol/L" | "mmol/l" => value,
            "mg/dL" | "mg/dl" => value / GLUCOSE_MG_DL,
            _ => return None,
        },
        Target::MillimolesOfKetones => match unit {
            "mmol/L" | "mmol/l" => value,
            _ => return None,
        },
        Target::GramsOfHaemoglobinPerDecilitre => match unit {
            "g/dL" | "g/dl" => value,
            "g/L" | "g/l" => value / 10.0,
            _ => return None,
        },
    };
    // What was converted is rounded to what could have been measured; what was given in our unit stays as it is.
    Some(if exact == value {
        value
    } else {
        (exact * 100.0).round() / 100.0
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_converted_or_refused() {
        assert_eq!(convert(180.0, "[lb_av]", Target::Kilograms), Some(81.65));
        assert_eq!(convert(5.5, "[in_i]", Target::Centimetres), Some(13.97));
        assert_eq!(convert(1.61, "m", Target::Centimetres), Some(161.0));
        assert_eq!(
            convert(16.0, "kPa", Target::MillimetresOfMercury),
            Some(120.01)
        );
        assert_eq!(convert(98.6, "[degF]", Target::Celsius), Some(37.0));
        assert_eq!(
            convert(90.0, "mg/dL", Target::MillimolesOfGlucose),
            Some(5.0)
        );
        assert_eq!(
            convert(128.0, "g/L", Target::GramsOfHaemoglobinPerDecilitre),
            Some(12.8)
        );
        assert_eq!(
            convert(7.9, "mmol/L", Target::GramsOfHaemoglobinPerDecilitre),
            None
        );
        assert_eq!(convert(11.0, "[stone_av]", Target::Kilograms), None);
        assert_eq!(convert(71.456_78, "kg", Target::Kilograms), Some(71.456_78));
    }
}

//! What an Observation means. Source: `loinc-codes`, recalled, checked against public example resources where one
//! was found; the codes of the functional classes from `snomed-codes`.

use super::concept::{Concept, LOINC, SNOMED};
use super::units::Target;

/// Where a reading goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Slot {
    Weight,
    Height,
    RestingRate,
    Saturation,
    Temperature,
    Glucose,
    Ketones,
    EjectionFraction,
    Haemoglobin,
    /// Of the resting pressure, or of the standing one.
    Systolic {
        standing: bool,
    },
    /// Of the resting pressure, or of the standing one.
    Diastolic {
        standing: bool,
    },
}

/// What an observation means for a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Meaning {
    /// One number.
    Number(Slot),
    /// A pressure with its two components.
    Pressure { standing: bool },
    /// Functional class I to IV.
    FunctionalClass,
    /// Rhythm of the heart.
    Rhythm,
    /// Distance of the six-minute walk.
    SixMinuteWalk,
    /// The sum of a questionnaire, whose single answers our files hold.
    Sum(&'static str),
}

use Meaning::{FunctionalClass, Number, Pressure, Rhythm, SixMinuteWalk, Sum};

const BY_LOINC: &[(&str, Meaning)] = &[
    ("29463-7", Number(Slot::Weight)),
    ("3141-9", Number(Slot::Weight)),
    ("8302-2", Number(Slot::Height)),
    ("8867-4", Number(Slot::RestingRate)),
    ("40443-4", Number(Slot::RestingRate)),
    ("85354-9", Pressure { standing: false }),
    ("55284-4", Pressure { standing: false }),
    ("8480-6", Number(Slot::Systolic { standing: false })),
    ("8462-4", Number(Slot::Diastolic { standing: false })),
    ("8460-8", Number(Slot::Systolic { standing: true })),
    ("8454-1", Number(Slot::Diastolic { standing: true })),
    ("59408-5", Number(Slot::Saturation)),
    ("2708-6", Number(Slot::Saturation)),
    ("8310-5", Number(Slot::Temperature)),
    ("2339-0", Number(Slot::Glucose)),
    ("2345-7", Number(Slot::Glucose)),
    ("15074-8", Number(Slot::Glucose)),
    ("14749-6", Number(Slot::Glucose)),
    ("41653-7", Number(Slot::Glucose)),
    ("10230-1", Number(Slot::EjectionFraction)),
    ("8806-2", Number(Slot::EjectionFraction)),
    ("718-7", Number(Slot::Haemoglobin)),
    ("88020-3", FunctionalClass),
    ("8884-9", Rhythm),
    ("64098-7", SixMinuteWalk),
    ("44261-6", Sum("phq-9")),
    ("70274-6", Sum("gad-7")),
];

/// What a concept means, by our own words first, then LOINC.
pub(super) fn meaning(concept: &Concept<'_>) -> Option<Meaning> {
    match concept.ours("observation") {
        Some("standing-pressure") => return Some(Pressure { standing: true }),
        Some("ketones") => return Some(Number(Slot::Ketones)),
        _ => {}
    }
    let code = concept.code_of(LOINC)?;
    BY_LOINC
        .iter()
        .find(|(one, _)| *one == code)
        .map(|(_, meaning)| *meaning)
}

impl Slot {
    /// Key in the table of bounds.
    pub(super) const fn bound(self) -> &'static str {
        match self {
            Self::Weight => "weight_kg",
            Self::Height => "height_cm",
            Self::RestingRate => "resting_hr_bpm",
            Self::Saturation => "spo2_pct",
            Self::Temperature => "temperature_c",
            Self::Glucose => "glucose_mmol_l",
            Self::Ketones => "ketones_mmol_l",
            Self::EjectionFraction => "ejection_fraction_pct",
            Self::Haemoglobin => "haemoglobin_g_dl",
            Self::Systolic { .. } => "systolic_mmhg",
            Self::Diastolic { .. } => "diastolic_mmhg",
        }
    }

    /// The unit of our key.
    pub(super) const fn target(self) -> Target {
        match self {
            Self::Weight => Target::Kilograms,
            Self::Height => Target::Centimetres,
            Self::RestingRate => Target::PerMinute,
            Self::Saturation | Self::EjectionFraction => Target::PerCent,
            Self::Temperature => Target::Celsius,
            Self::Glucose => Target::MillimolesOfGlucose,
            Self::Ketones => Target::MillimolesOfKetones,
            Self::Haemoglobin => Target::GramsOfHaemoglobinPerDecilitre,
            Self::Systolic { .. } | Self::Diastolic { .. } => Target::MillimetresOfMercury,
        }
    }
}

/// Functional class by its codes, else by its numeral.
pub(super) fn functional_class(concept: &Concept<'_>) -> Option<u8> {
    const BY_SNOMED: [&str; 4] = ["420300004", "421704003", "420913000", "422293003"];
    const BY_LOINC: [&str; 4] = ["LA28404-4", "LA28405-1", "LA28406-9", "LA28407-7"];
    let of = |system: &str, codes: &[&str; 4]| {
        let code = concept.code_of(system)?;
        codes.iter().position(|one| *one == code)
    };
    let by_code = of(SNOMED, &BY_SNOMED).or_else(|| of(LOINC, &BY_LOINC));
    let last = concept.called.split_whitespace().last().unwrap_or("");
    let by_numeral = || {
        ["I", "II", "III", "IV"]
            .iter()
            .zip(["1", "2", "3", "4"])
            .position(|(roman, digit)| last == *roman || last == digit)
    };
    by_code
        .or_else(by_numeral)
        .and_then(|index| u8::try_from(index + 1).ok())
}

/// The SNOMED CT code of a functional class.
pub(super) const fn snomed_of_class(class: u8) -> Option<&'static str> {
    match class {
        1 => Some("420300004"),
        2 => Some("421704003"),
        3 => Some("420913000"),
        4 => Some("422293003"),
        _ => None,
    }
}

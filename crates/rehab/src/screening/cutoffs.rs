//! The cut-offs of the day, one table per set: bodies disagree, so the service chooses and its choice is printed.

pub use super::cutoff_table::CUT_OFFS;
use crate::evidence::{SourceId, Tag};
use crate::service::ScreeningSet;

closed_words!(
    /// What a cut-off of the day is about.
    Vital as "reading" {
        SystolicHigh = "systolic-high",
        DiastolicHigh = "diastolic-high",
        SystolicLow = "systolic-low",
        SystolicLowWithSymptoms = "systolic-low-with-symptoms",
        OrthostaticFall = "orthostatic-fall",
        HeartRateHigh = "heart-rate-high",
        HeartRateVeryHigh = "heart-rate-very-high",
        HeartRateLow = "heart-rate-low",
        HeartRateLowWithSymptoms = "heart-rate-low-with-symptoms",
        Temperature = "temperature",
        WeightGain = "weight-gain",
        SaturationLow = "saturation-low",
    }
);

closed_words!(
    /// Which side of its value a cut-off stops.
    Side as "side of a cut-off" {
        AtOrAbove = "at or above",
        Above = "above",
        Below = "below",
        AtOrBelow = "at or below",
    }
);

closed_words!(
    /// How strict a contraindication or cut-off is.
    Strength as "strength" { Absolute = "absolute", Relative = "relative" }
);

/// One cut-off of the day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutOff {
    /// The set it belongs to.
    pub set: ScreeningSet,
    /// What it is about.
    pub vital: Vital,
    /// Which side stops.
    pub side: Side,
    /// The value.
    pub value: f64,
    /// Absolute, or to be settled with the doctor.
    pub strength: Strength,
    /// For a gain of weight: within this many days.
    pub within_days: Option<u16>,
    /// Where the number comes from.
    pub source: SourceId,
    /// How well it is known.
    pub tag: Tag,
}

impl Vital {
    /// Unit of its value.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::SystolicHigh
            | Self::DiastolicHigh
            | Self::SystolicLow
            | Self::SystolicLowWithSymptoms
            | Self::OrthostaticFall => "mmHg",
            Self::HeartRateHigh
            | Self::HeartRateVeryHigh
            | Self::HeartRateLow
            | Self::HeartRateLowWithSymptoms => "a minute",
            Self::Temperature => "degrees Celsius",
            Self::WeightGain => "kg",
            Self::SaturationLow => "per cent",
        }
    }

    /// Whether it stops only together with dizziness or a faint.
    pub const fn needs_symptoms(self) -> bool {
        matches!(
            self,
            Self::SystolicLowWithSymptoms | Self::OrthostaticFall | Self::HeartRateLowWithSymptoms
        )
    }
}

impl CutOff {
    /// Whether a value is on the side that stops.
    pub fn stops(&self, value: f64) -> bool {
        match self.side {
            Side::AtOrAbove => value >= self.value,
            Side::Above => value > self.value,
            Side::Below => value < self.value,
            Side::AtOrBelow => value <= self.value,
        }
    }
}

/// The cut-off a set uses for a reading: its own, or where it gives no number that of the cautious set.
pub fn cut_off(set: ScreeningSet, vital: Vital) -> &'static CutOff {
    let of = |wanted: ScreeningSet| {
        CUT_OFFS
            .iter()
            .find(|row| row.set == wanted && row.vital == vital)
    };
    of(set)
        .or_else(|| of(ScreeningSet::Cautious))
        .expect("the cautious set has a row for every reading: tested")
}

/// Every cut-off a set uses, in the order of the readings.
pub fn day_cut_offs(set: ScreeningSet) -> Vec<&'static CutOff> {
    Vital::ALL
        .iter()
        .map(|vital| cut_off(set, *vital))
        .collect()
}

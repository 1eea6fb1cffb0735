//! The cut-offs of the day, one table per set: bodies disagree, so the service chooses and its choice is printed.

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

const OURS: SourceId = SourceId("day-gate-ours");
const PRACTICE: SourceId = SourceId("day-gate-practice");
const REVIEW: SourceId = SourceId("heart-fail-rev-2023");
const UK: SourceId = SourceId("uk-phase-iv");
const AUSTRALIA: SourceId = SourceId("australian-heart-failure");
const US_BOOKS: SourceId = SourceId("acsm-getp");
const US_SHEETS: SourceId = SourceId("aacvpr-2004-sheets");
const FIELD_TESTS: SourceId = SourceId("holland-2014");
const ESC_PATIENTS: SourceId = SourceId("esc-heart-failure-patients");

const fn row(set: ScreeningSet, vital: Vital, side: Side, value: f64, source: SourceId) -> CutOff {
    CutOff {
        set,
        vital,
        side,
        value,
        strength: Strength::Absolute,
        within_days: None,
        source,
        tag: Tag::Read,
    }
}

impl CutOff {
    const fn tagged(mut self, tag: Tag) -> Self {
        self.tag = tag;
        self
    }

    const fn relative(mut self) -> Self {
        self.strength = Strength::Relative;
        self
    }

    const fn within(mut self, days: u16) -> Self {
        self.within_days = Some(days);
        self
    }
}

use ScreeningSet::{
    AcsmAacvpr, AustralianHeartFailure, Cautious, HeartFailureReview2023, UkPhaseIv,
};
use Side::{Above, AtOrAbove, AtOrBelow, Below};
use Vital::{
    DiastolicHigh, HeartRateHigh, HeartRateLow, HeartRateLowWithSymptoms, HeartRateVeryHigh,
    OrthostaticFall, SaturationLow, SystolicHigh, SystolicLow, SystolicLowWithSymptoms,
    Temperature, WeightGain,
};

/// The table.
pub const CUT_OFFS: &[CutOff] = &[
    // Source: day-gate-ours, our default gate: the strictest of the bodies where they disagree.
    row(Cautious, SystolicHigh, AtOrAbove, 180.0, OURS).tagged(Tag::Ours),
    row(Cautious, DiastolicHigh, AtOrAbove, 100.0, OURS).tagged(Tag::Ours),
    row(Cautious, OrthostaticFall, AtOrAbove, 20.0, OURS).tagged(Tag::Ours),
    row(Cautious, HeartRateHigh, AtOrAbove, 100.0, OURS).tagged(Tag::Ours),
    row(Cautious, HeartRateVeryHigh, AtOrAbove, 120.0, OURS).tagged(Tag::Ours),
    row(Cautious, WeightGain, AtOrAbove, 1.8, OURS)
        .tagged(Tag::Ours)
        .within(3),
    // Source: day-gate-practice: common local practice, recalled; no consensus number was found.
    row(Cautious, SystolicLow, Below, 90.0, PRACTICE).tagged(Tag::Recalled),
    row(Cautious, SystolicLowWithSymptoms, Below, 100.0, PRACTICE).tagged(Tag::Recalled),
    row(Cautious, HeartRateLow, Below, 40.0, PRACTICE).tagged(Tag::Recalled),
    row(Cautious, HeartRateLowWithSymptoms, Below, 50.0, PRACTICE).tagged(Tag::Recalled),
    row(Cautious, Temperature, AtOrAbove, 38.0, PRACTICE).tagged(Tag::Recalled),
    row(Cautious, SaturationLow, Below, 88.0, PRACTICE).tagged(Tag::Recalled),
    // Source: uk-phase-iv, exclusion text of UK phase IV (secondary).
    row(UkPhaseIv, SystolicHigh, Above, 180.0, UK),
    row(UkPhaseIv, DiastolicHigh, Above, 100.0, UK),
    row(UkPhaseIv, HeartRateHigh, Above, 100.0, UK),
    row(UkPhaseIv, OrthostaticFall, Above, 20.0, UK),
    // Source: esc-heart-failure-patients: more than 2 kg in 3 days.
    row(UkPhaseIv, WeightGain, Above, 2.0, ESC_PATIENTS).within(3),
    row(UkPhaseIv, SaturationLow, AtOrBelow, 85.0, FIELD_TESTS),
    // Source: heart-fail-rev-2023, table 1.
    row(
        HeartFailureReview2023,
        SystolicHigh,
        AtOrAbove,
        180.0,
        REVIEW,
    ),
    row(
        HeartFailureReview2023,
        DiastolicHigh,
        AtOrAbove,
        110.0,
        REVIEW,
    ),
    row(HeartFailureReview2023, OrthostaticFall, Above, 20.0, REVIEW),
    row(
        HeartFailureReview2023,
        HeartRateHigh,
        AtOrAbove,
        100.0,
        REVIEW,
    )
    .relative(),
    row(
        HeartFailureReview2023,
        HeartRateVeryHigh,
        Above,
        120.0,
        REVIEW,
    ),
    row(HeartFailureReview2023, WeightGain, AtOrAbove, 1.8, REVIEW)
        .relative()
        .within(3),
    row(
        HeartFailureReview2023,
        SaturationLow,
        AtOrBelow,
        85.0,
        FIELD_TESTS,
    ),
    // Source: australian-heart-failure, guidance for primary care and states.
    row(
        AustralianHeartFailure,
        SystolicHigh,
        Above,
        180.0,
        AUSTRALIA,
    )
    .relative(),
    row(
        AustralianHeartFailure,
        DiastolicHigh,
        Above,
        110.0,
        AUSTRALIA,
    )
    .relative(),
    row(
        AustralianHeartFailure,
        OrthostaticFall,
        Above,
        20.0,
        AUSTRALIA,
    ),
    row(
        AustralianHeartFailure,
        HeartRateHigh,
        AtOrAbove,
        100.0,
        AUSTRALIA,
    )
    .relative(),
    row(
        AustralianHeartFailure,
        HeartRateVeryHigh,
        Above,
        120.0,
        AUSTRALIA,
    ),
    row(
        AustralianHeartFailure,
        WeightGain,
        AtOrAbove,
        2.0,
        AUSTRALIA,
    )
    .relative()
    .within(3),
    row(
        AustralianHeartFailure,
        SaturationLow,
        AtOrBelow,
        85.0,
        FIELD_TESTS,
    ),
    // Source: acsm-getp (recalled) and aacvpr-2004-sheets (secondary) for the heart rate.
    row(AcsmAacvpr, SystolicHigh, Above, 180.0, US_BOOKS).tagged(Tag::Recalled),
    row(AcsmAacvpr, DiastolicHigh, Above, 110.0, US_BOOKS).tagged(Tag::Recalled),
    row(AcsmAacvpr, OrthostaticFall, Above, 20.0, US_BOOKS).tagged(Tag::Recalled),
    row(AcsmAacvpr, HeartRateHigh, Above, 120.0, US_SHEETS),
    row(AcsmAacvpr, HeartRateVeryHigh, Above, 120.0, US_SHEETS),
    row(AcsmAacvpr, SaturationLow, AtOrBelow, 85.0, FIELD_TESTS),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cautious_set_answers_every_reading_once() {
        for vital in Vital::ALL {
            let rows = CUT_OFFS
                .iter()
                .filter(|row| row.set == Cautious && row.vital == *vital);
            assert_eq!(rows.count(), 1, "{vital}");
        }
        for set in ScreeningSet::ALL {
            assert_eq!(day_cut_offs(*set).len(), Vital::ALL.len());
        }
    }

    #[test]
    fn no_set_has_two_rows_for_one_reading() {
        for row in CUT_OFFS {
            let same = CUT_OFFS
                .iter()
                .filter(|other| other.set == row.set && other.vital == row.vital);
            assert_eq!(same.count(), 1, "{} {}", row.set, row.vital);
        }
    }

    // The gate of ours: its own statement of each value, both sides of each boundary.
    #[test]
    fn cautious_cut_offs_stop_on_one_side_only() {
        let check = |vital, passes: f64, stops: f64| {
            let cut = cut_off(Cautious, vital);
            assert!(!cut.stops(passes), "{vital} {passes}");
            assert!(cut.stops(stops), "{vital} {stops}");
        };
        check(SystolicHigh, 179.0, 180.0);
        check(DiastolicHigh, 99.0, 100.0);
        check(SystolicLow, 90.0, 89.0);
        check(SystolicLowWithSymptoms, 100.0, 99.0);
        check(OrthostaticFall, 19.0, 20.0);
        check(HeartRateHigh, 99.0, 100.0);
        check(HeartRateVeryHigh, 119.0, 120.0);
        check(HeartRateLow, 40.0, 39.0);
        check(HeartRateLowWithSymptoms, 50.0, 49.0);
        check(Temperature, 37.9, 38.0);
        check(WeightGain, 1.7, 1.8);
        check(SaturationLow, 88.0, 87.0);
    }

    // Source: the published values of each body as they stand in the register; both sides of each boundary.
    #[test]
    fn published_cut_offs_of_each_body() {
        let check = |set, vital, passes: f64, stops: f64| {
            let cut = cut_off(set, vital);
            assert_eq!(cut.set, set, "{set} has no row of its own for {vital}");
            assert!(!cut.stops(passes), "{set} {vital} {passes}");
            assert!(cut.stops(stops), "{set} {vital} {stops}");
        };
        check(UkPhaseIv, SystolicHigh, 180.0, 181.0);
        check(UkPhaseIv, DiastolicHigh, 100.0, 101.0);
        check(UkPhaseIv, HeartRateHigh, 100.0, 101.0);
        check(UkPhaseIv, OrthostaticFall, 20.0, 21.0);
        check(HeartFailureReview2023, SystolicHigh, 179.0, 180.0);
        check(HeartFailureReview2023, DiastolicHigh, 109.0, 110.0);
        check(HeartFailureReview2023, HeartRateVeryHigh, 120.0, 121.0);
        check(HeartFailureReview2023, HeartRateHigh, 99.0, 100.0);
        check(HeartFailureReview2023, WeightGain, 1.7, 1.8);
        check(AustralianHeartFailure, SystolicHigh, 180.0, 181.0);
        check(AustralianHeartFailure, DiastolicHigh, 110.0, 111.0);
        check(AustralianHeartFailure, WeightGain, 1.9, 2.0);
        check(AcsmAacvpr, SystolicHigh, 180.0, 181.0);
        check(AcsmAacvpr, DiastolicHigh, 110.0, 111.0);
        check(AcsmAacvpr, HeartRateHigh, 120.0, 121.0);
    }
}

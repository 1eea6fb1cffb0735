//! The table of the cut-offs of the day: every row with its own source and tag.

use super::cutoffs::Side::{Above, AtOrAbove, AtOrBelow, Below};
use super::cutoffs::Vital::{
    DiastolicHigh, HeartRateHigh, HeartRateLow, HeartRateLowWithSymptoms, HeartRateVeryHigh,
    OrthostaticFall, SaturationLow, SystolicHigh, SystolicLow, SystolicLowWithSymptoms,
    Temperature, WeightGain,
};
use super::cutoffs::{CutOff, Side, Strength, Vital};
use crate::evidence::{SourceId, Tag};
use crate::service::ScreeningSet::{
    self, AacvprSheets2004, AcsmAacvpr, AustralianHeartFailure, Cautious, HeartFailureReview2023,
    UkPhaseIv, UkTeachingDeck,
};

const OURS: SourceId = SourceId("day-gate-ours");
const PRACTICE: SourceId = SourceId("day-gate-practice");
const REVIEW: SourceId = SourceId("heart-fail-rev-2023");
const UK: SourceId = SourceId("uk-phase-iv");
const AUSTRALIA: SourceId = SourceId("australian-heart-failure");
const US_BOOKS: SourceId = SourceId("acsm-getp");
const US_SHEETS: SourceId = SourceId("aacvpr-2004-sheets");
const UK_DECK: SourceId = SourceId("uk-teaching-deck");
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
    // Source: uk-teaching-deck (secondary): 200 or more, 110 or more; it gives nothing else.
    row(UkTeachingDeck, SystolicHigh, AtOrAbove, 200.0, UK_DECK),
    row(UkTeachingDeck, DiastolicHigh, AtOrAbove, 110.0, UK_DECK),
    // Source: aacvpr-2004-sheets (secondary): above 200, above 110, a rate above 120.
    row(AacvprSheets2004, SystolicHigh, Above, 200.0, US_SHEETS),
    row(AacvprSheets2004, DiastolicHigh, Above, 110.0, US_SHEETS),
    row(AacvprSheets2004, HeartRateHigh, Above, 120.0, US_SHEETS),
    row(AacvprSheets2004, HeartRateVeryHigh, Above, 120.0, US_SHEETS),
];

#[cfg(test)]
mod tests {
    use super::super::cutoffs::{cut_off, day_cut_offs};
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
        check(UkTeachingDeck, SystolicHigh, 199.0, 200.0);
        check(UkTeachingDeck, DiastolicHigh, 109.0, 110.0);
        check(AacvprSheets2004, SystolicHigh, 200.0, 201.0);
        check(AacvprSheets2004, DiastolicHigh, 110.0, 111.0);
        check(AacvprSheets2004, HeartRateHigh, 120.0, 121.0);
    }
}

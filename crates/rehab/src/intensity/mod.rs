//! How hard: maximal heart rate, heart-rate and oxygen reserve, ceilings, bands by body, equivalence tables, effort.

mod ceiling;
pub mod hr_max;
mod hr_max_rules;
mod predicted_peak;
mod reserve;

pub use ceiling::{
    CeilingFacts, DEVICE_MARGIN_BPM, ISCHAEMIA_MARGIN_BPM, below_device_zone, below_ischaemia,
    ceiling, tested_peak, under_ceiling,
};
pub use predicted_peak::{
    NoPeak, PeakFacts, PredictedPeak, UK_INBAR_FROM_AGE_YEARS, predicted_peak,
};
pub use reserve::{
    NoBand, karvonen, of_peak, of_peak_band, oxygen_reserve, oxygen_reserve_band, reserve_band,
    rounded_band,
};

use crate::evidence::Rule;

/// Every rule of this module.
pub(crate) fn rules() -> impl Iterator<Item = &'static Rule> {
    hr_max_rules::RULES
        .iter()
        .chain(predicted_peak::RULES)
        .chain(reserve::RULES)
        .chain(ceiling::RULES)
}

//! How hard: maximal heart rate, heart-rate and oxygen reserve, ceilings, bands by body, equivalence tables, effort.

mod bands;
mod ceiling;
mod effort;
mod equivalence;
pub mod hr_max;
mod hr_max_rules;
mod predicted_peak;
mod reserve;

pub use bands::{BodyBand, EffortRange, body_band, body_bands};
pub use ceiling::{
    CeilingFacts, DEVICE_MARGIN_BPM, ISCHAEMIA_MARGIN_BPM, below_device_zone, below_ischaemia,
    ceiling, tested_peak, under_ceiling,
};
pub use effort::{EffortRow, EffortTable, TalkFacts, TalkStage, beside, effort_rows, talk_facts};
pub use equivalence::{
    Level, LevelMeasure, LevelTable, PrintedRange, absolute_level, level_table, level_tables,
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
        .chain(bands::RULES)
        .chain(equivalence::rules())
        .chain(effort::RULES)
}

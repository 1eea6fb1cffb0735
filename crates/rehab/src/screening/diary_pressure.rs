//! A pressure told in a diary, against the cut-offs of the day.

use super::cutoffs::{CutOff, Vital, cut_off};
use super::day_rules::weight_of;
use crate::assessment::Pressure;
use crate::service::ScreeningSet;

/// The first cut-off of a set that a pressure told stands on the stopping side of. No agreement was given with this
/// reading in hand, so a relative cut-off stops too.
pub(crate) fn pressure_stops(
    set: ScreeningSet,
    pressure: Pressure,
    dizzy: bool,
) -> Option<&'static CutOff> {
    let readings = [
        (Vital::SystolicHigh, pressure.systolic_mmhg),
        (Vital::DiastolicHigh, pressure.diastolic_mmhg),
        (Vital::SystolicLow, pressure.systolic_mmhg),
        (Vital::SystolicLowWithSymptoms, pressure.systolic_mmhg),
    ];
    readings.into_iter().find_map(|(vital, value)| {
        let cut = cut_off(set, vital);
        weight_of(cut, value, dizzy, false).map(|_| cut)
    })
}

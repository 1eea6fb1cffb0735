//! The hard ceiling as the composer can use it: the highest mean rate, a margin below it.

use super::eligible::Way;
use super::ground::Asked;
use super::response::{Response, Z_95};

/// Steps of the search for the margin; each halves what is left.
const HALVINGS: u32 = 40;
/// Spread of the time constant as a share of the rise, sd: what it makes at most in a session of stations.
/// Source: `response-ours`; a test holds it against the plans of random people.
const TAU_SHARE: f64 = 0.12;
/// Error of a cost that does not grow with it, sd in METs: that of sitting quietly. Source: `response-ours`.
const COST_SD_AT_REST: f64 = 0.08;

/// A hard ceiling with the highest mean rate that any moment may have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct HardCeiling {
    /// The ceiling.
    pub(crate) ceiling_bpm: f64,
    /// Highest mean: the lower of the band's upper end and the ceiling less its margin.
    pub(crate) most_bpm: f64,
    /// Largest error that a moment at that mean can have, sd.
    pub(crate) sd_bpm: f64,
    /// Drift at the end of the session.
    pub(crate) drift_most_bpm: f64,
}

impl HardCeiling {
    /// The ceiling of a session of a length; `None` where it is only guiding and no peak was measured, or there is none.
    ///
    /// The margin is 1.645 times the largest error that any admissible session of that length can have. The error grows
    /// with the rate, and the highest rate falls with the margin, so the two are solved together.
    pub(crate) fn of(
        asked: &Asked<'_>,
        response: &Response,
        ways: &[Way<'_>],
        session_s: f64,
    ) -> Option<Self> {
        let limits = &asked.assessed.limits;
        let ceiling_bpm = limits.hard_rate()?.to_bpm();
        let drift_min = (session_s - response.drift_begins_s).max(0.0) / 60.0;
        let cost_share = ways.iter().map(cost_share).fold(0.0, f64::max);
        let error = |mean_bpm: f64| error_at(response, mean_bpm, cost_share, drift_min);
        let margin_fits = |mean_bpm: f64| mean_bpm + Z_95 * error(mean_bpm) <= ceiling_bpm;
        let (mut low, mut high) = (response.level_bpm - 60.0, ceiling_bpm);
        for _ in 0..HALVINGS {
            let middle = (low + high) / 2.0;
            if margin_fits(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        let band = limits.hr.map_or(f64::INFINITY, |band| band.high.to_bpm());
        let most_bpm = low.min(band);
        Some(Self {
            ceiling_bpm,
            most_bpm,
            sd_bpm: error(most_bpm),
            drift_most_bpm: response.drift_per_minute * drift_min,
        })
    }

    /// The same ceiling with a lower highest mean.
    pub(crate) fn lowered(self, by_bpm: f64) -> Self {
        Self {
            most_bpm: self.most_bpm - by_bpm,
            ..self
        }
    }
}

/// Largest error of a moment whose mean is at a rate.
///
/// Response and cost error pass through the same first-order filter, so where every way's cost error is at most a share
/// of its load, the filtered error is at most that share of the filtered load.
fn error_at(response: &Response, mean_bpm: f64, cost_share: f64, drift_min: f64) -> f64 {
    let rise = (mean_bpm - response.level_bpm).max(0.0);
    let phi = rise / response.slope.max(1.0);
    let answer = response.answer_sd_bpm(phi);
    let cost = response.slope * (cost_share * phi + COST_SD_AT_REST);
    let drift = response.drift_sd * drift_min;
    let tau = TAU_SHARE * rise;
    libm::sqrt(
        response.level_sd_bpm * response.level_sd_bpm
            + answer * answer
            + cost * cost
            + drift * drift
            + tau * tau,
    )
}

/// Error of a way's cost beyond that at rest as a share of its load, as the heart feels both.
fn cost_share(way: &Way<'_>) -> f64 {
    let sd = (way.mets_high - way.mets_low) * way.exercise.hr_gain / 4.0;
    let load = (way.mets - 1.0) * way.exercise.hr_gain;
    if load > 0.0 {
        ((sd - COST_SD_AT_REST) / load).max(0.0)
    } else {
        0.0
    }
}

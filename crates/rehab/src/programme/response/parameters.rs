//! The parameters of one person's response: prior means with their errors, before any pulse was logged.

use super::RULES;
use super::rules::{SLOPE_ID, TAU_ID};
use crate::assessed::Assessed;
use crate::assessment::{Answered, Case, HistoryItem};
use crate::evidence::{Because, Named, RuleId, Value};
use crate::known::Known;
use crate::service::Service;

/// Error of the level from day to day and place to place, sd in bpm. Source: `response-ours`.
const LEVEL_SD_BPM: f64 = 5.0;
/// Effect of one day on the whole session, sd in bpm. Source: `response-ours`.
const DAY_SD_BPM: f64 = 2.0;
/// Error of the model before it was fitted to this person, sd in bpm, where the slope is that of the prior; a heart that
/// rises half as much errs half as much. Source: `response-ours`.
const MODEL_SD_BPM: f64 = 6.0;
/// Error of one reading, sd in bpm: of what is counted, not of the heart. Source: `response-ours`.
pub const READING_SD_BPM: f64 = 4.0;
/// Slope without an exercise test, bpm a MET. Source: `response-ours`.
pub(super) const SLOPE_PRIOR: f64 = 13.5;
/// Its error, sd; of a measured slope the same share. Source: `response-ours`.
const SLOPE_SD: f64 = 3.0;
/// Drift after its beginning, bpm a minute. Source: `response-ours`, from `drew-drift` and `thow-2006`.
const DRIFT_PER_MINUTE: f64 = 0.15;
/// Its error, sd. Source: `response-ours`.
const DRIFT_SD: f64 = 0.10;
/// When the drift begins. Source: `drew-drift`.
const DRIFT_BEGINS_S: f64 = 600.0;
/// Time constant, median in s. Source: `treadmill-kinetics-2015` (57.6 +/- 23.6 s).
pub(crate) const TAU_S: f64 = 60.0;
/// With a rate-slowing medicine, in heart failure and from 70 years, median in s. Source: `response-ours`.
pub(crate) const TAU_SLOW_S: f64 = 75.0;
/// Age from which the slower constant is taken. Source: `older-kinetics` (aged 70 +/- 4 years).
pub(super) const SLOW_FROM_YEARS: f64 = 70.0;
/// Spread of the constant's logarithm. Source: `response-ours`.
const TAU_SIGMA_LN: f64 = 0.4;
/// Grid of the time constant in s, 30 to 150 by 15. Source: `response-ours`.
const TAU_GRID_S: [f64; 9] = [30.0, 45.0, 60.0, 75.0, 90.0, 105.0, 120.0, 135.0, 150.0];
/// Least peak in METs from which a slope is computed; below it the quotient says nothing. Source: `response-ours`.
const LEAST_PEAK_METS: f64 = 1.5;

closed_words!(
    /// Where the slope comes from.
    Basis as "basis of the slope" { Test = "exercise test", Prior = "no test" }
);

/// One value of the time constant with its weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TauWeight {
    /// Time constant in s.
    pub tau_s: f64,
    /// Weight; the weights of a grid add up to 1.
    pub weight: f64,
}

/// One person's response.
#[derive(Clone, Debug, PartialEq)]
pub struct Response {
    /// Rate at rest, bpm.
    pub level_bpm: f64,
    /// Error of the level in this session, sd in bpm: rest and day together.
    pub level_sd_bpm: f64,
    /// Error of the model under load before it was fitted to this person, sd in bpm. It is whole from one MET above rest
    /// on and none at rest, where the rate was counted.
    pub model_sd_bpm: f64,
    /// Rise in bpm a MET.
    pub slope: f64,
    /// Its error, sd.
    pub slope_sd: f64,
    /// Drift in bpm a minute.
    pub drift_per_minute: f64,
    /// Its error, sd.
    pub drift_sd: f64,
    /// When the drift begins, s.
    pub drift_begins_s: f64,
    /// Time constant of the predicted mean, s.
    pub tau_s: f64,
    /// The constant's own spread.
    pub taus: Vec<TauWeight>,
    /// Where the slope comes from.
    pub basis: Basis,
}

impl Response {
    /// The prior of one person; `None` where the pulse cannot be predicted or the resting rate is not known.
    pub fn of(case: &Case, service: &Service, assessed: &Assessed) -> Option<Self> {
        let limits = &assessed.limits;
        if !limits.pulse_model {
            return None;
        }
        let level_bpm = limits.resting_hr?.to_bpm();
        let (slope, basis) = slope_of(assessed, level_bpm);
        let known = Known::new(case, service, assessed.on);
        let tau_s = if answers_slowly(&known, assessed) {
            TAU_SLOW_S
        } else {
            TAU_S
        };
        Some(Self {
            level_bpm,
            level_sd_bpm: libm::sqrt(LEVEL_SD_BPM * LEVEL_SD_BPM + DAY_SD_BPM * DAY_SD_BPM),
            model_sd_bpm: MODEL_SD_BPM * slope / SLOPE_PRIOR,
            slope,
            slope_sd: SLOPE_SD * slope / SLOPE_PRIOR,
            drift_per_minute: DRIFT_PER_MINUTE,
            drift_sd: DRIFT_SD,
            drift_begins_s: DRIFT_BEGINS_S,
            tau_s,
            taus: tau_grid(tau_s),
            basis,
        })
    }

    /// Why the parameters are what they are, one reason each.
    pub fn because(&self) -> Vec<Because> {
        let mut slope = reason(
            SLOPE_ID,
            Value::Number(self.slope, "bpm a MET"),
            match self.basis {
                Basis::Test => "Rise of the pulse a MET, from the exercise test.",
                Basis::Prior => "Rise of the pulse a MET; no exercise test, so our prior.",
            },
        );
        slope.inputs = vec![Named::number("resting_hr_bpm", self.level_bpm, "bpm")];
        slope.unsure = Some(format!("+/- {:.1} bpm a MET (sd)", self.slope_sd));
        slope.changes_with = Some("an exercise test".to_owned());
        let mut tau = reason(
            TAU_ID,
            Value::Number(self.tau_s, "s"),
            "Time constant of the pulse: after one of them it has gone 63 % of the way.",
        );
        tau.unsure = Some("two thirds of people lie between 0.67 and 1.5 times it".to_owned());
        vec![slope, tau]
    }
}

fn reason(id: RuleId, value: Value, text: &str) -> Because {
    RULES
        .iter()
        .find(|rule| rule.id == id)
        .expect("the rule stands in the table beside")
        .because(value, text)
}

/// The slope from a test that measured both ends, else the prior.
fn slope_of(assessed: &Assessed, rest_bpm: f64) -> (f64, Basis) {
    let limits = &assessed.limits;
    let measured = assessed
        .capacity
        .used
        .as_ref()
        .filter(|used| used.measured && used.mets.to_mets() >= LEAST_PEAK_METS);
    match (limits.peak_hr, measured) {
        (Some(peak), Some(used)) if limits.peak_hr_measured && peak.to_bpm() > rest_bpm => (
            (peak.to_bpm() - rest_bpm) / (used.mets.to_mets() - 1.0),
            Basis::Test,
        ),
        _ => (SLOPE_PRIOR, Basis::Prior),
    }
}

fn answers_slowly(known: &Known<'_>, assessed: &Assessed) -> bool {
    let age = known.case.person.age_years(known.on);
    age.is_some_and(|age| age >= SLOW_FROM_YEARS)
        || assessed.limits.rate_slowed == Answered::Present
        || known.has(HistoryItem::HeartFailure)
}

/// Weights of the grid: the lognormal density about the median, normed.
fn tau_grid(median_s: f64) -> Vec<TauWeight> {
    let density = |tau_s: f64| {
        let z = libm::log1p(tau_s / median_s - 1.0) / TAU_SIGMA_LN;
        libm::exp(-0.5 * z * z) / tau_s
    };
    let total: f64 = TAU_GRID_S.iter().map(|tau_s| density(*tau_s)).sum();
    TAU_GRID_S
        .iter()
        .map(|tau_s| TauWeight {
            tau_s: *tau_s,
            weight: density(*tau_s) / total,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_the_grid_is_a_distribution_about_its_median() {
        for median in [TAU_S, TAU_SLOW_S] {
            let grid = tau_grid(median);
            let total: f64 = grid.iter().map(|one| one.weight).sum();
            assert!((total - 1.0).abs() < 1e-12);
            assert!(grid.iter().any(|one| (one.tau_s - median).abs() < 1e-9));
            let mean: f64 = grid.iter().map(|one| one.weight * one.tau_s).sum();
            // The mean of the lognormal is median x e^(sigma^2 / 2), 8 % above it; the grid is cut at both ends.
            assert!(mean > 0.95 * median && mean < 1.12 * median, "{mean}");
        }
    }
}

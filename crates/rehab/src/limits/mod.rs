//! The limits of the work: METs, effort, pulse and its ceiling, balance and posture, each with its reason.

mod balance;
mod effort;
mod load;
mod measured;
mod posture;
mod pulse;
mod pulse_rules;
mod rhythm;

use crate::assessed::{Adaptation, Capacity, CapacityEstimate, Limits, Risk};
use crate::assessment::Answered;
use crate::eligibility;
use crate::evidence::{Finding, Rule};
use crate::known::Known;
use crate::service::EffortBand;

/// Every rule of this module.
pub(crate) fn rules() -> impl Iterator<Item = &'static Rule> {
    rhythm::RULES
        .iter()
        .chain(measured::RULES)
        .chain(pulse_rules::RULES)
        .chain(load::RULES)
        .chain(effort::RULES)
        .chain(balance::RULES)
        .chain(posture::RULES)
}

/// The rule of the rate at which an implanted device treats.
pub(crate) const DEVICE_RATE_KNOWN: crate::evidence::RuleId = pulse_rules::DEVICE_RATE.id;

pub(crate) use balance::{Balance, balance};
pub(crate) use posture::{Posture, posture};

/// Whether the pulse says how hard the heart works.
pub(crate) fn pulse_says_work(known: &Known) -> bool {
    rhythm::no_target(known).is_none()
}

/// The effort band of the record on its day.
pub(crate) fn effort_band(known: &Known) -> EffortBand {
    effort::effort(known, crate::risk::stratify(known).risk.class).band
}

/// What the limits are made from.
pub(crate) struct Basis<'a> {
    pub(crate) capacity: &'a Capacity,
    pub(crate) holding: &'a [CapacityEstimate],
    pub(crate) risk: &'a Risk,
    pub(crate) rate_slowed: Answered,
    pub(crate) balance: Balance,
    pub(crate) posture: Posture,
    pub(crate) adaptations: Vec<Adaptation>,
}

/// Limits with what was noticed and what is still to find out.
pub(crate) struct Limited {
    pub(crate) limits: Limits,
    pub(crate) findings: Vec<Finding>,
    pub(crate) questions: Vec<Finding>,
}

/// The limits of the record on its day; computed whatever the decision is.
pub(crate) fn limit(known: &Known, basis: Basis) -> Limited {
    let consequence = eligibility::consequence(known, basis.risk.class);
    let high_pct = known
        .service
        .reserve_high_pct
        .min(consequence.reserve_high_pct);
    let load = load::load(known, basis.capacity, basis.holding, high_pct);
    let effort = effort::effort(known, basis.risk.class);
    let pulse = pulse::pulse(known, basis.rate_slowed, high_pct);
    let mut because = load.because;
    because.push(effort.because);
    because.extend(pulse.because);
    because.push(basis.balance.because);
    Limited {
        limits: Limits {
            hr: pulse.band,
            ceiling: pulse.ceiling,
            never_passed: pulse.never_passed,
            resting_hr: pulse.resting,
            peak_hr: pulse.peak,
            peak_hr_measured: pulse.peak_measured,
            pulse_model: pulse.model,
            rate_slowed: basis.rate_slowed,
            effort_scale: known.service.effort_scale,
            effort: effort.band,
            mets: load.band,
            mets_station_high: load.station_high,
            band_binds_station: load.band_binds_station,
            hypotensive: basis.posture.slow_changes,
            balance_max: basis.balance.most,
            adaptations: basis.adaptations,
            because,
        },
        findings: pulse
            .findings
            .into_iter()
            .chain(basis.balance.findings)
            .chain(basis.posture.findings)
            .collect(),
        questions: pulse
            .questions
            .into_iter()
            .chain(basis.balance.questions)
            .collect(),
    }
}

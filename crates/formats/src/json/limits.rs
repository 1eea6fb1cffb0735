//! The result of `limits`: screening, capacity, risk, eligibility and limits, each with its reasons.

use super::reasons::{because, findings, ids, number, reasons, rounded};
use rehab::assessed::{
    Adaptation, Assessed, Capacity, CapacityEstimate, Criterion, Eligibility, Limits, Risk,
    Screening,
};
use rehab::assessment::CaseId;
use rehab::service::Service;
use serde_json::{Value, json};

/// All that one assessment comes to.
pub fn limits(case: &CaseId, assessed: &Assessed, service: &Service) -> Value {
    json!({
        "case": case.0,
        "on": assessed.on.to_string(),
        "service": service.name,
        "screening": screening(&assessed.screening),
        "to_find_out": findings(&assessed.to_find_out),
        "capacity": capacity(&assessed.capacity),
        "risk": risk(&assessed.risk),
        "eligibility": eligibility(&assessed.eligibility),
        "limits": limits_of(&assessed.limits),
        "findings": findings(&assessed.findings),
        "signing_blocked": assessed.signing_blocked,
    })
}

pub(super) fn screening(screening: &Screening) -> Value {
    json!({
        "decision": screening.decision.word(),
        "set": screening.set.word(),
        "examined": screening.examined.map(|day| day.to_string()),
        "valid_until": screening.valid_until.map(|day| day.to_string()),
        "findings": findings(&screening.findings),
    })
}

fn capacity(capacity: &Capacity) -> Value {
    let used = capacity.used.as_ref();
    json!({
        "mets": used.map(|used| number(used.mets.to_mets())),
        "error_mets": used.and_then(|used| used.error_mets).map(number),
        "method": used.map(|used| &used.method),
        "measured": used.is_some_and(|used| used.measured),
        "date": used.and_then(|used| used.date).map(|day| day.to_string()),
        "cautions": used.map(|used| &used.cautions),
        "because": used.map(|used| because(&used.because)),
        "others": capacity.others.iter().map(estimate).collect::<Vec<_>>(),
        "findings": findings(&capacity.findings),
    })
}

fn estimate(estimate: &CapacityEstimate) -> Value {
    json!({
        "mets": number(estimate.mets.to_mets()),
        "error_mets": estimate.error_mets.map(number),
        "method": estimate.method,
        "measured": estimate.measured,
        "date": estimate.date.map(|day| day.to_string()),
        "cautions": estimate.cautions,
        "because": because(&estimate.because),
    })
}

fn risk(risk: &Risk) -> Value {
    json!({
        "class": risk.class.word(),
        "provisional": risk.provisional,
        "criteria": risk.criteria.iter().map(criterion).collect::<Vec<_>>(),
        "because": because(&risk.because),
    })
}

fn criterion(criterion: &Criterion) -> Value {
    json!({
        "id": criterion.rule.0,
        "class": criterion.class.word(),
        "state": criterion.state.word(),
        "text": criterion.text,
        "sources": ids(&criterion.sources),
    })
}

fn eligibility(eligibility: &Eligibility) -> Value {
    json!({
        "home": eligibility.home.word(),
        "agreed": eligibility.agreed.map(|day| day.to_string()),
        "watched_needed": eligibility.watched_needed,
        "watched_done": eligibility.watched_done,
        "alone_now": eligibility.alone_now,
        "call_every_days": eligibility.call_every_days,
        "because": because(&eligibility.because),
    })
}

fn limits_of(limits: &Limits) -> Value {
    json!({
        "hr": limits.hr.map(|band| json!({
            "low": band.low.to_bpm().ceil() as i64,
            "high": band.high.to_bpm().floor() as i64,
        })),
        "hr_ceiling": limits.ceiling.map(|ceiling| ceiling.rate.to_bpm().floor() as i64),
        "hr_ceiling_kind": limits.ceiling.map(|ceiling| ceiling.kind.word()),
        "resting_hr": limits.resting_hr.map(|rate| rounded(rate.to_bpm(), 1)),
        "peak_hr": limits.peak_hr.map(|rate| rounded(rate.to_bpm(), 1)),
        "peak_hr_measured": limits.peak_hr_measured,
        "pulse_model": limits.pulse_model,
        "rate_slowed": limits.rate_slowed.word(),
        "effort": {
            "scale": limits.effort_scale.word(),
            "low": number(limits.effort.low),
            "high": number(limits.effort.high),
        },
        "mets": {
            "low": number(limits.mets.low.to_mets()),
            "high": number(limits.mets.high.to_mets()),
        },
        "mets_station_high": number(limits.mets_station_high.to_mets()),
        "band_binds_station": limits.band_binds_station,
        "hypotensive": limits.hypotensive,
        "balance_max": limits.balance_max,
        "adaptations": limits.adaptations.iter().map(adaptation).collect::<Vec<_>>(),
        "because": reasons(&limits.because),
    })
}

fn adaptation(adaptation: &Adaptation) -> Value {
    json!({
        "reason": adaptation.reason.word(),
        "weeks_since": adaptation.weeks_since.map(|weeks| rounded(weeks, 1)),
        "until": adaptation.until.map(|day| day.to_string()),
        "joint": adaptation.joint.map(|joint| joint.word()),
        "finding": super::reasons::finding(&adaptation.finding),
    })
}

//! From the record to one assessed value: screening, capacity, risk, eligibility and limits on one day.

use crate::assessed::Assessed;
use crate::assessment::{Answered, Case, HistoryItem};
use crate::evidence::{Finding, Weight};
use crate::known::Known;
use crate::limits::{self, Basis};
use crate::medicine::{MedicineClass, MedicineEffect, Medicines};
use crate::screening::Gate;
use crate::service::Service;
use crate::{adaptations, capacity, eligibility, readiness, risk, screening, watching};
use jiff::civil::Date;

/// Everything one assessment comes to, on a day: a function of the record, the service's settings and the day.
///
/// Limits are computed whatever the decision is. What is missing never makes the answer looser: it is listed in
/// `to_find_out` with whom to ask and what waits for it.
///
/// ```
/// use jiff::civil::date;
/// use rehab::assessed::Decision;
/// use rehab::assessment::{Case, CaseId};
/// use rehab::service::Service;
///
/// // Of somebody of whom nothing is known: limits, but no exercise and a list of questions.
/// let case = Case::unknown(CaseId("nobody-yet".to_owned()));
/// let assessed = rehab::assess(&case, &Service::cautious(), date(2026, 11, 25));
/// assert_ne!(assessed.screening.decision, Decision::Exercise);
/// assert!(assessed.signing_blocked && !assessed.to_find_out.is_empty());
/// assert_eq!(assessed.limits.mets_station_high.to_mets(), 3.0);
/// ```
pub fn assess(case: &Case, service: &Service, on: Date) -> Assessed {
    let known = Known::new(case, service, on);
    let medicines = Medicines::on(&case.medicines, &service.medicine_names, on);
    let screened = screening::screen(&known, sugar_can_fall(&known, &medicines));
    let measured = capacity::capacity(&known, medicines.rate_slowed());
    let stratified = risk::stratify(&known);
    let mut screening = screened.screening;
    let mut gate = Gate::default();
    let eligibility = eligibility::decide(&known, &stratified.risk, screening.decision, &mut gate);
    screening.decision = eligibility::strictest(screening.decision, gate.decision());
    screening.findings.extend(gate.findings);
    order_findings(&mut screening.findings);

    let balance = limits::balance(&known);
    let posture = limits::posture(&known, &vasodilators(&medicines));
    let adapted = adaptations::adapt(&known, stratified.risk.class, &balance, &posture);
    let basis = Basis {
        capacity: &measured.capacity,
        holding: &measured.holding,
        risk: &stratified.risk,
        rate_slowed: medicines.rate_slowed(),
        balance,
        posture,
        adaptations: adapted.adaptations,
    };
    let limited = limits::limit(&known, basis);
    let mut to_find_out = screened.questions;
    to_find_out.extend(gate.questions);
    to_find_out.extend(stratified.questions);
    to_find_out.extend(measured.questions);
    to_find_out.extend(limited.questions);
    to_find_out.extend(adapted.questions);
    let (asked, told): (Vec<Finding>, Vec<Finding>) = medicines
        .findings(&case.nitrate)
        .into_iter()
        .partition(|one| one.ask.is_some());
    to_find_out.extend(asked);
    to_find_out.extend(readiness::questions(&known, &medicines));
    order_questions(&mut to_find_out);
    let mut findings = limited.findings;
    findings.extend(told);
    findings.extend(readiness::findings(&known));
    findings.extend(adapted.findings);
    findings.extend(watching::findings(&known, &limited.limits));
    order_findings(&mut findings);
    let signing_blocked = to_find_out
        .iter()
        .chain(&screening.findings)
        .chain(&findings)
        .any(|one| one.weight == Weight::BlocksSigning);
    Assessed {
        on,
        screening,
        capacity: measured.capacity,
        risk: stratified.risk,
        eligibility,
        limits: limited.limits,
        to_find_out,
        findings,
        signing_blocked,
    }
}

/// Whether a medicine that can bring low sugar is taken; in diabetes also while the medicines are not known.
fn sugar_can_fall(known: &Known, medicines: &Medicines) -> bool {
    match medicines.answer(MedicineEffect::LowSugar) {
        Answered::Present => true,
        Answered::NotKnown => known.has(HistoryItem::Diabetes),
        Answered::Absent => false,
    }
}

/// Names of the medicines taken every day that widen vessels; a spray taken only when needed is not one.
fn vasodilators(medicines: &Medicines) -> Vec<String> {
    // Source: thow-2006 and medicine-exercise: nitrates, ACE inhibitors, alpha blockers and their kind.
    const CLASSES: &[MedicineClass] = &[
        MedicineClass::Nitrate,
        MedicineClass::PotassiumChannelOpener,
        MedicineClass::AceInhibitor,
        MedicineClass::AngiotensinBlocker,
        MedicineClass::NeprilysinInhibitor,
        MedicineClass::AlphaBlocker,
        MedicineClass::CalciumBlocker,
        MedicineClass::DirectVasodilator,
        MedicineClass::PulmonaryVasodilator,
        MedicineClass::Phosphodiesterase5Inhibitor,
        MedicineClass::GuanylateCyclaseStimulator,
    ];
    medicines
        .taken
        .iter()
        .filter(|(medicine, _)| medicine.as_needed != Some(true))
        .flat_map(|(_, read)| &read.substances)
        .filter(|one| CLASSES.iter().any(|class| one.is(*class)))
        .map(|one| one.inn.to_owned())
        .collect()
}

/// Strictest first; within a weight in the order in which the parts spoke.
fn order_findings(findings: &mut [Finding]) {
    findings.sort_by_key(|one| one.weight);
}

/// Questions that block signing first, then those for which something waits, then the rest; one of each text.
fn order_questions(questions: &mut Vec<Finding>) {
    let waits = |one: &Finding| one.ask.as_ref().is_some_and(|ask| !ask.blocks.is_empty());
    questions.sort_by_key(|one| (one.weight, !waits(one)));
    let mut seen: Vec<(crate::evidence::RuleId, String)> = Vec::new();
    questions.retain(|one| {
        let key = (one.rule, one.text.clone());
        let new = !seen.contains(&key);
        seen.push(key);
        new
    });
}

#[cfg(test)]
mod tests;

//! Implanted devices.

use super::bundle::Resource;
use super::concept::{Concept, SNOMED};
use super::condition::{defibrillator, pacemaker};
use super::gather::{Gather, Why};
use crate::shape::ClosedWord;
use crate::tree::Node;
use rehab::assessment::PacingMode;
use rehab::quantity::check_bounds;

// Source: `snomed-codes`, recalled.
pub(super) const DEFIBRILLATOR: &str = "72506001";
pub(super) const PACEMAKER: &str = "14106009";

pub(super) fn take(resource: &Resource<'_>, gather: &mut Gather) {
    let concept = Concept::at(resource, "type");
    let called = if concept.called.is_empty() {
        resource.text("deviceName.name").unwrap_or("")
    } else {
        concept.called
    };
    match resource.text("status") {
        Some("entered-in-error") => {
            return gather.list(
                resource,
                Why::LeftOut,
                format!("{} was entered in error", concept.shown()),
            );
        }
        Some("inactive") => {
            return gather.list(
                resource,
                Why::LeftOut,
                format!("{} is no longer in use", concept.shown()),
            );
        }
        _ => {}
    }
    let ours = concept.ours("device");
    let code = concept.code_of(SNOMED);
    let plain = called.to_lowercase();
    let unknown = ours.is_none() && !matches!(code, Some(DEFIBRILLATOR | PACEMAKER));
    if unknown && IMPLANTED.iter().any(|word| plain.contains(word)) {
        let message = format!(
            "the device '{}' has no code that is known; is it implanted, and which is it? Ask the device clinic and add \
             it by hand, with the rate from which on it treats or tracks, before anything is signed",
            super::concept::short(called)
        );
        return gather.list(resource, Why::ToAsk, message);
    }
    if ours == Some("icd") || code == Some(DEFIBRILLATOR) {
        defibrillator(gather);
        defibrillator_properties(resource, gather);
    } else if ours == Some("pacemaker") || code == Some(PACEMAKER) {
        pacemaker(gather);
        pacemaker_properties(resource, gather);
    } else {
        let shown = if called.is_empty() {
            concept.shown()
        } else {
            format!("'{}'", super::concept::short(called))
        };
        gather.list(
            resource,
            Why::NotRead,
            format!("the device {shown} is not known; add it by hand if it matters"),
        );
    }
}

/// Words of a name that may be an implanted device: a question, never a guess.
const IMPLANTED: &[&str] = &[
    "defibrillator",
    "icd",
    "crt",
    "pacemaker",
    "pacing",
    "resynchroni",
    "ventricular assist",
    "lvad",
    "loop recorder",
    "implant",
    "cardio",
    "cardiac",
];

fn defibrillator_properties(resource: &Resource<'_>, gather: &mut Gather) {
    let rate = rate(resource, "lowest_treated_bpm", gather);
    let subcutaneous = property(resource, "subcutaneous").and_then(flag);
    let shock = property(resource, "last_shock").and_then(|node| node.text("valueCode.text"));
    let shock = shock
        .and_then(|text| text.parse().ok())
        .filter(|day| gather.impossible(*day).is_none());
    if let Some(device) = &mut gather.case.heart.device {
        device.lowest_treated_bpm = device.lowest_treated_bpm.or(rate);
        device.subcutaneous = device.subcutaneous.or(subcutaneous);
        device.last_shock = device.last_shock.or(shock);
    }
    if rate.is_none() {
        let message = "the lowest rate at which the defibrillator treats is not said; ask the clinic, nothing can be signed without it";
        gather.list(resource, Why::ToAsk, message);
    }
}

fn pacemaker_properties(resource: &Resource<'_>, gather: &mut Gather) {
    let base = rate(resource, "base_bpm", gather);
    let upper = rate(resource, "upper_tracking_bpm", gather);
    let mode = property(resource, "mode")
        .and_then(|node| node.text("valueCode.text"))
        .and_then(PacingMode::read);
    let response = property(resource, "rate_response").and_then(flag);
    let resynchronisation = property(resource, "resynchronisation").and_then(flag);
    if let Some(pacemaker) = &mut gather.case.heart.pacemaker {
        pacemaker.mode = pacemaker.mode.or(mode);
        pacemaker.base_bpm = pacemaker.base_bpm.or(base);
        pacemaker.upper_tracking_bpm = pacemaker.upper_tracking_bpm.or(upper);
        pacemaker.rate_response = pacemaker.rate_response.or(response);
        pacemaker.resynchronisation = pacemaker.resynchronisation.or(resynchronisation);
    }
}

fn property<'t>(resource: &Resource<'t>, key: &str) -> Option<&'t Node> {
    let mut properties = resource.all("property").into_iter();
    properties.find(|one| {
        one.find("type")
            .is_some_and(|kind| Concept::of(kind).ours("device") == Some(key))
    })
}

fn flag(node: &Node) -> Option<bool> {
    match node.text("valueCode.text") {
        Some("yes") => Some(true),
        Some("no") => Some(false),
        _ => None,
    }
}

fn rate(resource: &Resource<'_>, key: &'static str, gather: &mut Gather) -> Option<f64> {
    let value = property(resource, key)?.number("valueQuantity.value")?;
    match check_bounds(key, value) {
        Ok(value) => Some(value),
        Err(error) => {
            gather.list(resource, Why::LeftOut, error.message);
            None
        }
    }
}

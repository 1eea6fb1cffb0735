//! Medicines as they are taken or ordered.

use super::bundle::{Bundle, Resource};
use super::concept::{Concept, short};
use super::gather::{Gather, Why};
use super::moment::Moment;
use super::patient::clean;
use crate::shape::SHORT;
use crate::tree::Node;
use jiff::civil::Date;
use rehab::assessment::Medicine;

pub(super) fn take(resource: &Resource<'_>, bundle: &Bundle<'_>, gather: &mut Gather) {
    let Some(name) = name_of(resource, bundle) else {
        return gather.list(
            resource,
            Why::ToAsk,
            "a medicine without name and text; ask which it is",
        );
    };
    if resource.flag("doNotPerform") == Some(true) {
        let message = format!("{name} is an order not to give it; it was not taken as a medicine");
        return gather.list(resource, Why::LeftOut, message);
    }
    let status = resource.text("status").unwrap_or("unknown");
    let proposed = matches!(
        resource.text("intent"),
        Some("proposal" | "plan" | "option")
    );
    if proposed {
        return gather.list(
            resource,
            Why::LeftOut,
            format!("{name} was only proposed or planned"),
        );
    }
    let until = until_of(resource, gather);
    match status {
        "active" => {}
        "unknown" => gather.list(
            resource,
            Why::ToAsk,
            format!("{name}: its status is not known; taken as current, ask"),
        ),
        "completed" | "stopped" if until.is_some() => {}
        "completed" | "stopped" => {
            let message =
                format!("{name} is {status}, since when is not said; it was not taken as current");
            return gather.list(resource, Why::LeftOut, message);
        }
        "on-hold" => {
            return gather.list(
                resource,
                Why::ToAsk,
                format!("{name} is on hold; ask whether it is taken"),
            );
        }
        other => {
            return gather.list(
                resource,
                Why::LeftOut,
                format!("{name}: its status is {}", short(other)),
            );
        }
    }
    let since = gather.day(
        resource,
        &["effectivePeriod.start", "effectiveDateTime", "authoredOn"],
    );
    if let (Some(since), Some(until)) = (since, until)
        && until < since
    {
        let message = format!(
            "{name} ends on {until}, before it begins on {since}; both days were left out, ask"
        );
        gather.list(resource, Why::ToAsk, message);
        return add(resource, medicine(name, resource, None, None), gather);
    }
    add(resource, medicine(name, resource, since, until), gather);
}

fn medicine(
    name: String,
    resource: &Resource<'_>,
    since: Option<Date>,
    until: Option<Date>,
) -> Medicine {
    let dosage = resource
        .node("dosage")
        .or_else(|| resource.node("dosageInstruction"));
    Medicine {
        name,
        dose: dosage.and_then(dose),
        since,
        until,
        times: dosage.and_then(|dosage| clean(dosage.text("timing.code.text")?, SHORT)),
        as_needed: dosage.and_then(|dosage| dosage.flag("asNeededBoolean")),
    }
}

/// The same medicine as a statement and as an order is one medicine.
fn add(resource: &Resource<'_>, medicine: Medicine, gather: &mut Gather) {
    let same = |one: &&mut Medicine| {
        one.name.eq_ignore_ascii_case(&medicine.name)
            && (one.dose == medicine.dose || one.dose.is_none() || medicine.dose.is_none())
            && (one.until == medicine.until)
    };
    if let Some(one) = gather.case.medicines.iter_mut().find(same) {
        one.dose = one.dose.take().or(medicine.dose);
        one.since = one.since.or(medicine.since);
        one.times = one.times.take().or(medicine.times);
        one.as_needed = one.as_needed.or(medicine.as_needed);
        let message = format!(
            "{} stands in the bundle more than once; it was taken once",
            medicine.name
        );
        gather.list(resource, Why::LeftOut, message);
    } else {
        gather.case.medicines.push(medicine);
    }
}

fn name_of(resource: &Resource<'_>, bundle: &Bundle<'_>) -> Option<String> {
    let own = Concept::at(resource, "medicationCodeableConcept");
    if let Some(name) = clean(own.called, SHORT) {
        return Some(name);
    }
    let reference = resource.text("medicationReference.reference");
    let contained = reference.and_then(|reference| {
        let id = reference.strip_prefix('#')?;
        resource
            .all("contained")
            .into_iter()
            .find(|one| one.text("id") == Some(id))
    });
    let elsewhere = || {
        let medication = bundle.resolve(reference?)?;
        medication
            .node("code")
            .filter(|_| !medication.is_modified())
    };
    let concept = contained
        .and_then(|one| one.find("code"))
        .or_else(elsewhere)
        .map(Concept::of);
    let display = resource.text("medicationReference.display");
    concept
        .and_then(|concept| clean(concept.called, SHORT))
        .or_else(|| clean(display?, SHORT))
}

fn dose(dosage: &Node) -> Option<String> {
    if let Some(text) = dosage.text("text") {
        return clean(text, SHORT);
    }
    let quantity = dosage.find("doseAndRate.doseQuantity")?;
    let value = quantity.number("value")?;
    let unit = quantity
        .text("unit")
        .or_else(|| quantity.text("code"))
        .unwrap_or("");
    clean(&format!("{value} {unit}"), SHORT)
}

/// The last day; it may lie ahead.
fn until_of(resource: &Resource<'_>, gather: &mut Gather) -> Option<Date> {
    let text = resource
        .text("effectivePeriod.end")
        .or_else(|| resource.text("dispenseRequest.validityPeriod.end"))?;
    let moment = Moment::of(text);
    if moment.day().is_none() {
        let message = format!("its end '{}' is no whole day; it was left out", short(text));
        gather.list(resource, Why::ToAsk, message);
    }
    moment.day()
}

/// A Medication is read where something refers to it; else it says nothing of the patient.
pub(super) fn mind_unused(resource: &Resource<'_>, bundle: &Bundle<'_>, gather: &mut Gather) {
    let mut referring = bundle
        .resources
        .iter()
        .filter_map(|one| one.text("medicationReference.reference"));
    if !referring.any(|reference| resource.is_meant_by(reference)) {
        let message = "a Medication that no statement or order refers to; ask whether it is taken";
        gather.list(resource, Why::ToAsk, message);
    }
}

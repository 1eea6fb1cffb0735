//! Allergies: a case holds none, but one to a medicine that is taken, or to a nitrate, is a question.

use super::bundle::Resource;
use super::concept::{Concept, status};
use super::gather::{Gather, Why};
use crate::tree::Node;
use rehab::assessment::Nitrate;
use rehab::medicine::{MedicineClass, Recognition, recognise, recognise_medicine};

/// Taken after everything else, when all medicines are known.
pub(super) fn take(resource: &Resource<'_>, gather: &mut Gather) {
    let concept = Concept::at(resource, "code");
    let wrong = status(
        resource,
        "verificationStatus",
        &["entered-in-error", "refuted"],
        "",
    );
    if let Some(wrong) = wrong.filter(|word| !word.is_empty()) {
        let message = format!("allergy to {} was {wrong}", concept.shown());
        return gather.list(resource, Why::LeftOut, message);
    }
    let names = names(resource);
    let mut asked = false;
    if names.iter().any(|name| is_nitrate(name)) {
        // Whatever was taken of the spray is open again.
        gather.case.nitrate = Nitrate::unasked();
        let message = format!(
            "allergy to {}: it may be the spray or tablet for chest discomfort, so that is not settled; ask the doctor what is to be taken before it is written down as prescribed",
            concept.shown()
        );
        gather.list(resource, Why::ToAsk, message);
        asked = true;
    }
    for medicine in taken_in_spite(&names, gather) {
        let message = format!(
            "allergy to {}, and {medicine} is among the medicines; ask the doctor whether it is taken",
            concept.shown()
        );
        gather.list(resource, Why::ToAsk, message);
        asked = true;
    }
    if names.is_empty() {
        let message = "an allergy without a name; ask to what, and compare it with the medicines and the spray";
        gather.list(resource, Why::ToAsk, message);
    } else if !asked {
        let message = format!(
            "allergy to {}: a case holds no allergies, and it is none of the medicines listed and no nitrate; keep it in your own record",
            concept.shown()
        );
        gather.list(resource, Why::LeftOut, message);
    }
}

/// Everything by which the substance is called, also in its reactions.
fn names(resource: &Resource<'_>) -> Vec<String> {
    let mut concepts: Vec<&Node> = resource.node("code").into_iter().collect();
    for reaction in resource.all("reaction") {
        concepts.extend(reaction.find("substance"));
    }
    let mut names = Vec::new();
    for concept in concepts {
        let displays = concept.all("coding");
        let displays = displays.iter().filter_map(|coding| coding.text("display"));
        names.extend(
            concept
                .text("text")
                .into_iter()
                .chain(displays)
                .map(str::to_lowercase),
        );
    }
    names
}

/// Whether a name is a nitrate or may stand for the whole class.
fn is_nitrate(name: &str) -> bool {
    let class = ["nitrat", "nitrit", "nitrogl", "trinitr"];
    let read = recognise(name, &[]);
    read.substances
        .iter()
        .any(|one| one.is(MedicineClass::Nitrate))
        || class.iter().any(|word| name.contains(word))
}

/// Medicines of the list that are what the names say, by substance or by the words as written.
fn taken_in_spite(names: &[String], gather: &Gather) -> Vec<String> {
    let read: Vec<Recognition> = names.iter().map(|name| recognise(name, &[])).collect();
    let of_read = |inn: &str| {
        read.iter()
            .any(|one| one.substances.iter().any(|other| other.inn == inn))
    };
    let medicines = gather.case.medicines.iter();
    medicines
        .filter(|medicine| {
            let written = medicine.name.to_lowercase();
            let same = recognise_medicine(medicine, &[])
                .substances
                .iter()
                .any(|one| of_read(one.inn));
            same || names
                .iter()
                .any(|name| written.contains(name.as_str()) || name.contains(&written))
        })
        .map(|medicine| medicine.name.clone())
        .collect()
}

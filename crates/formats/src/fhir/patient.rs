//! The person.

use super::bundle::{Bundle, Resource};
use super::concept::OURS;
use super::gather::{Gather, Why};
use super::moment::Moment;
use crate::case::{id, is_hidden};
use crate::shape::{ClosedWord, LONG, SHORT};
use crate::tree::Node;
use rehab::assessment::{CaseId, Sex, Status, StatusKind};

pub(super) fn take(bundle: &Bundle<'_>, gather: &mut Gather) {
    let Some(patient) = bundle.patient() else {
        return;
    };
    // Nobody becomes active by having been imported: a programme is given to whom the team has taken on.
    gather.case.status = Status {
        kind: StatusKind::Referred,
        since: None,
    };
    if patient.is_modified() {
        return gather.list(patient, Why::NotRead, super::MODIFIED);
    }
    born(patient, gather);
    sex(patient, gather);
    names(patient, gather);
    contacts(patient, gather);
    if let Some(id) = own_id(patient) {
        gather.case.id = CaseId(id.to_owned());
    }
    let told = standing(patient, gather);
    if !died(patient, gather) && !told {
        let message = "where the case stands is not said; taken as referred, write it by hand";
        gather.list(patient, Why::ToAsk, message);
    }
}

/// Where the case stands, in our own words; no other system says it. Whether it was told.
fn standing(patient: &Resource<'_>, gather: &mut Gather) -> bool {
    let own = |name: &str, value: &str| {
        let extensions = patient.all("extension").into_iter();
        let mut named = extensions.filter(|one| {
            let url = one.text("url").and_then(|url| url.strip_prefix(OURS));
            url == Some(name)
        });
        named.find_map(|one| one.text(value))
    };
    let told = own("status", "valueCode").and_then(StatusKind::read);
    if let Some(kind) = told {
        let since = own("status-since", "valueDate").and_then(|text| text.parse().ok());
        gather.case.status = Status { kind, since };
    }
    told.is_some()
}

fn born(patient: &Resource<'_>, gather: &mut Gather) {
    match patient.text("birthDate").map(Moment::of) {
        Some(Moment::Day(day)) => match gather.impossible(day) {
            None => gather.case.person.born = Some(day),
            Some(reason) => gather.list(
                patient,
                Why::LeftOut,
                format!("birthDate {day} {reason}; ask for it"),
            ),
        },
        Some(Moment::Partial(part)) => {
            gather.list(
                patient,
                Why::ToAsk,
                format!("birthDate says only {part}; ask for the day"),
            );
        }
        Some(Moment::Unreadable(text)) => {
            gather.list(
                patient,
                Why::NotRead,
                format!("birthDate '{text}' is no date; ask for the day"),
            );
        }
        None => {}
    }
}

fn sex(patient: &Resource<'_>, gather: &mut Gather) {
    match patient.text("gender") {
        Some("female") => gather.case.person.sex = Some(Sex::Female),
        Some("male") => gather.case.person.sex = Some(Sex::Male),
        Some(other) => {
            let message = format!(
                "gender '{}' tells nothing for the equations; ask which sex they are to use",
                super::concept::short(other)
            );
            gather.list(patient, Why::ToAsk, message);
        }
        None => {}
    }
}

fn names(patient: &Resource<'_>, gather: &mut Gather) {
    let names = patient.all("name");
    let of_use = |wanted: &str| names.iter().find(|name| name.text("use") == Some(wanted));
    let main = of_use("official").or_else(|| of_use("usual")).or_else(|| {
        names.iter().find(|name| {
            !matches!(
                name.text("use"),
                Some("old" | "maiden" | "nickname" | "temp")
            )
        })
    });
    gather.case.person.name = main
        .or_else(|| {
            names
                .iter()
                .find(|name| name.text("use") != Some("nickname"))
        })
        .and_then(|name| whole_name(name));
    gather.case.person.called = of_use("nickname").and_then(|name| whole_name(name));
}

fn whole_name(name: &Node) -> Option<String> {
    let parts = ["given", "family"]
        .into_iter()
        .flat_map(|key| name.all(key));
    let words: Vec<&str> = parts.filter_map(|part| part.own_text()).collect();
    let text = name
        .text("text")
        .map_or_else(|| words.join(" "), str::to_owned);
    let seen: String = text
        .chars()
        .map(|sign| if sign.is_control() { ' ' } else { sign })
        .filter(|sign| !is_hidden(*sign))
        .collect();
    clean(&seen, SHORT)
}

fn contacts(patient: &Resource<'_>, gather: &mut Gather) {
    let numbers = patient.all("telecom").into_iter().filter(|one| {
        matches!(one.text("system"), Some("phone" | "sms")) && one.text("use") != Some("old")
    });
    let numbers: Vec<String> = numbers
        .filter_map(|one| clean(one.text("value")?, SHORT))
        .take(10)
        .collect();
    let person = &mut gather.case.person;
    person.telephones = numbers;
    person.address = patient.node("address").and_then(address);
    person.doctor = patient
        .text("generalPractitioner.display")
        .and_then(|name| clean(name, SHORT));
    person.emergency_contact = patient.node("contact").and_then(contact);
    let languages = patient.all("communication");
    let preferred = languages
        .iter()
        .find(|one| one.flag("preferred") == Some(true))
        .or_else(|| languages.first());
    let tag = preferred.and_then(|one| one.text("language.coding.code"));
    match tag {
        Some(tag) if crate::case::shape::is_language(tag) => person.language = Some(tag.to_owned()),
        Some(_) => gather.list(
            patient,
            Why::NotRead,
            "the language is no language tag; write it by hand",
        ),
        None => {}
    }
}

fn address(address: &Node) -> Option<String> {
    if let Some(text) = address.text("text") {
        return clean(text, LONG);
    }
    let lines = address
        .all("line")
        .into_iter()
        .filter_map(|line| line.own_text());
    let rest = ["postalCode", "city", "country"]
        .into_iter()
        .filter_map(|key| address.text(key));
    clean(&lines.chain(rest).collect::<Vec<_>>().join(", "), LONG)
}

fn contact(contact: &Node) -> Option<String> {
    let name = contact.find("name").and_then(whole_name);
    let number = contact.text("telecom.value").map(str::to_owned);
    let parts: Vec<String> = [name, number].into_iter().flatten().collect();
    clean(&parts.join(", "), SHORT)
}

/// The id that we gave ourselves.
fn own_id<'t>(patient: &Resource<'t>) -> Option<&'t str> {
    patient
        .all("identifier")
        .into_iter()
        .filter(|one| {
            one.text("system")
                .and_then(|system| system.strip_prefix(OURS))
                == Some("case")
        })
        .find_map(|one| one.text("value"))
        .filter(|value| id::check(value).is_ok())
}

/// Whether the person has died. It is taken, and said together with what follows and what to do where it is a mistake.
fn died(patient: &Resource<'_>, gather: &mut Gather) -> bool {
    let since = gather.day(patient, &["deceasedDateTime"]);
    let since = since.or(gather
        .case
        .status
        .since
        .filter(|_| gather.case.status.kind == StatusKind::Died));
    let dead =
        patient.text("deceasedDateTime").is_some() || patient.flag("deceasedBoolean") == Some(true);
    if dead {
        let day = since.map_or_else(
            || ", the day is not said".to_owned(),
            |day| format!(" on {day}"),
        );
        let message = format!(
            "the bundle says that they have died{day}; taken so: nothing is asked, planned, called or sent any more. Make sure of it with whoever sent the bundle; if it is a mistake, write where the case stands by hand"
        );
        gather.list(patient, Why::ToAsk, message);
        gather.case.status = Status {
            kind: StatusKind::Died,
            since,
        };
    }
    dead
}

/// Text as our files take it: no control characters, no more than so many signs, nothing when it is empty.
pub(super) fn clean(text: &str, most: usize) -> Option<String> {
    let plain = |sign: char| {
        if sign.is_control() && sign != '\n' {
            ' '
        } else {
            sign
        }
    };
    let text: String = text.trim().chars().map(plain).take(most).collect();
    (!text.trim().is_empty()).then(|| text.trim().to_owned())
}

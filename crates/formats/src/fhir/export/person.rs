//! The person as a Patient.

use super::{Out, day};
use crate::fhir::concept::OURS;
use rehab::assessment::{Case, Sex, StatusKind};
use serde_json::{Value, json};

pub(super) fn write(case: &Case, out: &mut Out) {
    let person = &case.person;
    let name = |usage: &str, name: &Option<String>| {
        name.as_ref()
            .map_or(Value::Null, |name| json!({ "use": usage, "text": name }))
    };
    let died = case.status.kind == StatusKind::Died;
    let gender = person.sex.map(|sex| match sex {
        Sex::Female => "female",
        Sex::Male => "male",
    });
    let numbers: Vec<Value> = person
        .telephones
        .iter()
        .map(|number| json!({ "system": "phone", "value": number }))
        .collect();
    let language = person.language.as_ref().map(|tag| {
        json!({ "language": { "coding": [{ "system": "urn:ietf:bcp:47", "code": tag }] }, "preferred": true })
    });
    let body = json!({
        "extension": [
            { "url": format!("{OURS}status"), "valueCode": case.status.kind.word() },
            case.status.since.map(|since| json!({ "url": format!("{OURS}status-since"), "valueDate": since.to_string() })),
        ],
        "identifier": [{ "system": format!("{OURS}case"), "value": case.id.0 }],
        "name": [name("official", &person.name), name("nickname", &person.called)],
        "telecom": numbers,
        "gender": gender,
        "birthDate": day(person.born),
        "deceasedDateTime": if died { day(case.status.since) } else { Value::Null },
        "deceasedBoolean": (died && case.status.since.is_none()).then_some(true),
        "address": [{ "text": person.address }],
        "contact": [{ "name": { "text": person.emergency_contact } }],
        "communication": [language],
        "generalPractitioner": [{ "display": person.doctor }],
    });
    out.add("Patient", body);
}

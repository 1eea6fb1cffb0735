//! Events and their procedures, history, medicines and devices.

use super::{Out, code, day, ours};
use crate::fhir::codes_condition::{snomed_of_event, snomed_of_history};
use crate::fhir::codes_procedure::{is_procedure, snomed_of};
use crate::fhir::concept::SNOMED;
use crate::fhir::device::{DEFIBRILLATOR, PACEMAKER};
use jiff::civil::Date;
use rehab::assessment::{Case, Event, HistoryItem};
use serde_json::{Value, json};

const CLINICAL: &str = "http://terminology.hl7.org/CodeSystem/condition-clinical";
const VERIFICATION: &str = "http://terminology.hl7.org/CodeSystem/condition-ver-status";

pub(super) fn events(case: &Case, out: &mut Out) {
    for event in &case.events {
        let concept = json!({
            "coding": [ours("event", event.kind.word()), code(SNOMED, snomed_of_event(event.kind))],
        });
        let subject = out.patient();
        let procedural = is_procedure(event.kind);
        let address = if procedural {
            out.add("Procedure", json!({
                "status": "completed", "code": concept, "subject": subject, "performedDateTime": day(event.date),
            }))
        } else {
            out.add("Condition", json!({
                "verificationStatus": { "coding": [{ "system": VERIFICATION, "code": "confirmed" }] },
                "code": concept, "subject": subject, "onsetDateTime": day(event.date),
            }))
        };
        procedures(event, procedural, &address, out);
    }
}

fn procedures(event: &Event, of_procedure: bool, address: &str, out: &mut Out) {
    for procedure in &event.procedures {
        let reference = json!([{ "reference": address }]);
        let subject = out.patient();
        out.add("Procedure", json!({
            "status": "completed",
            "code": { "coding": [ours("procedure", procedure.kind.word()), code(SNOMED, snomed_of(procedure.kind))] },
            "subject": subject,
            "performedDateTime": day(procedure.date),
            "partOf": if of_procedure { reference.clone() } else { Value::Null },
            "reasonReference": if of_procedure { Value::Null } else { reference },
        }));
    }
}

pub(super) fn history(case: &Case, out: &mut Out) {
    for item in &case.history.present {
        condition(*item, "confirmed", case.history.began(*item), out);
    }
    for item in &case.history.absent {
        condition(*item, "refuted", None, out);
    }
}

fn condition(item: HistoryItem, verification: &str, since: Option<Date>, out: &mut Out) {
    let subject = out.patient();
    let active = verification == "confirmed";
    out.add("Condition", json!({
        "clinicalStatus": if active { json!({ "coding": [{ "system": CLINICAL, "code": "active" }] }) } else { Value::Null },
        "verificationStatus": { "coding": [{ "system": VERIFICATION, "code": verification }] },
        "code": { "coding": [ours("history", item.word()), code(SNOMED, snomed_of_history(item))] },
        "subject": subject,
        "onsetDateTime": day(since),
    }));
}

pub(super) fn medicines(case: &Case, on: Option<Date>, out: &mut Out) {
    for medicine in &case.medicines {
        let ended = medicine.until.zip(on).is_some_and(|(until, on)| until < on);
        let subject = out.patient();
        out.add(
            "MedicationStatement",
            json!({
                "status": if ended { "completed" } else { "active" },
                "medicationCodeableConcept": { "text": medicine.name },
                "subject": subject,
                "effectivePeriod": { "start": day(medicine.since), "end": day(medicine.until) },
                "dosage": [{
                    "text": medicine.dose,
                    "timing": { "code": { "text": medicine.times } },
                    "asNeededBoolean": medicine.as_needed,
                }],
            }),
        );
    }
}

pub(super) fn devices(case: &Case, out: &mut Out) {
    if let Some(device) = case.heart.device {
        let shock = device.last_shock.map(|day| day.to_string());
        add_device(
            "icd",
            DEFIBRILLATOR,
            &[
                rate("lowest_treated_bpm", device.lowest_treated_bpm),
                word("last_shock", shock.as_deref()),
                word("subcutaneous", yes_no(device.subcutaneous)),
            ],
            out,
        );
    }
    if let Some(pacemaker) = case.heart.pacemaker {
        add_device(
            "pacemaker",
            PACEMAKER,
            &[
                word("mode", pacemaker.mode.map(|mode| mode.word())),
                rate("base_bpm", pacemaker.base_bpm),
                rate("upper_tracking_bpm", pacemaker.upper_tracking_bpm),
                word("rate_response", yes_no(pacemaker.rate_response)),
                word("resynchronisation", yes_no(pacemaker.resynchronisation)),
            ],
            out,
        );
    }
}

fn add_device(kind: &str, snomed: &str, properties: &[Value], out: &mut Out) {
    let patient = out.patient();
    out.add(
        "Device",
        json!({
            "status": "active",
            "type": { "coding": [ours("device", kind), code(SNOMED, Some(snomed))] },
            "property": properties,
            "patient": patient,
        }),
    );
}

fn rate(key: &str, bpm: Option<f64>) -> Value {
    bpm.map_or(Value::Null, |bpm| {
        json!({
            "type": { "coding": [ours("device", key)] },
            "valueQuantity": [{ "value": bpm, "unit": "/min", "system": crate::fhir::concept::UCUM, "code": "/min" }],
        })
    })
}

fn word(key: &str, word: Option<&str>) -> Value {
    word.map_or(Value::Null, |word| {
        json!({ "type": { "coding": [ours("device", key)] }, "valueCode": [{ "text": word }] })
    })
}

fn yes_no(flag: Option<bool>) -> Option<&'static str> {
    flag.map(|flag| if flag { "yes" } else { "no" })
}

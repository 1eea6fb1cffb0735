//! Measurements, function and tests as Observations.

use super::{Out, code, day, ours};
use crate::case;
use crate::fhir::codes_observation::snomed_of_class;
use crate::fhir::concept::{LOINC, SNOMED, UCUM};
use crate::tree::{self, Content, Entry};
use jiff::civil::Date;
use rehab::assessment::{Case, Examination, Pressure};
use rehab::quantity::bound_of;
use serde_json::{Value, json};

const CATEGORY: &str = "http://terminology.hl7.org/CodeSystem/observation-category";

pub(super) fn write(case: &Case, out: &mut Out) {
    number(
        out,
        "8302-2",
        "Body height",
        case.person.height_cm,
        "cm",
        None,
    );
    number(
        out,
        "29463-7",
        "Body weight",
        case.person.weight_kg,
        "kg",
        None,
    );
    let heart = &case.heart;
    number(
        out,
        "10230-1",
        "Left ventricular ejection fraction",
        heart.ejection_fraction_pct,
        "%",
        None,
    );
    number(
        out,
        "718-7",
        "Haemoglobin",
        heart.haemoglobin_g_dl,
        "g/dL",
        None,
    );
    if let Some(rhythm) = heart.rhythm {
        let value =
            json!({ "valueCodeableConcept": { "coding": [ours("rhythm", rhythm.word())] } });
        observation(out, loinc("8884-9", "Heart rhythm"), None, value);
    }
    for examination in &case.examinations {
        examined(examination, out);
    }
    for test in case::tests_to_tables(case) {
        tested(&test.entries, out);
    }
}

fn examined(examination: &Examination, out: &mut Out) {
    let on = Some(examination.date);
    number(
        out,
        "8867-4",
        "Heart rate",
        examination.resting_hr_bpm,
        "/min",
        on,
    );
    let panel = loinc("85354-9", "Blood pressure");
    pressure(out, panel, ["8480-6", "8462-4"], examination.resting_bp, on);
    let standing = json!({ "coding": [ours("observation", "standing-pressure")] });
    pressure(
        out,
        standing,
        ["8460-8", "8454-1"],
        examination.standing_bp,
        on,
    );
    number(
        out,
        "59408-5",
        "Oxygen saturation",
        examination.spo2_pct,
        "%",
        on,
    );
    number(
        out,
        "29463-7",
        "Body weight",
        examination.weight_kg,
        "kg",
        on,
    );
    number(
        out,
        "8310-5",
        "Body temperature",
        examination.temperature_c,
        "Cel",
        on,
    );
    number(
        out,
        "15074-8",
        "Glucose",
        examination.glucose_mmol_l,
        "mmol/L",
        on,
    );
    if let Some(ketones) = examination.ketones_mmol_l {
        let value = json!({ "valueQuantity": quantity(ketones, "mmol/L") });
        observation(
            out,
            json!({ "coding": [ours("observation", "ketones")] }),
            on,
            value,
        );
    }
    if let Some(class) = examination.nyha {
        let value = json!({ "valueCodeableConcept": {
            "coding": [code(SNOMED, snomed_of_class(class))], "text": format!("Class {class}"),
        } });
        observation(out, loinc("88020-3", "Functional class"), on, value);
    }
    for (word, flag) in [
        ("oedema", examination.oedema),
        ("pulse-regular", examination.pulse_regular),
    ] {
        if let Some(flag) = flag {
            let concept = json!({ "coding": [ours("observation", word)] });
            observation(out, concept, on, json!({ "valueBoolean": flag }));
        }
    }
    if let Some(symptoms) = &examination.symptoms {
        let words = symptoms.iter().map(|symptom| {
            json!({ "code": { "coding": [ours("symptom", symptom.word())] }, "valueBoolean": true })
        });
        let value = json!({
            "valueString": if symptoms.is_empty() { Some("none") } else { None },
            "component": words.collect::<Vec<_>>(),
        });
        observation(
            out,
            json!({ "coding": [ours("observation", "symptoms")] }),
            on,
            value,
        );
    }
}

/// A test with everything that makes it comparable, each part in its own component.
fn tested(entries: &[Entry], out: &mut Out) {
    let plain = |key: &str| {
        entries
            .iter()
            .find(|entry| entry.key == key)
            .map(|entry| tree::to_json(&entry.node))
    };
    let kind = plain("kind").unwrap_or_default();
    let kind = kind.as_str().unwrap_or_default();
    let parts = entries
        .iter()
        .filter(|entry| entry.key != "kind" && entry.key != "date");
    let subject = out.patient();
    out.add(
        "Observation",
        json!({
            "status": "final",
            "code": { "coding": [ours("test", kind)] },
            "subject": subject,
            "effectiveDateTime": plain("date"),
            "component": parts.map(component).collect::<Vec<_>>(),
        }),
    );
}

fn component(entry: &Entry) -> Value {
    let mut out = json!({ "code": { "coding": [ours("key", &entry.key)] } });
    let json = tree::to_json(&entry.node);
    let (key, value) = match &entry.node.content {
        Content::Flag(flag) => ("valueBoolean", json!(flag)),
        Content::Whole(_) | Content::Number(_) => {
            let unit = bound_of(&entry.key).map(|bound| bound.unit);
            ("valueQuantity", json!({ "value": json, "unit": unit }))
        }
        Content::List(_) | Content::Table(_) => ("valueString", json!(json.to_string())),
        _ => ("valueString", json),
    };
    out[key] = value;
    out
}

fn loinc(code: &str, display: &str) -> Value {
    json!({ "coding": [{ "system": LOINC, "code": code }], "text": display })
}

fn quantity(value: f64, unit: &str) -> Value {
    json!({ "value": tree::to_json(&value.into()), "unit": unit, "system": UCUM, "code": unit })
}

fn number(
    out: &mut Out,
    code: &str,
    display: &str,
    value: Option<f64>,
    unit: &str,
    on: Option<Date>,
) {
    if let Some(value) = value {
        observation(
            out,
            loinc(code, display),
            on,
            json!({ "valueQuantity": quantity(value, unit) }),
        );
    }
}

fn pressure(
    out: &mut Out,
    concept: Value,
    codes: [&str; 2],
    pressure: Option<Pressure>,
    on: Option<Date>,
) {
    let Some(pressure) = pressure else {
        return;
    };
    let part = |code: &str, display: &str, mmhg: f64| json!({ "code": loinc(code, display), "valueQuantity": quantity(mmhg, "mm[Hg]") });
    let parts = json!({ "component": [
        part(codes[0], "Systolic pressure", pressure.systolic_mmhg),
        part(codes[1], "Diastolic pressure", pressure.diastolic_mmhg),
    ] });
    observation(out, concept, on, parts);
}

fn observation(out: &mut Out, concept: Value, on: Option<Date>, value: Value) {
    let mut body = json!({
        "status": "final",
        "category": [{ "coding": [{ "system": CATEGORY, "code": "exam" }] }],
        "code": concept,
        "subject": out.patient(),
        "effectiveDateTime": day(on),
    });
    if let (Value::Object(body), Value::Object(value)) = (&mut body, value) {
        body.extend(value);
    }
    out.add("Observation", body);
}

//! FHIR against two general-purpose libraries: what we write both accept, what they write we read.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::{Value, json};
use tests::tools;

fn fixture(name: &str) -> PathBuf {
    tools::root()
        .join("crates/formats/tests/formats/fixtures")
        .join(name)
}

fn file(name: &str, text: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text).expect("the tests' folder can be written");
    path
}

/// Runs the program and hands back both its outputs.
fn hearthpace(arguments: &[&str], input: &Path) -> (String, String) {
    let output = Command::new(tools::hearthpace())
        .args(arguments)
        .arg(input)
        .output()
        .expect("the program has just been built");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("the program prints UTF-8");
    let (out, err) = (text(output.stdout), text(output.stderr));
    assert!(output.status.success(), "{arguments:?}: {err}");
    (out, err)
}

fn exported(name: &str) -> String {
    hearthpace(&["export"], &fixture(name)).0
}

/// What PyPI's `fhir.resources` has against this Bundle; empty when nothing.
fn python_complains(bundle: &Path) -> String {
    let script = "import sys\n\
                  from fhir.resources.R4B.bundle import Bundle\n\
                  try:\n    Bundle.model_validate_json(open(sys.argv[1]).read())\n\
                  except ValueError as error:\n    print(error)\n";
    tools::run_python(script, &[&bundle.display().to_string()])
        .trim()
        .to_owned()
}

/// What npm's `fhir` has against this Bundle; empty when nothing.
fn node_complains(bundle: &Path) -> String {
    let script = "const { Fhir } = require('fhir'); const text = require('fs').readFileSync(process.argv[1], 'utf8'); \
                  const found = new Fhir().validate(JSON.parse(text), { errorOnUnexpected: true }); \
                  if (!found.valid) console.log(JSON.stringify(found.messages.filter(m => m.severity !== 'info')));";
    tools::run_node(script, &[&bundle.display().to_string()])
        .trim()
        .to_owned()
}

#[test]
fn reference_our_bundles_are_accepted_by_both_libraries() {
    for name in ["everything.toml", "fenwick.toml"] {
        let bundle = file(&format!("{name}.json"), &exported(name));
        assert_eq!(python_complains(&bundle), "", "{name}");
        assert_eq!(node_complains(&bundle), "", "{name}");
    }
}

#[test]
fn reference_a_spoilt_bundle_of_ours_is_refused_by_the_libraries() {
    let good = exported("everything.toml");
    for (from, to) in [
        (
            "\"birthDate\": \"1948-02-29\"",
            "\"birthDate\": \"29.02.1948\"",
        ),
        (
            "\"resourceType\": \"Patient\",",
            "\"resourceType\": \"Patient\", \"shoeSize\": 43,",
        ),
    ] {
        assert!(good.contains(from), "the export holds no {from}");
        let bundle = file("spoilt.json", &good.replacen(from, to, 1));
        assert_ne!(python_complains(&bundle), "", "{to}");
    }
    let bundle = file(
        "spoilt-code.json",
        &good.replacen("\"gender\": \"male\"", "\"gender\": \"man\"", 1),
    );
    assert_ne!(node_complains(&bundle), "");
}

/// Through XML and back by the library: what it understood of our bundle is still the same case.
#[test]
fn reference_our_bundle_survives_the_way_through_xml() {
    let bundle = file("before-xml.json", &exported("everything.toml"));
    let script = "const { Fhir } = require('fhir'); const text = require('fs').readFileSync(process.argv[1], 'utf8'); \
                  const fhir = new Fhir(); console.log(fhir.xmlToJson(fhir.jsonToXml(text)));";
    let after = tools::run_node(script, &[&bundle.display().to_string()]);
    let before = hearthpace(&["import"], &bundle).0;
    let (after, listed) = hearthpace(&["import"], &file("after-xml.json", &after));
    assert_eq!(after, before);
    assert_eq!(listed, "");
}

const MAKE_BUNDLE: &str = r#"
from datetime import date
from fhir.resources.R4B.allergyintolerance import AllergyIntolerance
from fhir.resources.R4B.bundle import Bundle, BundleEntry
from fhir.resources.R4B.condition import Condition
from fhir.resources.R4B.device import Device
from fhir.resources.R4B.medicationrequest import MedicationRequest
from fhir.resources.R4B.medicationstatement import MedicationStatement
from fhir.resources.R4B.observation import Observation
from fhir.resources.R4B.patient import Patient
from fhir.resources.R4B.procedure import Procedure

SNOMED, LOINC, UCUM = "http://snomed.info/sct", "http://loinc.org", "http://unitsofmeasure.org"
whose = {"reference": "Patient/p"}

def code(system, code):
    return {"coding": [{"system": system, "code": code}]}

def verified(word):
    return code("http://terminology.hl7.org/CodeSystem/condition-ver-status", word)

def measured(id, loinc, value, unit, when="2026-10-12T10:00:00+01:00", status="final"):
    return Observation(id=id, status=status, code=code(LOINC, loinc), subject=whose, effectiveDateTime=when,
                       valueQuantity={"value": value, "unit": unit, "system": UCUM, "code": unit})

resources = [
    Patient(id="p", name=[{"family": "Lark", "given": ["Ewan"]}], gender="male", birthDate=date(1955, 1, 9)),
    Condition(id="mi", code=code(SNOMED, "401314000"), subject=whose, onsetDateTime="2026-09-01"),
    Condition(id="dm", code=code(SNOMED, "44054006"), subject=whose, onsetDateTime="2010-01-01"),
    Condition(id="no-failure", code=code(SNOMED, "84114007"), subject=whose, verificationStatus=verified("refuted")),
    Condition(id="wrong", code=code(SNOMED, "230690007"), subject=whose, verificationStatus=verified("entered-in-error")),
    Procedure(id="pci", status="completed", code=code(SNOMED, "36969009"), subject=whose, performedDateTime="2026-09-01",
              reasonReference=[{"reference": "Condition/mi"}]),
    MedicationStatement(id="ms", status="active", medicationCodeableConcept={"text": "bisoprolol"}, subject=whose,
                        effectivePeriod={"start": "2026-09-03"}, dosage=[{"text": "1.25 mg"}]),
    MedicationRequest(id="mr", status="active", intent="order", medicationCodeableConcept={"text": "atorvastatin"},
                      subject=whose, authoredOn="2026-09-04T09:30:00Z"),
    measured("weight", "29463-7", 180, "[lb_av]"),
    measured("height", "8302-2", 1.78, "m"),
    measured("pulse", "8867-4", 61, "/min"),
    measured("glucose", "2339-0", 126, "mg/dL"),
    measured("fraction", "10230-1", 47, "%"),
    measured("blood", "718-7", 139, "g/L"),
    measured("warm", "8310-5", 97.7, "[degF]"),
    measured("late", "8867-4", 99, "/min", status="entered-in-error"),
    measured("breath", "9279-1", 15, "/min"),
    Observation(id="pressure", status="final", code=code(LOINC, "85354-9"), subject=whose, effectiveDateTime="2026-10-12",
                component=[{"code": code(LOINC, "8480-6"), "valueQuantity": {"value": 124, "code": "mm[Hg]", "system": UCUM}},
                           {"code": code(LOINC, "8462-4"), "valueQuantity": {"value": 70, "code": "mm[Hg]", "system": UCUM}}]),
    Device(id="pm", status="active", type=code(SNOMED, "14106009"), patient=whose),
    AllergyIntolerance(id="allergy", patient=whose, code={"text": "latex"}),
]
bundle = Bundle(type="collection", entry=[BundleEntry(resource=one, fullUrl="http://example.invalid/" + one.id) for one in resources])
print(bundle.model_dump_json())
"#;

/// Expected values by hand: 180 lb = 81.65 kg, 126 mg/dL / 18.016 = 6.99 mmol/L, 97.7 F = 36.5 C.
#[test]
fn reference_a_bundle_made_by_a_general_library_is_read() {
    let bundle = file("made.json", &tools::run_python(MAKE_BUNDLE, &[]));
    let (case, listed) = hearthpace(&["import", "--json"], &bundle);
    let case: Value = serde_json::from_str(&case).unwrap();
    let expected = json!({
        "id": "lark-ewan-1955-01-09",
        "person": { "name": "Ewan Lark", "born": "1955-01-09", "sex": "male", "height_cm": 178 },
        "status": { "kind": "referred" },
        "event": [{ "kind": "myocardial-infarction", "date": "2026-09-01", "procedures": [{ "kind": "stent", "date": "2026-09-01" }] }],
        "heart": { "ejection_fraction_pct": 47, "pacemaker": {}, "haemoglobin_g_dl": 13.9 },
        "history": { "present": ["diabetes"], "absent": ["heart-failure"], "since": { "diabetes": "2010-01-01" } },
        "medicine": [
            { "name": "bisoprolol", "dose": "1.25 mg", "since": "2026-09-03" },
            { "name": "atorvastatin", "since": "2026-09-04" },
        ],
        "examination": [{
            "date": "2026-10-12", "resting_hr_bpm": 61, "resting_bp_mmhg": [124, 70], "weight_kg": 81.65,
            "temperature_c": 36.5, "glucose_mmol_l": 6.99,
        }],
    });
    assert_eq!(case, expected);
    let listed: Value = serde_json::from_str(&listed).unwrap();
    let ids: Vec<&str> = listed["listed"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|one| one["id"].as_str())
        .collect();
    assert_eq!(ids, ["p", "wrong", "late", "breath", "allergy"]);
}

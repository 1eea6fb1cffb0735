//! ICD-10 codes of imported conditions against the classification itself, as an open package carries it: every beginning
//! of a code that is read means there what the program takes it for.
//!
//! Codes that only the clinical modification has are not in it and stay recalled: I25.42, I48.92, I51.81, Z95.810,
//! Z95.811, Z96.64. SNOMED CT and most of LOINC are carried by no package that could be found; they stay recalled too.

use serde_json::json;
use std::collections::BTreeMap;
use tests::RANDOM_DAY;
use tests::tools;

/// Code, a word of its title in the classification, and a word of what the program takes it for: in the case, or in the
/// question where the code leaves open what matters.
const CODES: &[(&str, &str, &str)] = &[
    ("I20", "Angina", "\"angina\""),
    ("I20.0", "Unstable angina", "unstable-angina"),
    (
        "I21",
        "Acute myocardial infarction",
        "myocardial-infarction",
    ),
    ("I22", "myocardial infarction", "myocardial-infarction"),
    ("I25", "ischaemic heart disease", "coronary disease"),
    (
        "I25.2",
        "Old myocardial infarction",
        "myocardial-infarction",
    ),
    ("I26", "Pulmonary embolism", "recent-embolism"),
    ("I30", "pericarditis", "myocarditis-or-pericarditis"),
    ("I33", "endocarditis", "endocarditis"),
    (
        "I35.0",
        "Aortic (valve) stenosis",
        "is the aortic stenosis severe",
    ),
    ("I40", "myocarditis", "myocarditis-or-pericarditis"),
    ("I41", "Myocarditis", "myocarditis-or-pericarditis"),
    ("I42.1", "Obstructive hypertrophic", "outflow obstruction"),
    ("I44.2", "block, complete", "is the block paced"),
    ("I46", "Cardiac arrest", "cardiac-arrest"),
    ("I47.2", "Ventricular tachycardia", "complex-arrhythmia"),
    (
        "I48",
        "Atrial fibrillation and flutter",
        "atrial-fibrillation",
    ),
    ("I48.3", "flutter", "atrial-flutter"),
    ("I48.4", "flutter", "atrial-flutter"),
    ("I49.0", "Ventricular fibrillation", "complex-arrhythmia"),
    ("I50", "Heart failure", "heart-failure"),
    ("I60", "Subarachnoid haemorrhage", "stroke"),
    ("I61", "Intracerebral haemorrhage", "stroke"),
    ("I63", "Cerebral infarction", "stroke"),
    ("I64", "Stroke", "stroke"),
    (
        "I70.2",
        "arteries of extremities",
        "peripheral-arterial-disease",
    ),
    ("I71.0", "Dissection of aorta", "aortic-dissection"),
    (
        "I73.9",
        "Peripheral vascular disease",
        "peripheral-arterial-disease",
    ),
    ("I80", "thrombophlebitis", "thrombophlebitis"),
    (
        "I95.1",
        "Orthostatic hypotension",
        "orthostatic-hypotension",
    ),
    ("I10", "hypertension", "hypertension"),
    ("I11", "Hypertensive", "hypertension"),
    ("I12", "Hypertensive", "hypertension"),
    ("I13", "Hypertensive", "hypertension"),
    ("D50", "anaemia", "is the anaemia severe"),
    ("D64", "anaemias", "is the anaemia severe"),
    ("E06", "Thyroiditis", "thyroiditis"),
    ("E10", "diabetes", "diabetes"),
    ("E11", "diabetes", "diabetes"),
    ("E13", "diabetes", "diabetes"),
    ("E14", "diabetes", "diabetes"),
    ("E86", "Volume depletion", "hypovolaemia"),
    ("E87.5", "Hyperkalaemia", "electrolyte-disturbance"),
    ("E87.6", "Hypokalaemia", "electrolyte-disturbance"),
    ("F32", "Depressive", "clinical-depression"),
    ("F33", "depressive", "clinical-depression"),
    ("G62", "polyneuropathies", "are the feet numb"),
    ("G63", "Polyneuropathy", "are the feet numb"),
    ("H54", "Visual impairment", "low-vision"),
    ("H81", "vestibular", "vertigo"),
    (
        "J44",
        "chronic obstructive pulmonary",
        "chronic-obstructive-pulmonary-disease",
    ),
    ("M16", "arthrosis of hip", "hip-osteoarthritis"),
    ("M17", "arthrosis of knee", "knee-osteoarthritis"),
    ("M48.5", "Collapsed vertebra", "fragile vertebra"),
    ("M54", "Dorsalgia", "back-pain"),
    ("M75", "Shoulder", "shoulder-pain"),
    ("M80", "Osteoporosis", "osteoporosis"),
    ("M81", "Osteoporosis", "osteoporosis"),
    ("N18", "Chronic kidney disease", "chronic-kidney-disease"),
    ("R42", "Dizziness and giddiness", "vertigo"),
    ("Z33", "Pregnant", "pregnancy"),
    ("Z34", "pregnancy", "pregnancy"),
    ("Z94.1", "Heart transplant", "transplant"),
    (
        "Z95.0",
        "electronic cardiac devices",
        "pacemaker or a defibrillator",
    ),
    ("Z95.1", "aortocoronary bypass", "bypass-surgery"),
    ("Z95.5", "coronary angioplasty implant", "a stent is there"),
];

/// Titles by code: in the file a name stands before its description.
fn titles() -> BTreeMap<String, String> {
    let text = std::fs::read_to_string(tools::open_data("icd_10.xml")).expect("the file is text");
    let within = |line: &str, tag: &str| {
        let line = line.trim().strip_prefix(&format!("<{tag}>"))?;
        Some(line.strip_suffix(&format!("</{tag}>"))?.to_owned())
    };
    let mut titles = BTreeMap::new();
    let mut code = String::new();
    for line in text.lines() {
        if let Some(name) = within(line, "name") {
            code = name;
        } else if let Some(title) = within(line, "description") {
            titles.insert(code.clone(), title);
        }
    }
    titles
}

/// The case and the list that come of a bundle with one confirmed condition, as text.
fn read_as(code: &str) -> String {
    let bundle = json!({
        "resourceType": "Bundle",
        "type": "collection",
        "entry": [
            { "fullUrl": "urn:p", "resource": { "resourceType": "Patient", "id": "p", "birthDate": "1951-05-17" } },
            { "fullUrl": "urn:c", "resource": {
                "resourceType": "Condition",
                "id": "c",
                "subject": { "reference": "Patient/p" },
                "onsetDateTime": "2026-09-01",
                "code": { "coding": [{ "system": "http://hl7.org/fhir/sid/icd-10", "code": code }] },
            } },
        ],
    });
    let read = formats::fhir::import("one.json", bundle.to_string().as_bytes(), Some(RANDOM_DAY))
        .unwrap_or_else(|problems| panic!("{code}: {problems}"));
    let listed: Vec<&str> = read.listed.iter().map(|one| one.message.as_str()).collect();
    format!("{} {listed:?}", tests::answers::case_text(&read.case))
}

/// Source: icd-10-2019.
#[test]
fn reference_icd_10_codes_mean_what_the_classification_says() {
    let titles = titles();
    assert!(titles.len() > 12_000, "only {} titles", titles.len());
    for (code, title, taken) in CODES {
        let found = titles.get(*code).map_or("", String::as_str);
        assert!(found.contains(title), "{code} is '{found}', not '{title}'");
        let read = read_as(code);
        assert!(read.contains(taken), "{code} ({found}) comes to {read}");
    }
    // A code that is not read says so.
    assert!(read_as("A00").contains("no code that is known"));
}

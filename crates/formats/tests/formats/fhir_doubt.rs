//! Bundles in doubt: whose a resource is, what turns its meaning round, and what is only a name.

use crate::fhir::{foreign, lists, there_and_back};
use crate::random::ON;
use crate::support::FENWICK;
use formats::case;
use formats::fhir::{Imported, Why, import};
use jiff::civil::date;
use rehab::assessment::{HistoryItem, Status, StatusKind};

/// A bundle of a patient and these entries.
fn with_patient(entries: &str) -> String {
    let patient = r#"{"fullUrl": "http://here.invalid/fhir/Patient/1", "resource": {"resourceType": "Patient", "id": "1",
        "identifier": [{"system": "urn:numbers", "value": "77"}], "name": [{"text": "Ada Fenn"}]}}"#;
    format!(
        r#"{{"resourceType": "Bundle", "type": "collection", "entry": [{patient}, {entries}]}}"#
    )
}

fn taken(entries: &str) -> Imported {
    import("b.json", with_patient(entries).as_bytes(), Some(ON)).expect("a bundle of one patient")
}

/// A resource of the patient.
fn theirs(kind: &str, id: &str, more: &str) -> String {
    format!(
        r#"{{"resource": {{"resourceType": "{kind}", "id": "{id}", "subject": {{"reference": "Patient/1"}}, {more}}}}}"#
    )
}

const HEART_FAILURE: &str =
    r#""code": {"coding": [{"system": "http://snomed.info/sct", "code": "84114007"}]}"#;

#[test]
fn a_bundle_without_a_patient_is_refused() {
    let device = r#"{"resource": {"resourceType": "Device", "patient": {"reference": "Patient/1"}, "type": {"text": "Pacemaker"}}}"#;
    let text = format!(r#"{{"resourceType": "Bundle", "entry": [{device}]}}"#);
    let problems = import("b.json", text.as_bytes(), None).unwrap_err();
    assert!(
        problems.to_string().contains("holds no Patient"),
        "{problems}"
    );
    let history =
        with_patient(&theirs("Condition", "c", HEART_FAILURE)).replacen("collection", "history", 1);
    let problems = import("b.json", history.as_bytes(), None).unwrap_err();
    assert!(
        problems.to_string().contains("earlier versions"),
        "{problems}"
    );
}

#[test]
fn nothing_of_somebody_else_is_merged() {
    let of = |subject: &str| {
        let one = format!(
            r#"{{"resource": {{"resourceType": "Condition", "id": "c", {HEART_FAILURE}{subject}}}}}"#
        );
        taken(&one)
    };
    for (subject, words) in [
        ("", "does not say whose it is"),
        (
            r#", "subject": {"reference": "Patient/2"}"#,
            "belongs to Patient/2",
        ),
        (
            r#", "subject": {"reference": "http://there.invalid/fhir/Patient/1"}"#,
            "belongs to http://there.invalid",
        ),
        (
            r#", "subject": {"display": "Ada Fenn"}"#,
            "belongs to Ada Fenn",
        ),
        (
            r#", "subject": {"identifier": {"system": "urn:numbers", "value": "78"}}"#,
            "belongs to 78",
        ),
    ] {
        let imported = of(subject);
        assert!(imported.case.history.present.is_empty(), "{subject}");
        lists(&imported, "c", Why::LeftOut, words);
    }
    for subject in [
        r#", "subject": {"reference": "Patient/1/_history/2"}"#,
        r#", "subject": {"reference": "http://here.invalid/fhir/Patient/1/_history/7"}"#,
        r#", "subject": {"identifier": {"system": "urn:numbers", "value": "77"}}"#,
    ] {
        assert_eq!(
            of(subject).case.history.present,
            [HistoryItem::HeartFailure],
            "{subject}"
        );
    }
}

#[test]
fn an_order_not_to_give_is_no_medicine() {
    let order = r#""status": "active", "intent": "order", "doNotPerform": true, "medicationCodeableConcept": {"text": "Bisoprolol"}"#;
    let imported = taken(&theirs("MedicationRequest", "m", order));
    assert!(imported.case.medicines.is_empty());
    lists(&imported, "m", Why::LeftOut, "order not to give");
}

#[test]
fn what_carries_a_modifier_extension_is_not_understood() {
    let modifier =
        r#""modifierExtension": [{"url": "http://example.invalid/not", "valueBoolean": true}]"#;
    let condition = theirs("Condition", "c", &format!("{HEART_FAILURE}, {modifier}"));
    let dosage = format!(
        r#""status": "active", "medicationCodeableConcept": {{"text": "Bisoprolol"}}, "dosage": [{{"text": "2.5 mg", {modifier}}}]"#
    );
    let imported = taken(&format!(
        "{condition}, {}",
        theirs("MedicationStatement", "m", &dosage)
    ));
    assert!(imported.case.history.present.is_empty() && imported.case.medicines.is_empty());
    lists(&imported, "c", Why::NotRead, "modifier extension");
    lists(&imported, "m", Why::NotRead, "modifier extension");
    let patient = with_patient(&theirs("Condition", "c", HEART_FAILURE)).replacen(
        r#""identifier""#,
        &format!(r#"{modifier}, "identifier""#),
        1,
    );
    let imported = import("b.json", patient.as_bytes(), Some(ON)).unwrap();
    assert_eq!(imported.case.person.name, None);
    lists(&imported, "1", Why::NotRead, "modifier extension");
}

#[test]
fn what_is_refuted_or_in_error_is_so_in_every_way_of_writing_it() {
    let verified = |status: &str| {
        taken(&theirs(
            "Condition",
            "c",
            &format!(r#"{HEART_FAILURE}, "verificationStatus": {status}"#),
        ))
    };
    for status in [
        r#"{"text": "Refuted"}"#,
        r#"{"coding": [{"code": "X"}, {"code": "refuted"}]}"#,
        r#"{"coding": [{"display": "Refuted"}]}"#,
    ] {
        let imported = verified(status);
        assert!(imported.case.history.present.is_empty(), "{status}");
        assert_eq!(
            imported.case.history.absent,
            [HistoryItem::HeartFailure],
            "{status}"
        );
    }
    for status in [
        r#"{"text": "Entered in error"}"#,
        r#"{"coding": [{"code": "confirmed"}], "text": "entered-in-error"}"#,
    ] {
        let imported = verified(status);
        assert!(
            imported.case.history.present.is_empty() && imported.case.history.absent.is_empty()
        );
        lists(&imported, "c", Why::LeftOut, "entered in error");
    }
    for status in [
        r#"{"text": "perhaps"}"#,
        "{}",
        r#"{"coding": [{"code": "unconfirmed"}]}"#,
    ] {
        let imported = verified(status);
        assert!(imported.case.history.present.is_empty(), "{status}");
        lists(&imported, "c", Why::ToAsk, "not confirmed");
    }
    // A resolved embolism by its text alone.
    let over = r#""code": {"coding": [{"system": "http://snomed.info/sct", "code": "59282003"}]}, "clinicalStatus": {"text": "Resolved"}"#;
    let imported = taken(&theirs("Condition", "c", over));
    lists(&imported, "c", Why::ToAsk, "over by its status");
}

#[test]
fn a_device_of_which_only_a_name_is_known_is_a_question_and_no_device() {
    for name in ["Cardiac pacemaker", "Implantable defibrillator", "CRT-D"] {
        let device = format!(
            r#"{{"resource": {{"resourceType": "Device", "id": "d", "patient": {{"reference": "Patient/1"}}, "type": {{"text": "{name}"}}}}}}"#
        );
        let imported = taken(&device);
        assert_eq!(
            (imported.case.heart.pacemaker, imported.case.heart.device),
            (None, None),
            "{name}"
        );
        lists(&imported, "d", Why::ToAsk, "before anything is signed");
    }
    let unsaid = r#"{"resource": {"resourceType": "Device", "id": "d", "type": {"coding": [{"system": "http://snomed.info/sct", "code": "14106009"}]}}}"#;
    let imported = taken(unsaid);
    assert!(imported.case.heart.pacemaker.is_some());
    lists(&imported, "d", Why::ToAsk, "whose device it is");
}

#[test]
fn a_unit_that_contradicts_its_code_is_a_question() {
    let weight = |unit: &str, code: &str| {
        let quantity = format!(
            r#""status": "final", "code": {{"coding": [{{"system": "http://loinc.org", "code": "29463-7"}}]}},
            "effectiveDateTime": "2026-10-10", "valueQuantity": {{"value": 150, "unit": "{unit}", "code": "{code}"}}"#
        );
        taken(&theirs("Observation", "w", &quantity))
    };
    let imported = weight("lb", "kg");
    assert!(imported.case.examinations.is_empty());
    lists(
        &imported,
        "w",
        Why::ToAsk,
        "unit reads 'lb' and its code 'kg'",
    );
    // A unit in other words for the same is none, and words that nobody knows leave the code alone.
    assert_eq!(
        weight("lbs", "[lb_av]").case.examinations[0].weight_kg,
        Some(68.04)
    );
    assert_eq!(
        weight("Kilogramm", "kg").case.examinations[0].weight_kg,
        Some(150.0)
    );
}

#[test]
fn an_entry_without_a_resource_is_listed() {
    let imported = taken(r#"{"request": {"method": "DELETE", "url": "Condition/9"}}"#);
    let found = imported.listed.iter().find(|one| one.entry == 2).unwrap();
    assert_eq!(
        (found.resource.as_str(), found.why),
        ("(no resource)", Why::NotRead)
    );
}

#[test]
fn nobody_becomes_active_by_being_written_and_read_again() {
    for kind in StatusKind::ALL {
        let mut case = case::read("case.toml", FENWICK.as_bytes(), Some(ON))
            .unwrap()
            .0;
        case.status = Status {
            kind: *kind,
            since: None,
        };
        assert_eq!(there_and_back(&case).case.status, case.status);
        case.status.since = Some(date(2026, 9, 20));
        assert_eq!(there_and_back(&case).case.status, case.status);
    }
    let imported = foreign();
    assert_eq!(imported.case.status.kind, StatusKind::Referred);
    lists(
        &imported,
        "p1",
        Why::ToAsk,
        "where the case stands is not said",
    );
}

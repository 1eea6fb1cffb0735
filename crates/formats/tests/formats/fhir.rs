//! FHIR: a foreign bundle with everything that a bundle can have, refusals, and the way back.

use crate::random::{Dice, ON, spoil, table};
use crate::support::{EVERYTHING, FENWICK};
use formats::case::{self, CASE};
use formats::fhir::{Imported, Why, export, import};
use formats::tree::{Content, Notation, read, to_json, write};
use jiff::civil::date;
use proptest::prelude::*;
use rehab::assessment::{
    Case, EventKind, Examination, Function, HistoryItem, Home, Nitrate, ProcedureKind, Rhythm, Sex,
    StatusKind, TestResult, Wishes,
};

const BUNDLE: &str = include_str!("fixtures/bundle.json");

pub(crate) fn foreign() -> Imported {
    import("bundle.json", BUNDLE.as_bytes(), None).expect("the fixture is a bundle of one patient")
}

#[track_caller]
pub(crate) fn lists(imported: &Imported, id: &str, why: Why, words: &str) {
    let of_id: Vec<_> = imported
        .listed
        .iter()
        .filter(|one| one.id.as_deref() == Some(id))
        .collect();
    let found = of_id
        .iter()
        .any(|one| one.why == why && one.message.contains(words));
    assert!(found, "{id}: {of_id:#?}");
}

#[test]
fn the_person_is_taken() {
    let person = foreign().case.person;
    assert_eq!(person.name.as_deref(), Some("Hester Ann Rowntree-Moss"));
    assert_eq!(person.called.as_deref(), Some("Hettie"));
    assert_eq!(person.born, Some(date(1949, 11, 2)));
    assert_eq!(person.sex, Some(Sex::Female));
    assert_eq!(person.telephones, ["01632 960200"]);
    assert_eq!(
        person.emergency_contact.as_deref(),
        Some("Ned Moss, 01632 960201")
    );
    assert_eq!(person.doctor.as_deref(), Some("Dr Amari"));
    assert_eq!(
        person.address.as_deref(),
        Some("2 Nowhere Lane, ZZ1 1ZZ, Nowhere")
    );
    assert_eq!(person.height_cm, Some(158.0));
}

#[test]
fn conditions_become_events_history_and_rhythm() {
    let imported = foreign();
    let case = &imported.case;
    let kinds: Vec<EventKind> = case.events.iter().map(|event| event.kind).collect();
    assert_eq!(
        kinds,
        [
            EventKind::MyocardialInfarction,
            EventKind::HeartFailure,
            EventKind::BypassSurgery
        ]
    );
    assert_eq!(case.events[0].date, Some(date(2026, 8, 30)));
    lists(&imported, "c-mi-again", Why::LeftOut, "more than once");
    assert_eq!(case.history.present, [HistoryItem::HeartFailure]);
    lists(&imported, "c-hf", Why::ToAsk, "says only 2026-09");
    assert_eq!(case.history.absent, [HistoryItem::Diabetes]);
    assert_eq!(case.heart.rhythm, Some(Rhythm::AtrialFibrillation));
    lists(&imported, "c-af", Why::ToAsk, "towards caution");
}

#[test]
fn what_is_doubtful_wrong_or_of_somebody_else_is_listed_and_not_taken() {
    let imported = foreign();
    lists(&imported, "c-err", Why::LeftOut, "entered in error");
    lists(
        &imported,
        "c-maybe",
        Why::ToAsk,
        "provisional, not confirmed",
    );
    lists(
        &imported,
        "c-as",
        Why::ToAsk,
        "is the aortic stenosis severe",
    );
    lists(
        &imported,
        "c-text",
        Why::ToAsk,
        "does it mean clinical-depression",
    );
    lists(
        &imported,
        "c-strange",
        Why::NotRead,
        "no code that is known",
    );
    lists(&imported, "c-other", Why::LeftOut, "belongs to Patient/p2");
    lists(
        &imported,
        "c-old-embolism",
        Why::ToAsk,
        "over by its status",
    );
    lists(&imported, "pr-planned", Why::LeftOut, "was not done");
    lists(&imported, "a1", Why::LeftOut, "holds no allergies");
    lists(&imported, "g1", Why::NotRead, "type Goal are not read");
    lists(&imported, "d2", Why::NotRead, "'Hearing aid' is not known");
    lists(&imported, "o-err", Why::LeftOut, "entered in error");
    lists(&imported, "o-breath", Why::NotRead, "no code that is known");
}

/// An allergy to what is taken, or to any nitrate, is asked about; any other is left out with its reason.
#[test]
fn an_allergy_to_a_nitrate_or_to_a_medicine_that_is_taken_is_a_question() {
    let bundle = |code: &str, status: &str| {
        let text = format!(
            r#"{{"resourceType": "Bundle", "type": "collection", "entry": [
            {{"resource": {{"resourceType": "Patient", "id": "p1"}}}},
            {{"resource": {{"resourceType": "AllergyIntolerance", "id": "a1", "patient": {{"reference": "Patient/p1"}},
              "verificationStatus": {{"coding": [{{"code": "{status}"}}]}}, "code": {code}}}}},
            {{"resource": {{"resourceType": "MedicationStatement", "id": "m1", "status": "active",
              "subject": {{"reference": "Patient/p1"}}, "medicationCodeableConcept": {{"text": "bisoprolol 2.5 mg"}}}}}}]}}"#
        );
        import("bundle.json", text.as_bytes(), None).expect("a bundle of one patient")
    };
    for name in [
        "Glyceryl trinitrate",
        "nitroglycerin",
        "GTN",
        "nitrates",
        "isosorbide mononitrate",
        "nicorandil",
        "organic nitrate vasodilator",
    ] {
        for code in [
            format!(r#"{{"text": "{name}"}}"#),
            format!(
                r#"{{"text": "see letter", "coding": [{{"code": "1", "display": "{name}"}}]}}"#
            ),
        ] {
            let imported = bundle(&code, "unconfirmed");
            lists(
                &imported,
                "a1",
                Why::ToAsk,
                "spray or tablet for chest discomfort",
            );
            assert_eq!(imported.case.nitrate, Nitrate::unasked());
            let left_out = imported.listed.iter().any(|one| one.why == Why::LeftOut);
            assert!(!left_out, "{name}");
        }
    }
    let taken = bundle(r#"{"text": "Bisoprolol fumarate"}"#, "confirmed");
    lists(&taken, "a1", Why::ToAsk, "is among the medicines");
    lists(
        &bundle("{}", "confirmed"),
        "a1",
        Why::ToAsk,
        "without a name",
    );
    let refuted = bundle(r#"{"text": "nitroglycerin"}"#, "refuted");
    lists(&refuted, "a1", Why::LeftOut, "was refuted");
    let other = bundle(r#"{"text": "latex"}"#, "confirmed");
    lists(&other, "a1", Why::LeftOut, "holds no allergies");
}

#[test]
fn procedures_find_their_events() {
    let case = foreign().case;
    assert_eq!(case.events[0].procedures[0].kind, ProcedureKind::Stent);
    assert_eq!(case.events[0].procedures.len(), 1);
    let bypass = &case.events[2];
    assert_eq!(
        (bypass.date, bypass.procedures[0].kind),
        (Some(date(2026, 9, 4)), ProcedureKind::Bypass)
    );
}

#[test]
fn medicines_are_taken_once_with_dose_and_days() {
    let imported = foreign();
    let medicines = &imported.case.medicines;
    let names: Vec<&str> = medicines.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(
        names,
        [
            "Bisoprolol",
            "Ramipril 2.5 mg capsule",
            "Glyceryl trinitrate spray"
        ]
    );
    assert_eq!(medicines[0].dose.as_deref(), Some("2.5 mg in the morning"));
    assert_eq!(medicines[0].since, Some(date(2026, 9, 1)));
    assert_eq!(medicines[1].dose.as_deref(), Some("2.5 mg"));
    assert_eq!(medicines[2].as_needed, Some(true));
    lists(&imported, "mr1", Why::LeftOut, "more than once");
    lists(&imported, "ms2", Why::LeftOut, "not taken as current");
    lists(&imported, "mr4", Why::ToAsk, "on hold");
}

#[test]
fn measurements_are_converted_and_put_by_day() {
    let imported = foreign();
    let case = &imported.case;
    assert_eq!(case.examinations.len(), 1);
    let examination = &case.examinations[0];
    assert_eq!(examination.date, date(2026, 10, 10));
    assert_eq!(examination.weight_kg, Some(68.04));
    assert_eq!(examination.resting_hr_bpm, Some(72.0));
    lists(
        &imported,
        "o-hr-early",
        Why::LeftOut,
        "a later resting_hr_bpm of 2026-10-10",
    );
    assert_eq!(
        examination
            .resting_bp
            .map(|bp| (bp.systolic_mmhg, bp.diastolic_mmhg)),
        Some((131.0, 76.0))
    );
    assert_eq!(examination.glucose_mmol_l, Some(5.99));
    assert_eq!(examination.temperature_c, Some(37.0));
    assert_eq!(examination.spo2_pct, Some(97.0));
    assert_eq!(examination.nyha, Some(2));
    assert_eq!(case.heart.ejection_fraction_pct, Some(38.0));
    lists(&imported, "o-ef-old", Why::LeftOut, "a later");
    assert_eq!(case.heart.haemoglobin_g_dl, Some(12.1));
    let walk = TestResult::SixMinuteWalk {
        distance_m: 312.0,
        course_m: None,
    };
    assert_eq!(case.tests[0].result, walk);
    assert_eq!(imported.on, Some(date(2026, 10, 10)));
}

#[test]
fn measurements_that_cannot_be_or_cannot_be_read_are_listed() {
    let imported = foreign();
    lists(&imported, "o-stone", Why::NotRead, "the unit 'stone'");
    lists(&imported, "o-impossible", Why::LeftOut, "720");
    lists(&imported, "o-less", Why::ToAsk, "'< 90'");
    lists(&imported, "o-bp-swapped", Why::LeftOut, "look swapped");
    lists(&imported, "o-sys", Why::ToAsk, "only one number");
    lists(&imported, "o-phq", Why::ToAsk, "only the sum");
}

#[test]
fn a_defibrillator_without_its_rate_is_a_question() {
    let imported = foreign();
    assert_eq!(imported.case.heart.device.unwrap().lowest_treated_bpm, None);
    lists(
        &imported,
        "d1",
        Why::ToAsk,
        "nothing can be signed without it",
    );
}

#[test]
fn every_resource_is_taken_or_listed() {
    let imported = foreign();
    let tree = read("bundle.json", BUNDLE.as_bytes()).unwrap();
    let count = to_json(&tree)["entry"].as_array().unwrap().len();
    // Each of these was taken whole; all others must be listed.
    let taken = [
        "c-mi",
        "c-dm",
        "pr-pci",
        "pr-cabg",
        "m1",
        "ms1",
        "mr2",
        "mr3",
        "o-w-lb",
        "o-h",
        "o-hr-late",
        "o-bp",
        "o-glucose",
        "o-temp",
        "o-spo2",
        "o-ef-new",
        "o-hb",
        "o-nyha",
        "o-walk",
    ];
    let mut listed: Vec<&str> = imported
        .listed
        .iter()
        .filter_map(|one| one.id.as_deref())
        .collect();
    listed.dedup();
    assert!(taken.iter().all(|id| !listed.contains(id)), "{listed:?}");
    assert_eq!(listed.len() + taken.len(), count, "{listed:?}");
}

/// Of somebody who has died it was said that they were taken as referred, while the case said that they had died.
#[test]
fn that_somebody_has_died_is_said_with_what_to_do_and_nothing_else_of_the_standing() {
    for (field, said, since) in [
        (
            r#""deceasedDateTime": "2026-10-05""#,
            "that they have died on 2026-10-05",
            Some(date(2026, 10, 5)),
        ),
        (
            r#""deceasedBoolean": true"#,
            "that they have died, the day is not said",
            None,
        ),
    ] {
        let text = format!(
            r#"{{"resourceType": "Bundle", "type": "collection", "entry": [{{"resource": {{"resourceType": "Patient", "id": "p1", {field}}}}}]}}"#
        );
        let imported = import("bundle.json", text.as_bytes(), None).expect("a bundle");
        assert_eq!(imported.case.status.kind, StatusKind::Died);
        assert_eq!(imported.case.status.since, since);
        lists(&imported, "p1", Why::ToAsk, said);
        lists(
            &imported,
            "p1",
            Why::ToAsk,
            "if it is a mistake, write where the case stands",
        );
        let referred = imported
            .listed
            .iter()
            .filter(|one| one.message.contains("taken as referred"));
        assert_eq!(referred.count(), 0, "{:?}", imported.listed);
    }
}

#[test]
fn days_ahead_are_left_out() {
    let imported = import("bundle.json", BUNDLE.as_bytes(), Some(date(2026, 9, 30))).unwrap();
    assert!(imported.case.examinations.is_empty());
    lists(
        &imported,
        "o-hr-late",
        Why::LeftOut,
        "2026-10-10 lies ahead of 2026-09-30",
    );
}

#[test]
fn what_is_no_bundle_of_one_patient_is_refused() {
    let refused = |text: &str, words: &str| {
        let problems = import("b.json", text.as_bytes(), None).unwrap_err();
        assert!(problems.to_string().contains(words), "{problems}");
    };
    refused("{}", "no FHIR resource");
    refused(r#"{"resourceType": "Patient"}"#, "not a Bundle");
    refused(
        r#"{"resourceType": "Bundle", "entry": []}"#,
        "holds no resource",
    );
    let patient = r#"{"resource": {"resourceType": "Patient"}}"#;
    refused(
        &format!(r#"{{"resourceType": "Bundle", "entry": [{patient}, {patient}]}}"#),
        "2 patients",
    );
    refused(&BUNDLE[..5000], "cut off");
    refused("", "empty");
}

/// What of a case FHIR carries; the rest is listed by the export.
fn carried(case: &Case) -> Case {
    let mut out = case.clone();
    let person = &mut out.person;
    for about in [
        &mut person.interpreter,
        &mut person.hearing,
        &mut person.sight,
        &mut person.reading,
        &mut person.memory,
        &mut person.consent,
    ] {
        *about = None;
    }
    for event in &mut out.events {
        event.complicated = None;
        event.residual_disease = None;
        event
            .procedures
            .iter_mut()
            .for_each(|one| one.access = None);
        let mut seen = Vec::new();
        event.procedures.retain(|one| {
            let new = !seen.contains(one);
            seen.push(one.clone());
            new
        });
    }
    out.history.rest_absent = None;
    out.history.not_asked.clear();
    out.nitrate = Nitrate::unasked();
    out.usual_symptoms.clear();
    out.function = Function {
        aid: None,
        falls_12_months: None,
    };
    out.examinations
        .retain(|one| *one != Examination::on(one.date));
    out.examinations.sort_by_key(|one| one.date);
    out.home = Home::unknown();
    out.wishes = Wishes::unasked();
    out.agreement = None;
    out.watched.clear();
    out.pains.clear();
    out
}

pub(crate) fn there_and_back(case: &Case) -> Imported {
    let text = export(case, Some(ON)).bundle.to_string();
    import("back.json", text.as_bytes(), Some(ON))
        .unwrap_or_else(|problems| panic!("{problems}\n{text}"))
}

#[test]
fn the_fixtures_come_back_as_far_as_fhir_carries_them() {
    for text in [EVERYTHING, FENWICK] {
        let (case, _) = case::read("case.toml", text.as_bytes(), Some(ON)).unwrap();
        let back = there_and_back(&case);
        assert_eq!(back.case, carried(&case));
        assert!(back.listed.is_empty(), "{:#?}", back.listed);
        assert!(!export(&case, None).left_out.is_empty());
    }
}

#[test]
fn the_same_case_gives_the_same_bundle_and_no_address_stands_twice() {
    let (case, _) = case::read("case.toml", EVERYTHING.as_bytes(), Some(ON)).unwrap();
    let bundle = export(&case, Some(ON)).bundle;
    assert_eq!(bundle, export(&case, Some(ON)).bundle);
    let mut urls: Vec<&str> = bundle["entry"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|one| one["fullUrl"].as_str())
        .collect();
    let count = urls.len();
    urls.sort_unstable();
    urls.dedup();
    assert_eq!(urls.len(), count);
}

/// Whether no two events or examinations of a random case fall together, which FHIR would make one.
fn stands_apart(case: &Case) -> bool {
    let apart = |index: usize| {
        let event = &case.events[index];
        case.events[..index].iter().all(|one| {
            one.kind != event.kind
                || (one.date != event.date && one.date.is_some() && event.date.is_some())
        })
    };
    let mut days: Vec<_> = case.examinations.iter().map(|one| one.date).collect();
    days.sort();
    (0..case.events.len()).all(apart) && days.windows(2).all(|pair| pair[0] != pair[1])
}

proptest! {
    #[test]
    fn law_a_case_comes_back_from_fhir_as_far_as_it_is_carried(seed: u64) {
        let made = write(&table(&CASE, &mut Dice::plain(seed)), Notation::Json);
        if let Ok((case, _)) = case::read("random.json", made.as_bytes(), Some(ON))
            && stands_apart(&case)
        {
            prop_assert_eq!(there_and_back(&case).case, carried(&case));
        }
    }

    #[test]
    fn law_spoilt_bundles_never_panic_and_what_is_taken_is_a_case(seed: u64) {
        let mut dice = Dice::new(seed);
        let tree = read("bundle.json", BUNDLE.as_bytes()).unwrap();
        let Content::Table(mut bundle) = tree.content else { panic!("a bundle is a table") };
        for _ in 0..=dice.below(6) {
            spoil(&mut bundle, &mut dice);
        }
        let text = write(&bundle, Notation::Json);
        if let Ok(imported) = import("spoilt.json", text.as_bytes(), Some(ON)) {
            let again = case::write(&imported.case, Notation::Toml);
            prop_assert_eq!(case::read("a.toml", again.as_bytes(), Some(ON)).unwrap().0, imported.case);
        }
    }
}

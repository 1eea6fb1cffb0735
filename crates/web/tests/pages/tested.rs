//! Tests that are written in by their figures: a step test in stages, activity questions, mood sheets.

use crate::facts::{begun, case_of};
use crate::fixture::{ON, fenwick, house};
use axum::http::StatusCode;
use jiff::civil::date;
use rehab::assessment::{Case, TestResult};
use rehab::service::Service;
use std::collections::{BTreeMap, BTreeSet};

#[tokio::test]
async fn a_step_test_in_stages_activity_and_mood_are_kept_as_figures() {
    let house = house().await;
    let address = begun(&house).await;
    let form = format!("{address}/facts/tests");
    let page = house.get(&form).await;
    for words in ["Step test in stages", "Activity questions", "Mood"] {
        assert!(page.text.contains(words), "{words}");
    }
    let sent = house
        .send(
            &form,
            &[
                ("test[stages].step_height_m", "0.15"),
                ("test[stages].effort.scale", "0-10"),
                ("test[stages].effort.value", "5"),
                ("test[stages].stages[1].hr_bpm", "82"),
                ("test[stages].stages[1].effort", "3"),
                ("test[stages].stages[2].hr_bpm", "94"),
                ("test[stages].stages[2].effort", "5"),
                ("test[activity].yes", "1, 2, 5"),
                ("test[phq].answers", "0, 1, 0, 2, 0, 0, 1, 0, 0"),
                ("test[who].answers", "3, 3, 4, 2, 3"),
            ],
        )
        .await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let tests: Vec<TestResult> = case_of(&house, &address)
        .await
        .tests
        .into_iter()
        .map(|test| test.result)
        .collect();
    assert_eq!(tests.len(), 4, "{tests:?}");
    assert!(tests.iter().any(|one| matches!(one,
        TestResult::Step { step_height_m, stages }
            if *step_height_m == 0.15 && stages.len() == 2 && stages[1].hr_bpm == 94.0 && stages[1].effort == Some(5.0))));
    assert!(tests.contains(&TestResult::ActivityStatus { yes: vec![1, 2, 5] }));
    assert!(tests.contains(&TestResult::Phq9 {
        answers: vec![0, 1, 0, 2, 0, 0, 1, 0, 0]
    }));
    assert!(tests.contains(&TestResult::Who5 {
        answers: vec![3, 3, 4, 2, 3]
    }));
}

#[tokio::test]
async fn a_sheet_with_a_figure_too_few_or_too_high_comes_back_at_its_field() {
    let house = house().await;
    let address = begun(&house).await;
    let form = format!("{address}/facts/tests");
    for wrong in ["0, 1, 0", "0, 1, 0, 9, 0, 0, 1, 0, 0"] {
        let sent = house.send(&form, &[("test[phq].answers", wrong)]).await;
        assert_eq!(sent.status, StatusCode::UNPROCESSABLE_ENTITY, "{wrong}");
        assert!(
            sent.text.contains(&format!("value=\"{wrong}\"")),
            "{}",
            sent.text
        );
        assert!(sent.text.contains("test-phq--answers-wrong"));
    }
    assert!(case_of(&house, &address).await.tests.is_empty());
}

/// What a person types into a field, by its last word; a test of everyday figures.
fn typed(mark: &str, key: &str) -> &'static str {
    match (mark, key) {
        ("shuttle", "course_m") => "10",
        ("walk", "course_m") => "30",
        (_, "distance_m") => "300",
        ("up-and-go" | "five", "seconds") => "16",
        ("gait", "seconds") => "6",
        (_, "count") => "9",
        (_, "step_height_m") => "0.15",
        (_, "scale" | "effort.scale") => "0-10",
        (_, "value" | "effort.value") => "5",
        (_, "stages[1].hr_bpm") => "78",
        (_, "stages[2].hr_bpm") => "84",
        (_, "stages[3].hr_bpm") => "90",
        (_, "stages[4].hr_bpm") => "96",
        (_, "stages[5].hr_bpm") => "102",
        (_, key) if key.starts_with("stages[") && key.ends_with("effort") => "4",
        (_, "yes") => "1, 2, 3, 4, 5",
        ("phq", "answers") => "1, 1, 1, 2, 1, 1, 1, 1, 0",
        ("gad", "answers") => "2, 2, 2, 2, 1, 1, 1",
        ("who", "answers") => "2, 2, 2, 1, 2",
        (_, "aid" | "symptoms") => "none",
        (_, "place") => "hospital",
        (_, "beta_blocked") => "yes",
        (_, "peak_hr_bpm") => "112",
        (_, "peak_mets") => "5",
        (_, "ischaemia_hr_bpm") => "108",
        (_, "st_depression_mm") => "1",
        (_, "arrhythmia" | "chronotropic_incompetence" | "symptom_in_recovery") => "no",
        (_, "bp_response") => "normal",
        (_, "hr_recovery_1min_bpm") => "18",
        (_, "mode") => "treadmill",
        // The load of a symptom belongs to a symptom.
        (_, "symptom_mets") => "",
        (_, "date") => "2026-11-20",
        other => panic!("say what is typed into {other:?}"),
    }
}

/// Whatever the form offers counts once it is filled in: for capacity, for what it says of the person, or as a measure of
/// what changed.
#[tokio::test]
async fn every_kind_of_test_that_the_form_offers_counts_once_it_is_filled_in() {
    let first = house().await;
    let mut person = fenwick();
    person.tests.clear();
    let id = first.write(person.clone(), Vec::new()).await;
    let address = format!("/people/{id}");
    let page = first.get(&format!("{address}/facts/tests")).await;
    let form = page.text.split("<form").nth(1).unwrap();
    let mut marks: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for name in form.split("name=\"").skip(1) {
        collect(&mut marks, name.split('"').next().unwrap());
    }
    assert!(marks.len() >= 13, "{marks:?}");
    for (mark, keys) in marks {
        let (house, mut case) = (house().await, person.clone());
        case.id.0 = format!("person-{mark}");
        let id = house.write(case.clone(), Vec::new()).await;
        let address = format!("/people/{id}");
        let fields: Vec<(String, &str)> = keys
            .iter()
            .map(|key| (format!("test[{mark}].{key}"), typed(&mark, key)))
            .collect();
        let fields: Vec<(&str, &str)> = fields
            .iter()
            .map(|(name, value)| (name.as_str(), *value))
            .collect();
        let sent = house.send(&format!("{address}/facts/tests"), &fields).await;
        assert_eq!(sent.status, StatusCode::SEE_OTHER, "{mark}: {}", sent.text);
        let after = case_of(&house, &address).await;
        assert_counts(&case, &after);
    }
}

fn collect(marks: &mut BTreeMap<String, BTreeSet<String>>, name: &str) {
    let parts = name
        .strip_prefix("test[")
        .and_then(|rest| rest.split_once("]."));
    if let Some((mark, key)) = parts {
        let keys = marks.entry(mark.to_owned()).or_default();
        keys.insert(key.to_owned());
    }
}

fn assert_counts(before: &Case, after: &Case) {
    const FOR_CAPACITY: [&str; 5] = [
        "exercise-test",
        "step",
        "shuttle-walk",
        "six-minute-walk",
        "activity-status",
    ];
    const MOOD: [&str; 3] = ["phq-9", "gad-7", "who-5"];
    assert_eq!(after.tests.len(), 1);
    let kind = after.tests[0].result.kind();
    let service = Service::cautious();
    let assessed = rehab::assess(after, &service, ON);
    if FOR_CAPACITY.contains(&kind) {
        let used = assessed
            .capacity
            .used
            .as_ref()
            .map(|one| one.method.as_str());
        assert_eq!(used, Some(kind), "{:?}", assessed.capacity);
    } else if !MOOD.contains(&kind) {
        let without = rehab::assess(before, &service, ON);
        assert_ne!(assessed, without, "{kind} changes nothing");
    }
    if kind != "step" {
        let mut twice = after.clone();
        twice.tests[0].date = Some(date(2026, 10, 1));
        twice.tests.push(after.tests[0].clone());
        let changes = rehab::outcome::outcome(&twice, &service, ON);
        assert!(!changes.is_empty(), "{kind} is no measure of change");
    }
}

//! Tests that are written in by their figures: a step test in stages, activity questions, mood sheets.

use crate::facts::{begun, case_of};
use crate::fixture::house;
use axum::http::StatusCode;
use rehab::assessment::TestResult;

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

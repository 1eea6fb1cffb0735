//! Tests of function and capacity out of a checked tree.

use super::read::{all, effort};
use crate::shape::View;
use rehab::assessment::{ExerciseTest, StepStage, Test, TestResult};

pub(super) fn test(view: &View<'_>) -> Option<Test> {
    Some(Test {
        date: view.day("date"),
        place: view.word("place"),
        aid: view.word("aid"),
        effort: effort(view, "effort"),
        beta_blocked: view.flag("beta_blocked"),
        result: result(view)?,
    })
}

fn result(view: &View<'_>) -> Option<TestResult> {
    let count = || view.number("count");
    let seconds = || view.number("seconds");
    let answers = || view.list("answers").map(|_| view.wholes("answers"));
    Some(match view.text("kind")?.as_str() {
        "exercise-test" => TestResult::Exercise(exercise_test(view)),
        "two-minute-step" => TestResult::TwoMinuteStep { count: count()? },
        "six-minute-walk" => TestResult::SixMinuteWalk {
            distance_m: view.number("distance_m")?,
            course_m: view.number("course_m"),
        },
        "shuttle-walk" => TestResult::ShuttleWalk {
            distance_m: view.number("distance_m")?,
            course_m: view.number("course_m"),
        },
        "step" => TestResult::Step {
            step_height_m: view.number("step_height_m")?,
            stages: all(view, "stages", stage),
        },
        "chair-stand-30s" => TestResult::ChairStand30s { count: count()? },
        "sit-to-stand-1min" => TestResult::SitToStand1Min { count: count()? },
        "five-sit-to-stand" => TestResult::FiveSitToStand {
            seconds: seconds()?,
        },
        "timed-up-and-go" => TestResult::TimedUpAndGo {
            seconds: seconds()?,
        },
        "gait-4m" => TestResult::Gait4m {
            seconds: seconds()?,
        },
        "activity-status" => TestResult::ActivityStatus {
            yes: view.list("yes").map(|_| view.wholes("yes"))?,
        },
        "phq-9" => TestResult::Phq9 {
            answers: answers()?,
        },
        "gad-7" => TestResult::Gad7 {
            answers: answers()?,
        },
        "who-5" => TestResult::Who5 {
            answers: answers()?,
        },
        _ => return None,
    })
}

fn stage(view: &View<'_>) -> Option<StepStage> {
    Some(StepStage {
        hr_bpm: view.number("hr_bpm")?,
        effort: view.number("effort"),
    })
}

fn exercise_test(view: &View<'_>) -> ExerciseTest {
    ExerciseTest {
        peak_hr_bpm: view.number("peak_hr_bpm"),
        peak_mets: view.number("peak_mets"),
        symptoms: view.words("symptoms"),
        symptom_mets: view.number("symptom_mets"),
        symptom_in_recovery: view.flag("symptom_in_recovery"),
        arrhythmia: view.flag("arrhythmia"),
        ischaemia_hr_bpm: view.number("ischaemia_hr_bpm"),
        st_depression_mm: view.number("st_depression_mm"),
        bp_response: view.word("bp_response"),
        chronotropic_incompetence: view.flag("chronotropic_incompetence"),
        hr_recovery_1min_bpm: view.number("hr_recovery_1min_bpm"),
        mode: view.text("mode"),
    }
}

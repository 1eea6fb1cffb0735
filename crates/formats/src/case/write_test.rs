//! Tests of function and capacity back into a table.

use super::write::{effort, tables, word, words};
use crate::tree::{Node, Table};
use rehab::assessment::{ExerciseTest, StepStage, Test, TestResult};

pub(super) fn test(test: &Test) -> Table {
    let mut out = Table::default();
    out.put("kind", test.result.kind());
    out.put_known("date", test.date);
    out.put_known("place", word(test.place));
    out.put_known("aid", word(test.aid));
    out.put_known("beta_blocked", test.beta_blocked);
    result(&mut out, &test.result);
    out.put_known("effort", test.effort.map(effort));
    out
}

fn result(out: &mut Table, result: &TestResult) {
    match result {
        TestResult::Exercise(test) => exercise_test(out, test),
        TestResult::TwoMinuteStep { count }
        | TestResult::ChairStand30s { count }
        | TestResult::SitToStand1Min { count } => out.put("count", *count),
        TestResult::SixMinuteWalk {
            distance_m,
            course_m,
        }
        | TestResult::ShuttleWalk {
            distance_m,
            course_m,
        } => {
            out.put("distance_m", *distance_m);
            out.put_known("course_m", *course_m);
        }
        TestResult::Step {
            step_height_m,
            stages,
        } => {
            out.put("step_height_m", *step_height_m);
            out.put("stages", tables(stages, stage));
        }
        TestResult::FiveSitToStand { seconds }
        | TestResult::TimedUpAndGo { seconds }
        | TestResult::Gait4m { seconds } => out.put("seconds", *seconds),
        TestResult::ActivityStatus { yes } => out.put("yes", numbers(yes)),
        TestResult::Phq9 { answers }
        | TestResult::Gad7 { answers }
        | TestResult::Who5 { answers } => {
            out.put("answers", numbers(answers));
        }
    }
}

fn numbers(list: &[u8]) -> Vec<Node> {
    list.iter().map(|one| (*one).into()).collect()
}

fn stage(stage: &StepStage) -> Table {
    let mut out = Table::default();
    out.put("hr_bpm", stage.hr_bpm);
    out.put_known("effort", stage.effort);
    out
}

fn exercise_test(out: &mut Table, test: &ExerciseTest) {
    out.put_known("peak_hr_bpm", test.peak_hr_bpm);
    out.put_known("peak_mets", test.peak_mets);
    // An empty list stays: it was recorded, and there was none.
    out.put_known("symptoms", test.symptoms.as_deref().map(words));
    out.put_known("symptom_mets", test.symptom_mets);
    out.put_known("symptom_in_recovery", test.symptom_in_recovery);
    out.put_known("arrhythmia", test.arrhythmia);
    out.put_known("ischaemia_hr_bpm", test.ischaemia_hr_bpm);
    out.put_known("st_depression_mm", test.st_depression_mm);
    out.put_known("bp_response", word(test.bp_response));
    out.put_known("chronotropic_incompetence", test.chronotropic_incompetence);
    out.put_known("hr_recovery_1min_bpm", test.hr_recovery_1min_bpm);
    out.put_known("mode", test.mode.as_ref());
}

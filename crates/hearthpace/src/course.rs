//! Where a person stands by their files alone: the present rung, its plan, and what a review of the diaries says.

use crate::failure::Failure;
use crate::inputs::Patient;
use jiff::civil::Date;
use rehab::assessed::{Assessed, Decision};
use rehab::evidence::Finding;
use rehab::programme::{Choices, Exercises, Plan, Stage, plan_from};
use rehab::review::{Review, ReviewInput, entries_in_order, review};

/// The plan from a rung on, and the review of what came back.
pub(crate) struct Course {
    /// Limits and rungs.
    pub(crate) plan: Plan,
    /// What was noticed in making them.
    pub(crate) noticed: Vec<Finding>,
    /// The review; none without diaries.
    pub(crate) review: Option<Review>,
}

/// The exercises that the program carries.
pub(crate) fn exercises() -> Result<Exercises, Failure> {
    Ok(formats::exercises()?)
}

/// Plans from the given rung, else from the rung that the newest diary entry names, else from the first.
pub(crate) fn course(patient: &Patient, stage: Option<u16>, exercises: &Exercises) -> Course {
    let stage = stage.unwrap_or_else(|| present_stage(patient));
    let assessed = rehab::assess(&patient.case, &patient.service, patient.on);
    let (plan, noticed) = planned(patient, assessed, stage, exercises);
    let review =
        (!patient.diary.entries.is_empty()).then(|| reviewed(patient, &plan, stage, exercises));
    Course {
        plan,
        noticed,
        review,
    }
}

/// The rung that the newest entry names.
pub(crate) fn present_stage(patient: &Patient) -> u16 {
    let entries = entries_in_order(&patient.diary.entries, patient.on);
    entries
        .iter()
        .rev()
        .find_map(|entry| entry.stage)
        .unwrap_or(1)
}

fn planned(
    patient: &Patient,
    assessed: Assessed,
    stage: u16,
    exercises: &Exercises,
) -> (Plan, Vec<Finding>) {
    let choices = Choices {
        stage,
        ..Choices::none()
    };
    plan_from(
        &patient.case,
        &patient.service,
        exercises,
        assessed,
        &choices,
    )
}

fn reviewed(patient: &Patient, plan: &Plan, stage: u16, exercises: &Exercises) -> Review {
    let stages = done_stages(patient, plan, stage, exercises);
    review(&ReviewInput {
        case: &patient.case,
        service: &patient.service,
        assessed: &plan.assessed,
        stages: &stages,
        current_stage: stage,
        stage_since: done_since(patient, stage),
        given: &[],
        entries: &patient.diary.entries,
        heard: &[],
        earlier: &[],
        contacts: &[],
        settled: &[],
        stopped: None,
        on: patient.on,
    })
}

/// The first day of the last row of entries on a rung: what was done on it before another one was decided on since.
fn done_since(patient: &Patient, stage: u16) -> Option<Date> {
    let entries = entries_in_order(&patient.diary.entries, patient.on);
    let mut named = entries
        .into_iter()
        .rev()
        .filter(|entry| entry.stage.is_some());
    let newest = named.find(|entry| entry.stage == Some(stage))?;
    let row = named.take_while(|entry| entry.stage == Some(stage));
    Some(row.last().unwrap_or(newest).date)
}

/// The rungs that the entries were done on. When nothing may be done on the day of the review (the examination ran
/// out, say), they are those of the day of the newest examination: what was done was planned then.
fn done_stages(patient: &Patient, plan: &Plan, stage: u16, exercises: &Exercises) -> Vec<Stage> {
    if plan.assessed.screening.decision == Decision::Exercise {
        return plan.stages.clone();
    }
    let examined: Option<Date> = patient.case.examinations.iter().map(|one| one.date).max();
    let Some(examined) = examined.filter(|day| *day <= patient.on) else {
        return Vec::new();
    };
    let assessed = rehab::assess(&patient.case, &patient.service, examined);
    planned(patient, assessed, stage, exercises).0.stages
}

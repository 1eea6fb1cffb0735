//! `programme`: the rungs, and with diaries the proposal.

use super::Common;
use crate::course::{Asked, Course, course, exercises};
use crate::failure::Failure;
use crate::inputs::{self, Patient};
use crate::text::{self, Told};
use crate::{output, place};
use formats::instance;
use rehab::programme::{Choices, Exercises, Others, Phase, SegmentKind, alternatives, rungs};
use std::path::{Path, PathBuf};

/// The rungs of a programme; with diaries the proposal and why.
#[derive(clap::Args, Debug)]
pub(crate) struct Programme {
    /// The case file
    #[arg(value_name = "CASE")]
    case: PathBuf,
    /// What came back; may be given more than once
    #[arg(long, value_name = "FILE")]
    diary: Vec<PathBuf>,
    /// The settings of the service [default: the built-in cautious set]
    #[arg(long, value_name = "FILE")]
    service: Option<PathBuf>,
    /// The rung to begin at [default: the one of the newest diary entry, else the first]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=200))]
    stage: Option<u16>,
    /// Say what else this turn of the round of that rung could be, easy turns counted too, and why
    #[arg(long, value_name = "K", value_parser = clap::value_parser!(u8).range(1..=40))]
    turn: Option<u8>,
    /// Write the composer's problem of that rung to this file
    #[arg(long, value_name = "FILE")]
    instance: Option<PathBuf>,
    /// Show beside each number why it is what it is
    #[arg(long)]
    because: bool,
}

impl Programme {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let patient = inputs::patient(&self.case, &self.diary, self.service.as_deref(), common.on)?;
        let exercises = exercises()?;
        let asked = Asked {
            from: self.stage,
            here: None,
        };
        let course = course(&patient, asked, &exercises)?;
        if let Some(file) = &self.instance {
            write_instance(file, &patient, &course, &exercises)?;
        }
        let Course {
            plan,
            noticed,
            review,
            ..
        } = &course;
        let others = self
            .turn
            .map(|turn| others(turn, &patient, &course, &exercises))
            .transpose()?;
        let came_back = !patient.diary.entries.is_empty();
        let review = came_back.then_some(review);
        if common.json {
            let (id, service) = (&patient.case.id, &patient.service);
            let mut result = formats::json::programme(id, plan, noticed, service, review);
            if let Some((turn, others)) = self.turn.zip(others.as_ref()) {
                result["others"] = formats::json::others(course.from, turn, others);
            }
            return output::json_result(&result);
        }
        let words = formats::words("en-GB")?;
        output::result(&text::programme(&Told {
            case: &patient.case,
            service: &patient.service,
            plan,
            noticed,
            review,
            others: self.turn.zip(others.as_ref()),
            words: &words,
            why: self.because,
        }))
    }
}

/// What else a turn of the rung the plan begins at could be.
fn others(
    turn: u8,
    patient: &Patient,
    course: &Course,
    exercises: &Exercises,
) -> Result<Others, Failure> {
    let stage = course.from;
    let rung = course.plan.stages.iter().find(|one| one.number == stage);
    let rung = rung.ok_or_else(|| {
        Failure::CannotBeDone(format!(
            "there is no rung {stage}; see the reasons of 'programme' without --turn"
        ))
    })?;
    let turns = rung.segments.iter().filter(|one| {
        let counts = [SegmentKind::Cardiovascular, SegmentKind::ActiveRecovery];
        one.phase == Phase::Conditioning && one.round <= 1 && counts.contains(&one.kind)
    });
    match turns.count() {
        0 => Err(Failure::CannotBeDone(format!(
            "rung {stage} has no turns; take a later one with --stage"
        ))),
        count if usize::from(turn) > count => Err(Failure::CannotBeDone(format!(
            "the round of rung {stage} has {count} turns and no turn {turn}; name one of them with --turn"
        ))),
        _ => {
            let choices = Choices {
                stage,
                ..Choices::none()
            };
            let (case, assessed) = (&course.record.case, &course.plan.assessed);
            Ok(alternatives(
                case,
                &patient.service,
                exercises,
                assessed,
                &choices,
                turn,
            ))
        }
    }
}

fn write_instance(
    file: &Path,
    patient: &Patient,
    course: &Course,
    exercises: &Exercises,
) -> Result<(), Failure> {
    let stage = course.from;
    let choices = Choices {
        stage,
        ..Choices::none()
    };
    let assessed = &course.plan.assessed;
    let (rungs, _) = rungs(
        &course.record.case,
        &patient.service,
        exercises,
        assessed,
        &choices,
        stage,
    );
    let found = rungs.iter().find(|rung| rung.stage.number == stage);
    let instance = found.and_then(|rung| rung.instance.as_ref()).ok_or_else(|| {
        Failure::CannotBeDone(match found {
            Some(_) => format!("rung {stage} has no stations, so there is no problem to write; take a later one with --stage"),
            None => format!("there is no rung {stage}; see the reasons of 'programme' without --instance"),
        })
    })?;
    place::new_file(file, instance::write(instance).as_bytes())
}

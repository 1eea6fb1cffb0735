//! `review`: trends, alerts and the proposal out of diaries.

use super::Common;
use crate::course::{Asked, course, exercises};
use crate::failure::Failure;
use crate::{inputs, output, text};
use rehab::assessment::StatusKind;
use std::path::PathBuf;

/// Trends, alerts and the same proposal as 'programme'.
#[derive(clap::Args, Debug)]
pub(crate) struct Review {
    /// The case file
    #[arg(value_name = "CASE")]
    case: PathBuf,
    /// What came back; may be given more than once
    #[arg(long, value_name = "FILE", required = true)]
    diary: Vec<PathBuf>,
    /// The settings of the service [default: the built-in cautious set]
    #[arg(long, value_name = "FILE")]
    service: Option<PathBuf>,
    /// The rung the person is on [default: the one of the newest diary entry, else the first]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=200))]
    stage: Option<u16>,
    /// Show why the proposal is what it is
    #[arg(long)]
    because: bool,
}

impl Review {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let patient = inputs::patient(&self.case, &self.diary, self.service.as_deref(), common.on)?;
        let status = patient.case.status;
        if status.kind == StatusKind::Died {
            let on = status
                .since
                .map_or_else(String::new, |day| format!(" on {day}"));
            return Err(Failure::CannotBeDone(format!(
                "{} has died{on}: nothing is reviewed and nothing is proposed; what somebody of the family says belongs into a note",
                patient.case.person.name.as_deref().unwrap_or("the person")
            )));
        }
        if patient.diary.entries.is_empty() {
            return Err(Failure::CannotBeDone(
                "the diaries hold no entry, so there is nothing to review; give one with entries"
                    .to_owned(),
            ));
        }
        let asked = Asked {
            from: None,
            here: self.stage,
        };
        let review = course(&patient, asked, &exercises()?)?.review;
        if common.json {
            return output::json_result(&formats::json::review(
                &patient.case.id,
                patient.on,
                &review,
                &patient.service,
            ));
        }
        output::result(&text::review(
            &patient.case,
            patient.on,
            &review,
            self.because,
        ))
    }
}

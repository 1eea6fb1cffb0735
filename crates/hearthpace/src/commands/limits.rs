//! `limits`: what one assessment comes to.

use super::Common;
use crate::failure::Failure;
use crate::inputs::{self, Patient};
use crate::{output, text};
use std::path::PathBuf;

/// Screening, capacity, risk, eligibility and limits, each with its reasons.
#[derive(clap::Args, Debug)]
pub(crate) struct Limits {
    /// The case file
    #[arg(value_name = "CASE")]
    case: PathBuf,
    /// The settings of the service [default: the built-in cautious set]
    #[arg(long, value_name = "FILE")]
    service: Option<PathBuf>,
    /// Show beside each number why it is what it is
    #[arg(long)]
    because: bool,
}

impl Limits {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let Patient {
            case, service, on, ..
        } = inputs::patient(&self.case, &[], self.service.as_deref(), common.on)?;
        let assessed = rehab::assess(&case, &service, on);
        if common.json {
            return output::json_result(&formats::json::limits(&case.id, &assessed, &service));
        }
        output::result(&text::limits(&case, &assessed, &service, self.because))
    }
}

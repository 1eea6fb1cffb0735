//! Why a command could not do its work.

use formats::{Problem, Problems};
use std::process::ExitCode;

/// What went wrong, in the terms of the exit status.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The input was refused: every problem with its place.
    Refused(Vec<Problem>),
    /// Something could not be done: what, why and what to do next in one line.
    CannotBeDone(String),
    /// The command was given wrongly.
    WrongUsage(String),
    /// Whoever read the output stopped reading: nothing to say, nothing done wrong.
    OutputClosed,
}

impl Failure {
    pub(crate) fn exit_code(&self) -> ExitCode {
        match self {
            Self::Refused(_) | Self::CannotBeDone(_) => ExitCode::from(1),
            Self::WrongUsage(_) => ExitCode::from(2),
            Self::OutputClosed => ExitCode::SUCCESS,
        }
    }
}

impl From<Problems> for Failure {
    fn from(problems: Problems) -> Self {
        Self::Refused(problems.0)
    }
}

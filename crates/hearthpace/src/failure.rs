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

/// Why the system refused something, in plain words, without its own and without its numbers.
pub(crate) fn reason(error: &std::io::Error) -> &'static str {
    use std::io::ErrorKind as Kind;
    match error.kind() {
        Kind::NotFound => "there is no such file or folder",
        Kind::PermissionDenied => "this account may not do that there",
        Kind::ReadOnlyFilesystem => "it can only be read there",
        Kind::AlreadyExists => "something of that name is there already",
        Kind::IsADirectory => "it is a folder",
        Kind::NotADirectory => "a part of the way to it is no folder",
        Kind::StorageFull | Kind::QuotaExceeded => "the disk is full",
        Kind::FileTooLarge => "it is larger than the disk takes",
        Kind::InvalidFilename | Kind::InvalidInput => "its name is not possible",
        Kind::AddrInUse => "something else listens there already",
        Kind::AddrNotAvailable => "this machine has no such address",
        Kind::TimedOut | Kind::WouldBlock => "it took too long",
        _ => "the system refused it",
    }
}

impl From<Problems> for Failure {
    fn from(problems: Problems) -> Self {
        Self::Refused(problems.0)
    }
}

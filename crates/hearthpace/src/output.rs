//! What leaves the program: results on standard output, everything else on standard error.

use crate::failure::{Failure, reason};
use formats::Problem;
use serde_json::{Value, json};
use std::io::{ErrorKind, Write};
use std::process::ExitCode;

/// Writes a result.
pub(crate) fn result(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    written.map_err(|error| match error.kind() {
        ErrorKind::BrokenPipe => Failure::OutputClosed,
        _ => Failure::CannotBeDone(format!(
            "the result could not be written: {}; make room or write it elsewhere",
            reason(&error)
        )),
    })
}

/// Writes a result in the machine form.
pub(crate) fn json_result(value: &Value) -> Result<(), Failure> {
    result(&format!("{}\n", pretty(value)))
}

/// Tells why nothing was done.
pub(crate) fn failure(failure: &Failure, as_json: bool) {
    if matches!(failure, Failure::OutputClosed) {
        return;
    }
    let text = if as_json {
        failure_json(failure)
    } else {
        failure_text(failure)
    };
    // When even standard error is gone there is nobody left to tell.
    let _ = std::io::stderr().write_all(text.as_bytes());
}

/// Tells how a command is given; help and version are results.
pub(crate) fn wrong_usage(error: &clap::Error) -> ExitCode {
    if !error.use_stderr() {
        let _ = error.print();
        return ExitCode::SUCCESS;
    }
    if std::env::args_os().any(|argument| argument == "--json") {
        failure(
            &Failure::WrongUsage(error.to_string().trim_end().to_owned()),
            true,
        );
    } else {
        let _ = error.print();
    }
    ExitCode::from(2)
}

fn failure_text(failure: &Failure) -> String {
    match failure {
        Failure::Refused(problems) => problems
            .iter()
            .map(|problem| format!("{problem}\n"))
            .collect(),
        Failure::CannotBeDone(message) | Failure::WrongUsage(message) => format!("{message}\n"),
        Failure::OutputClosed => String::new(),
    }
}

fn failure_json(failure: &Failure) -> String {
    let value = match failure {
        Failure::Refused(problems) => {
            json!({ "error": "refused", "problems": problems_json(problems) })
        }
        Failure::CannotBeDone(message) => json!({ "error": "cannot-be-done", "message": message }),
        Failure::WrongUsage(message) => json!({ "error": "wrong-usage", "message": message }),
        Failure::OutputClosed => return String::new(),
    };
    format!("{}\n", pretty(&value))
}

/// Problems in the machine form.
pub(crate) fn problems_json(problems: &[Problem]) -> Value {
    let all = problems.iter().map(|problem| {
        json!({
            "file": problem.file,
            "key_path": problem.key_path,
            "line": problem.line,
            "message": problem.message,
        })
    });
    Value::Array(all.collect())
}

fn pretty(value: &Value) -> String {
    serde_json::to_string_pretty(value).expect("text keys and finite numbers can always be written")
}

/// Something worth knowing beside the result.
pub(crate) fn remark(text: &str) {
    // When standard error is gone there is nobody left to tell; the result has been written.
    let _ = std::io::stderr().write_all(text.as_bytes());
}

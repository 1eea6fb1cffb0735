//! `check`: validates files of any format.

use super::Common;
use crate::failure::Failure;
use crate::{inputs, output};
use formats::{
    FileKind, Problem, Problems, SourceFile, case, diary, exercise, instance, movement, service,
};
use serde_json::json;
use std::path::PathBuf;

/// Validates files of any format and lists every problem.
#[derive(clap::Args, Debug)]
pub(crate) struct Check {
    /// Files to validate: cases, diaries, service settings, exercises, composer problems
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
}

struct Checked {
    name: String,
    kind: Option<FileKind>,
    problems: Vec<Problem>,
}

impl Check {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let mut all = Vec::new();
        for path in &self.files {
            all.push(check(path, common).unwrap_or_else(|failure| unread(path, failure)));
        }
        let report = if common.json {
            json_report(&all)
        } else {
            text_report(&all)
        };
        output::result(&report)?;
        let problems: Vec<Problem> = all
            .iter()
            .flat_map(|one| one.problems.iter().cloned())
            .collect();
        if problems.is_empty() {
            return Ok(());
        }
        if common.json {
            return Err(Failure::Refused(problems));
        }
        let bad = all.iter().filter(|one| !one.problems.is_empty()).count();
        Err(Failure::CannotBeDone(format!(
            "{} in {bad} of {} files; correct the lines named above and check again",
            count(problems.len()),
            all.len()
        )))
    }
}

/// A file that could not be read stands in the list like any other.
fn unread(path: &std::path::Path, failure: Failure) -> Checked {
    let file = path.display().to_string();
    let problems = match failure {
        Failure::Refused(problems) => problems,
        Failure::CannotBeDone(why) | Failure::WrongUsage(why) => vec![Problem {
            file: file.clone(),
            key_path: String::new(),
            line: None,
            message: why,
        }],
        Failure::OutputClosed => Vec::new(),
    };
    Checked {
        name: file,
        kind: None,
        problems,
    }
}

fn count(problems: usize) -> String {
    if problems == 1 {
        "1 problem".to_owned()
    } else {
        format!("{problems} problems")
    }
}

fn check(path: &std::path::Path, common: &Common) -> Result<Checked, Failure> {
    let name = path.display().to_string();
    let bytes = inputs::bytes(path, formats::tree::MOST)?;
    let (kind, result) = match SourceFile::open(&name, &bytes) {
        Err(problems) => (None, Err(problems)),
        Ok(file) => match file.kind() {
            Err(problems) => (None, Err(problems)),
            Ok(kind) => (Some(kind), read(&file, kind, &bytes, common)),
        },
    };
    Ok(Checked {
        name,
        kind,
        problems: result.err().map_or_else(Vec::new, |problems| problems.0),
    })
}

fn read(file: &SourceFile, kind: FileKind, bytes: &[u8], common: &Common) -> Result<(), Problems> {
    let on = inputs::day_of_work(common.on, file.newest_date(kind.shape()));
    match kind {
        FileKind::Case => case::from_file(file, on).map(drop),
        FileKind::Diary => diary::from_file(file, on, None).map(drop),
        FileKind::Service => service::from_file(file).map(drop),
        FileKind::Instance => instance::from_file(file).map(drop),
        FileKind::Movement => {
            let text = String::from_utf8_lossy(bytes);
            movement::check(&text, &file.name)
        }
        FileKind::Exercise => {
            let text = String::from_utf8_lossy(bytes);
            exercise::parse(&text, &file.name).map(drop)
        }
    }
}

fn text_report(all: &[Checked]) -> String {
    let mut out = String::new();
    for one in all {
        let kind = one.kind.map_or("", FileKind::word);
        match one.problems.len() {
            0 => out.push_str(&format!("{}: {kind}, nothing wrong\n", one.name)),
            many => out
                .push_str(&format!("{}: {kind}, {}\n", one.name, count(many)).replace(": ,", ":")),
        }
        for problem in &one.problems {
            out.push_str(&format!("  {problem}\n"));
        }
    }
    out
}

fn json_report(all: &[Checked]) -> String {
    let files: Vec<_> = all
        .iter()
        .map(|one| {
            json!({
                "file": one.name,
                "kind": one.kind.map(FileKind::word),
                "valid": one.problems.is_empty(),
                "problems": output::problems_json(&one.problems),
            })
        })
        .collect();
    format!("{:#}\n", json!({ "files": files }))
}

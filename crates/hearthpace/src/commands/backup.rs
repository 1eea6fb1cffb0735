//! `backup` and `restore`: one checked file of the whole record.

use super::Common;
use crate::failure::{Failure, reason};
use crate::output;
use records::BackupReport;
use serde_json::json;
use std::path::PathBuf;

/// Writes one checked file of the whole record, also while the program serves it.
#[derive(clap::Args, Debug)]
pub(crate) struct Backup {
    /// The folder of the record
    #[arg(long, value_name = "DIR")]
    data: PathBuf,
    /// The file to write; nothing is overwritten
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
}

impl Backup {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let report = waited(records::backup(&self.data, &self.out))?;
        let said = format!("{} holds", self.out.display());
        told(&report, &said, &self.out.display().to_string(), common)
    }
}

/// Puts the record of a backup into an empty or new folder.
#[derive(clap::Args, Debug)]
pub(crate) struct Restore {
    /// The file that 'backup' wrote
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// The folder for the record; nothing is overwritten
    #[arg(long, value_name = "DIR")]
    data: PathBuf,
}

impl Restore {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let report = waited(records::restore(&self.file, &self.data))?;
        let said = format!("{} now holds", self.data.display());
        told(&report, &said, &self.data.display().to_string(), common)
    }
}

fn waited(
    work: impl Future<Output = Result<BackupReport, records::Error>>,
) -> Result<BackupReport, Failure> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .map_err(|error| {
            Failure::CannotBeDone(format!(
                "the work could not be started: {}; try again",
                reason(&error)
            ))
        })?;
    runtime
        .block_on(work)
        .map_err(|error| Failure::CannotBeDone(error.to_string()))
}

fn told(report: &BackupReport, said: &str, place: &str, common: &Common) -> Result<(), Failure> {
    if common.json {
        return output::json_result(&json!({
            "place": place,
            "cases": report.head.cases,
            "entries": report.head.entries,
            "digest": report.head.digest.to_string(),
            "bytes": report.bytes,
        }));
    }
    output::result(&format!(
        "{said} {} with {}, checked. Digest to keep: {}\n",
        counted(report.head.cases, "case", "cases"),
        counted(report.head.entries, "entry", "entries"),
        report.head.digest.to_short_text()
    ))
}

fn counted(number: u64, one: &str, more: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { more })
}

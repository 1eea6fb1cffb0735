//! The commands, one file each.

mod backup;
mod check;
mod compose;
mod demo;
mod export;
mod figures;
mod import;
mod limits;
mod pack;
mod programme;
mod review;
mod rule;
mod rules;
mod schema;
mod serve;

use crate::failure::Failure;
use jiff::civil::Date;

/// What every command takes.
#[derive(clap::Args, Debug)]
pub(crate) struct Common {
    /// Machine form: JSON results on standard output, JSON errors on standard error
    #[arg(long, global = true)]
    pub(crate) json: bool,
    /// The day the work is for, for example 2026-10-12 [default: the newest day in the input files, at the latest today]
    #[arg(long, global = true, value_name = "DATE", value_parser = day)]
    pub(crate) on: Option<Date>,
}

/// The commands.
#[derive(clap::Subcommand, Debug)]
pub(crate) enum Command {
    /// Validate files of any format and list every problem with key path and line
    Check(check::Check),
    /// Screening, capacity, risk, eligibility and limits, each with its reasons
    Limits(limits::Limits),
    /// The rungs of a programme; with diaries the proposal and why
    Programme(programme::Programme),
    /// The home pack: session page and booklet, signed or marked as a draft
    Pack(pack::Pack),
    /// Trends, alerts and the proposal out of diaries
    Review(review::Review),
    /// Solve one problem of the composer: chosen list, objective, bound
    Compose(compose::Compose),
    /// The figure of every exercise: moving, for print, its key poses, and a page with all of them
    Figures(figures::Figures),
    /// Serve an invented caseload from a temporary folder and print its address
    Demo(demo::Demo),
    /// Read a FHIR R4 Bundle into a case file
    Import(import::Import),
    /// Write a case as a FHIR R4 Bundle
    Export(export::Export),
    /// List every rule and equation with id, source, tag and inputs
    Rules(rules::Rules),
    /// Evaluate one rule or equation
    Rule(rule::EvaluateRule),
    /// Write one checked file of the whole record, also while the program serves it
    Backup(backup::Backup),
    /// Put the record of a backup into an empty or new folder
    Restore(backup::Restore),
    /// Serve the record of a folder to browsers on this machine, or to a team
    Serve(serve::Serve),
    /// Print the JSON Schema of a file format
    Schema(schema::Schema),
}

/// Runs a command.
pub(crate) fn run(command: &Command, common: &Common) -> Result<(), Failure> {
    match command {
        Command::Check(check) => check.run(common),
        Command::Limits(limits) => limits.run(common),
        Command::Programme(programme) => programme.run(common),
        Command::Pack(pack) => pack.run(common),
        Command::Review(review) => review.run(common),
        Command::Compose(compose) => compose.run(common),
        Command::Figures(figures) => figures.run(common),
        Command::Demo(demo) => demo.run(common),
        Command::Import(import) => import.run(common),
        Command::Export(export) => export.run(common),
        Command::Rules(rules) => rules.run(common),
        Command::Rule(rule) => rule.run(common),
        Command::Backup(backup) => backup.run(common),
        Command::Restore(restore) => restore.run(common),
        Command::Serve(serve) => serve.run(common),
        Command::Schema(schema) => schema.run(),
    }
}

fn day(text: &str) -> Result<Date, String> {
    let form = text.len() == 10 && text.is_ascii();
    text.parse()
        .ok()
        .filter(|_| form)
        .ok_or_else(|| "write the day as 2026-10-12".to_owned())
}

//! Files named on the command line.

use crate::failure::{Failure, reason};
use formats::case::CASE;
use formats::diary::DIARY;
use formats::tree::{MOST, Most};
use formats::{Problem, Problems, SourceFile, case, diary, service};
use jiff::civil::Date;
use rehab::assessment::Case;
use rehab::diary::Diary;
use rehab::service::Service;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};
use web::Clock;

/// The bytes of a file, never more than one beyond what is taken, so that a wrong file cannot fill the memory.
pub(crate) fn bytes(path: &Path, most: Most) -> Result<Vec<u8>, Failure> {
    let name = path.display();
    let cannot = |error: std::io::Error| {
        Failure::CannotBeDone(format!(
            "'{name}' could not be read: {}; check its name and that you may read it",
            reason(&error)
        ))
    };
    let mut out = Vec::new();
    let limit = most.bytes as u64 + 1;
    let file = File::open(path).map_err(cannot)?;
    file.take(limit).read_to_end(&mut out).map_err(cannot)?;
    Ok(out)
}

/// Everything about one person that commands work from.
pub(crate) struct Patient {
    /// The case.
    pub(crate) case: Case,
    /// What came back; empty without diary files.
    pub(crate) diary: Diary,
    /// The service's settings, else the built-in cautious set.
    pub(crate) service: Service,
    /// The day the work is for.
    pub(crate) on: Date,
}

/// Reads case, diaries and settings, and tells the problems of all of them at once.
pub(crate) fn patient(
    case: &Path,
    diaries: &[PathBuf],
    service: Option<&Path>,
    on: Option<Date>,
) -> Result<Patient, Failure> {
    let case_file = open(case)?;
    let diary_files: Vec<SourceFile> = diaries.iter().map(open).collect::<Result<_, _>>()?;
    let service_file = service.map(open).transpose()?;
    let newest = diary_files.iter().map(|file| file.newest_date(&DIARY));
    let newest = newest.chain([case_file.newest_date(&CASE)]).flatten().max();
    let on = day_of_work(on, newest);

    let mut problems = Vec::new();
    let case = keep(case::from_file(&case_file, on), &mut problems);
    let born = case.as_ref().and_then(|case| case.person.born);
    let mut parts = Vec::new();
    for file in &diary_files {
        let diary = keep(diary::from_file(file, on, born), &mut problems);
        if let (Some(diary), Some(case)) = (diary, &case) {
            keep(diary::belongs_to(file, &diary, &case.id), &mut problems);
            parts.push((file.name.clone(), diary));
        }
    }
    let service = match &service_file {
        Some(file) => keep(service::from_file(file), &mut problems),
        None => Some(Service::cautious()),
    };
    let (Some(case), Some(service), true) = (case, service, problems.is_empty()) else {
        return Err(Failure::Refused(problems));
    };
    let Some(on) = on else {
        return Err(Failure::CannotBeDone(format!(
            "{} holds no day to work from; give one with --on, for example --on 2026-10-12",
            case_file.name
        )));
    };
    let diary = diary::join(case.id.clone(), parts)?;
    Ok(Patient {
        case,
        diary,
        service,
        on,
    })
}

/// The day the work is for: as asked, else the newest in the files, but never one that has not come. A later day in a
/// file is a slip, and the whole work would be reckoned from it; it is refused where it stands.
pub(crate) fn day_of_work(asked: Option<Date>, newest: Option<Date>) -> Option<Date> {
    asked.or_else(|| newest.map(|newest| newest.min(Clock::Real.today())))
}

fn keep<T>(result: Result<T, Problems>, problems: &mut Vec<Problem>) -> Option<T> {
    match result {
        Ok(value) => Some(value),
        Err(Problems(more)) => {
            problems.extend(more);
            None
        }
    }
}

/// A file read into its tree.
fn open(path: impl AsRef<Path>) -> Result<SourceFile, Failure> {
    let path = path.as_ref();
    Ok(SourceFile::open(
        &path.display().to_string(),
        &bytes(path, MOST)?,
    )?)
}

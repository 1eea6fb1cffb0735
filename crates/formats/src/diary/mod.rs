//! The diary file: what was really done.

mod read;
mod shape;
mod write;

pub use shape::DIARY;

use crate::file::{FileKind, SourceFile};
use crate::shape::{Sink, View, check};
use crate::tree::{Notation, Table};
use crate::{Problem, Problems, tree};
use jiff::civil::Date;
use rehab::assessment::CaseId;
use rehab::diary::{Diary, DiaryEntry};

/// Reads a diary file; `on` is the day the work is for, without it the newest day of the file.
///
/// # Errors
/// Every problem of the file.
pub fn read(name: &str, bytes: &[u8], on: Option<Date>) -> Result<(Diary, Option<Date>), Problems> {
    let file = SourceFile::open(name, bytes)?;
    let on = on.or_else(|| file.newest_date(&DIARY));
    Ok((from_file(&file, on, None)?, on))
}

/// The diary of a file whose text is already a tree. Nothing may lie after `on`; with the day of birth, nothing
/// before it.
///
/// # Errors
/// Every problem of the file.
pub fn from_file(
    file: &SourceFile,
    on: Option<Date>,
    born: Option<Date>,
) -> Result<Diary, Problems> {
    file.must_be(FileKind::Diary)?;
    let mut sink = Sink::new(&file.name);
    sink.on = on;
    sink.born = born;
    check(&file.tree, &DIARY, &mut sink);
    let diary = View::of(&file.tree, &DIARY).and_then(|view| read::diary(&view, &mut sink));
    sink.finish(diary)
}

/// Refuses a diary of another case.
///
/// # Errors
/// When the diary's case is not this one.
pub fn belongs_to(file: &SourceFile, diary: &Diary, case: &CaseId) -> Result<(), Problems> {
    if diary.case == *case {
        return Ok(());
    }
    let line = View::of(&file.tree, &DIARY).and_then(|view| view.line_of("case"));
    Err(Problems(vec![Problem {
        file: file.name.clone(),
        key_path: "case".to_owned(),
        line,
        message: format!(
            "this diary is of the case '{}', not of '{}'; give the diary of this person",
            diary.case.0, case.0
        ),
    }]))
}

/// One diary out of several of the same case: an entry id seen twice is one entry, with all that any of them tells.
///
/// # Errors
/// When two entries of one id contradict each other.
pub fn join(case: CaseId, parts: Vec<(String, Diary)>) -> Result<Diary, Problems> {
    let mut entries: Vec<DiaryEntry> = Vec::new();
    let mut problems = Vec::new();
    for (file, diary) in parts {
        for entry in diary.entries {
            let Some(known) = entries.iter_mut().find(|one| one.id == entry.id) else {
                entries.push(entry);
                continue;
            };
            match known.joined(&entry) {
                Some(joined) => *known = joined,
                None => problems.push(Problem {
                    file: file.clone(),
                    key_path: "entries".to_owned(),
                    line: None,
                    message: read::same_id(&entry.id, known.date),
                }),
            }
        }
    }
    if problems.is_empty() {
        Ok(Diary { case, entries })
    } else {
        Err(Problems(problems))
    }
}

/// The diary as a table, for writing and for stored records.
pub fn to_table(diary: &Diary) -> Table {
    write::diary(diary)
}

/// One entry as a table.
pub fn entry_to_table(entry: &DiaryEntry) -> Table {
    write::entry(entry)
}

/// The diary as text.
pub fn write(diary: &Diary, notation: Notation) -> String {
    tree::write(&to_table(diary), notation)
}

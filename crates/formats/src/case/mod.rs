//! The case file: reading with every problem told at once, and writing back.

mod contradictions;
pub(crate) mod id;
pub(crate) mod read;
mod read_test;
pub(crate) mod shape;
pub(crate) mod write;
mod write_test;

pub use shape::CASE;

use crate::file::{FileKind, SourceFile};
use crate::shape::{Sink, View, check};
use crate::tree::{Notation, Table};
use crate::{Problems, tree};
pub(crate) use contradictions::is_hidden;
use jiff::civil::Date;
use rehab::assessment::Case;

/// Reads a case file.
///
/// `on` is the day the work is for; without it, the newest day of the file. The day is given back.
///
/// # Errors
/// Every problem of the file.
pub fn read(name: &str, bytes: &[u8], on: Option<Date>) -> Result<(Case, Option<Date>), Problems> {
    let file = SourceFile::open(name, bytes)?;
    let on = on.or_else(|| file.newest_date(&CASE));
    Ok((from_file(&file, on)?, on))
}

/// The case of a file whose text is already a tree. Nothing that has been may lie after `on`.
///
/// # Errors
/// Every problem of the file.
pub fn from_file(file: &SourceFile, on: Option<Date>) -> Result<Case, Problems> {
    file.must_be(FileKind::Case)?;
    let mut sink = Sink::new(&file.name);
    sink.on = on;
    let view = View::of(&file.tree, &CASE);
    sink.born = view
        .as_ref()
        .and_then(|view| view.table("person"))
        .and_then(|person| person.day("born"));
    check(&file.tree, &CASE, &mut sink);
    let case = view.map(|view| {
        contradictions::tell(&view, &mut sink);
        read::case(&view)
    });
    sink.finish(case)
}

/// One test out of a checked table.
pub(crate) fn read_test(view: &View<'_>) -> Option<rehab::assessment::Test> {
    read_test::test(view)
}

/// The tests of a case, each as a table.
pub(crate) fn tests_to_tables(case: &Case) -> Vec<Table> {
    case.tests.iter().map(write_test::test).collect()
}

/// The case as a table, for writing and for stored records.
pub fn to_table(case: &Case) -> Table {
    write::case(case)
}

/// The case as text.
pub fn write(case: &Case, notation: Notation) -> String {
    tree::write(&to_table(case), notation)
}

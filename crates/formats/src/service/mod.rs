//! The service file: what a service sets. What it leaves out keeps the built-in cautious value.

mod held;
mod read;
mod shape;
mod write;

pub use shape::SERVICE;

use crate::file::{FileKind, SourceFile};
use crate::shape::{Sink, View, check};
use crate::tree::{Notation, Table};
use crate::{Problems, tree};
use rehab::service::Service;

/// Reads a service file.
///
/// # Errors
/// Every problem of the file.
pub fn read(name: &str, bytes: &[u8]) -> Result<Service, Problems> {
    from_file(&SourceFile::open(name, bytes)?)
}

/// The settings of a file whose text is already a tree.
///
/// # Errors
/// Every problem of the file.
pub fn from_file(file: &SourceFile) -> Result<Service, Problems> {
    file.must_be(FileKind::Service)?;
    let mut sink = Sink::new(&file.name);
    check(&file.tree, &SERVICE, &mut sink);
    let service = View::of(&file.tree, &SERVICE).and_then(|view| read::service(&view, &mut sink));
    sink.finish(service)
}

/// The settings as a table, for writing and for stored records.
pub fn to_table(service: &Service) -> Table {
    write::service(service)
}

/// The settings as text.
pub fn write(service: &Service, notation: Notation) -> String {
    tree::write(&to_table(service), notation)
}

//! The composer's problem as a file, so that any other solver can be set the same problem.

mod read;
mod shape;
mod write;

pub use shape::INSTANCE;
pub use write::{infeasible, solved};

use crate::Problems;
use crate::file::SourceFile;
use crate::shape::{Sink, View, check};
use crate::tree::{Notation, Table, write as write_tree};
use rehab::programme::composer::Instance;

/// Reads a problem.
///
/// # Errors
/// Every problem of the file.
pub fn read(name: &str, bytes: &[u8]) -> Result<Instance, Problems> {
    from_file(&SourceFile::open(name, bytes)?)
}

/// The problem of a file whose text is already a tree.
///
/// # Errors
/// Every problem of the file.
pub fn from_file(file: &SourceFile) -> Result<Instance, Problems> {
    let mut sink = Sink::new(&file.name);
    check(&file.tree, &INSTANCE, &mut sink);
    let instance =
        View::of(&file.tree, &INSTANCE).and_then(|view| read::instance(&view, &mut sink));
    if let Some(instance) = instance.as_ref().filter(|_| sink.is_clean()) {
        for message in instance.problems() {
            sink.say("", None, message);
        }
    }
    sink.finish(instance)
}

/// The problem as a table.
pub fn to_table(instance: &Instance) -> Table {
    write::instance(instance)
}

/// The problem as text.
pub fn write(instance: &Instance) -> String {
    write_tree(&to_table(instance), Notation::Json)
}

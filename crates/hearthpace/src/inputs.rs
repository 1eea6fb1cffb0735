//! Files named on the command line.

use crate::failure::Failure;
use formats::tree::MOST_BYTES;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// The bytes of a file, never more than one beyond what is taken, so that a wrong file cannot fill the memory.
pub(crate) fn bytes(path: &Path) -> Result<Vec<u8>, Failure> {
    let name = path.display();
    let cannot = |error: std::io::Error| {
        Failure::CannotBeDone(format!(
            "'{name}' could not be read: {}; check its name and that you may read it",
            plain(&error)
        ))
    };
    let mut out = Vec::new();
    let limit = MOST_BYTES as u64 + 1;
    let file = File::open(path).map_err(cannot)?;
    file.take(limit).read_to_end(&mut out).map_err(cannot)?;
    Ok(out)
}

/// Reasons of the system in plain words, without its error numbers.
fn plain(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "it may not be read".to_owned(),
        std::io::ErrorKind::IsADirectory => "it is a folder".to_owned(),
        kind => kind.to_string(),
    }
}

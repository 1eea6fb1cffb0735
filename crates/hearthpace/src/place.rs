//! Writing what a command makes: whole or not there, and never over something that stands there already.

use crate::failure::{Failure, reason};
use std::fs::OpenOptions;
use std::io::Write as _;
use std::path::{Path, PathBuf};

/// Writes a new file: under another name first, so that a full disk leaves no half of it.
///
/// # Errors
/// When something of that name is there already, or it cannot be written; nothing is left behind then.
pub(crate) fn new_file(path: &Path, content: &[u8]) -> Result<(), Failure> {
    refuse_existing(path)?;
    let unfinished = beside(path);
    written(&unfinished, content)
        .and_then(|()| std::fs::rename(&unfinished, path))
        .map_err(|error| {
            // It may not even have been begun; the failure itself is what is told.
            let _ = std::fs::remove_file(&unfinished);
            unwritten(path, &error)
        })
}

/// Refuses a name under which something stands, also a link that leads nowhere.
pub(crate) fn refuse_existing(path: &Path) -> Result<(), Failure> {
    if path.symlink_metadata().is_err() {
        return Ok(());
    }
    Err(Failure::CannotBeDone(format!(
        "{} is there already and is never overwritten; choose another place, or take it away first",
        path.display()
    )))
}

/// That something could not be written there.
pub(crate) fn unwritten(path: &Path, error: &std::io::Error) -> Failure {
    Failure::CannotBeDone(format!(
        "{} could not be written: {}; make room or choose another place",
        path.display(),
        reason(error)
    ))
}

fn beside(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(format!(".{}.unfinished", std::process::id()));
    PathBuf::from(name)
}

fn written(path: &Path, content: &[u8]) -> std::io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(content)?;
    file.sync_all()
}

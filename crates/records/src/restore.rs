//! Restoring a backup into an empty folder.

use std::path::Path;

use crate::backup::{BackupReport, aside, check_copy, unwrap_copy};
use crate::error::Error;
use crate::folder::{self, FolderLock};

/// Puts the record of a backup into a folder that is empty or not there yet; nothing is ever overwritten.
///
/// Everything is checked before the record gets its name: length and digest of the file, its tables and guards, the
/// database itself and all chains. A file that fails leaves the folder as it was.
pub async fn restore(file: &Path, dir: &Path) -> Result<BackupReport, Error> {
    let bytes = std::fs::metadata(file)
        .map_err(|source| Error::folder("read", file, source))?
        .len();
    let made = !dir.exists();
    folder::make(dir)?;
    if !folder::is_empty(dir)? {
        return Err(match folder::has_record(dir) {
            true => Error::RecordExists {
                dir: dir.to_owned(),
            },
            false => Error::FolderNotEmpty {
                dir: dir.to_owned(),
            },
        });
    }
    let lock = FolderLock::take(dir)?;
    let unfinished = folder::unfinished_file(dir);
    match unpack(file, &unfinished).await {
        Ok(mut report) => {
            folder::put_in_place(&unfinished, &folder::database_file(dir))?;
            report.bytes = bytes;
            Ok(report)
        }
        Err(error) => {
            folder::remove_database(&unfinished)?;
            lock.forget(dir)?;
            if made {
                std::fs::remove_dir(dir).map_err(|source| Error::folder("remove", dir, source))?;
            }
            Err(error)
        }
    }
}

async fn unpack(file: &Path, unfinished: &Path) -> Result<BackupReport, Error> {
    let (from, to) = (file.to_owned(), unfinished.to_owned());
    aside("unpack the backup", move || unwrap_copy(&from, &to)).await?;
    let refused = |why: String| Error::NotABackup {
        file: file.to_owned(),
        why,
    };
    let verification = check_copy(unfinished).await.map_err(|error| match error {
        Error::Damaged { what } => refused(what),
        // What the database cannot even read is the fault of the file; a full or busy disk is not.
        Error::Database { .. } => refused("its database cannot be read".to_owned()),
        other => other,
    })?;
    match verification.faults.first() {
        Some(fault) => Err(refused(fault.to_string())),
        None => Ok(BackupReport {
            head: verification.head,
            bytes: 0,
        }),
    }
}

//! The folder of a record: the names in it and the lock that lets only one server use it.

use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};

use crate::error::Error;

const DATABASE: &str = "record.sqlite";
const UNFINISHED: &str = "record.unfinished";
const LOCK: &str = "lock";
const SET_UP: &str = "set-up.lock";

/// The database file of a folder.
pub(crate) fn database_file(dir: &Path) -> PathBuf {
    dir.join(DATABASE)
}

/// Where a new database is made before it gets its name: a crash in between leaves no half record.
pub(crate) fn unfinished_file(dir: &Path) -> PathBuf {
    dir.join(UNFINISHED)
}

/// Whether there is a record in a folder.
pub(crate) fn has_record(dir: &Path) -> bool {
    database_file(dir).exists()
}

/// Makes a folder that only its owner can open, unless it is there.
pub(crate) fn make(dir: &Path) -> Result<(), Error> {
    let mut builder = std::fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder
        .create(dir)
        .map_err(|source| Error::folder("make the folder", dir, source))
}

/// Makes an empty file that only its owner can read; one that is there is refused.
pub(crate) fn make_private_file(file: &Path) -> Result<File, Error> {
    let mut options = OpenOptions::new();
    options.write(true).read(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options
        .open(file)
        .map_err(|source| Error::folder("make the file", file, source))
}

/// Removes a file if it is there.
pub(crate) fn remove(file: &Path) -> Result<(), Error> {
    match std::fs::remove_file(file) {
        Err(source) if source.kind() != std::io::ErrorKind::NotFound => {
            Err(Error::folder("remove", file, source))
        }
        _ => Ok(()),
    }
}

/// Removes a database and what SQLite keeps beside it.
pub(crate) fn remove_database(file: &Path) -> Result<(), Error> {
    for ending in ["", "-wal", "-shm", "-journal"] {
        let mut name = file.to_owned().into_os_string();
        name.push(ending);
        remove(Path::new(&name))?;
    }
    Ok(())
}

/// Gives a finished file its name, and makes both survive a loss of power.
pub(crate) fn put_in_place(from: &Path, to: &Path) -> Result<(), Error> {
    let flush = |path: &Path| File::open(path).and_then(|file| file.sync_all());
    flush(from).map_err(|source| Error::folder("write", from, source))?;
    std::fs::rename(from, to).map_err(|source| Error::folder("name the file", to, source))?;
    // A folder can be flushed on Unix only; elsewhere the rename has to do.
    #[cfg(unix)]
    if let Some(parent) = std::path::absolute(to)
        .ok()
        .as_deref()
        .and_then(Path::parent)
    {
        flush(parent).map_err(|source| Error::folder("write", parent, source))?;
    }
    Ok(())
}

/// Held while a server uses the folder; the operating system lets go of it however the process ends.
pub(crate) struct FolderLock {
    _file: File,
}

impl FolderLock {
    /// Removes the lock file again, when nothing came of what the folder was made for.
    pub(crate) fn forget(self, dir: &Path) -> Result<(), Error> {
        remove(&dir.join(LOCK))
    }

    /// Takes the lock, or says that another process has it.
    pub(crate) fn take(dir: &Path) -> Result<FolderLock, Error> {
        Self::take_file(dir, LOCK)
    }

    fn take_file(dir: &Path, name: &str) -> Result<FolderLock, Error> {
        let path = dir.join(name);
        let mut options = OpenOptions::new();
        options.write(true).create(true).truncate(false);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        let file = options
            .open(&path)
            .map_err(|source| Error::folder("open", &path, source))?;
        match file.try_lock() {
            Ok(()) => Ok(FolderLock { _file: file }),
            Err(TryLockError::WouldBlock) => Err(Error::AlreadyRunning {
                dir: dir.to_owned(),
            }),
            Err(TryLockError::Error(source)) => Err(Error::folder("lock", &path, source)),
        }
    }
}

/// Held while a server waits for the first page of a new record to be filled in: a second one is refused, as it is
/// later by the lock of the record.
pub struct SetUpHold {
    _lock: FolderLock,
}

impl SetUpHold {
    /// Makes the folder, unless it is there, and takes it for a new record.
    ///
    /// # Errors
    /// When another server waits there, or the folder cannot be made.
    pub fn take(dir: &Path) -> Result<SetUpHold, Error> {
        make(dir)?;
        FolderLock::take_file(dir, SET_UP).map(|lock| SetUpHold { _lock: lock })
    }
}

/// Whether a folder holds nothing but, perhaps, the locks that were taken in it.
pub(crate) fn is_empty(dir: &Path) -> Result<bool, Error> {
    let entries =
        std::fs::read_dir(dir).map_err(|source| Error::folder("look into", dir, source))?;
    for entry in entries {
        let entry = entry.map_err(|source| Error::folder("look into", dir, source))?;
        if entry.file_name() != LOCK && entry.file_name() != SET_UP {
            return Ok(false);
        }
    }
    Ok(true)
}

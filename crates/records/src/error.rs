//! What can go wrong with a record: each message says what, why and what to do next.

use std::path::PathBuf;

use jiff::Timestamp;

use crate::identity::{CaseId, EntryId};

/// Why the record refused or could not do something.
///
/// The text never contains words of the database, passphrases or anything about a patient; the cause below is for logs.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// The folder holds no record.
    #[error("There is no record in {}. Check the folder, or create or restore a record there", dir.display())]
    NoRecord {
        /// The folder that was looked into.
        dir: PathBuf,
    },
    /// A record would be created where one is.
    #[error("There is a record in {} already, and it is never overwritten. Choose another folder", dir.display())]
    RecordExists {
        /// The folder that holds the record.
        dir: PathBuf,
    },
    /// A backup would be restored into a folder that is in use.
    #[error("Cannot restore into {}: the folder is not empty, and nothing is overwritten. Choose an empty folder", dir.display())]
    FolderNotEmpty {
        /// The folder that is not empty.
        dir: PathBuf,
    },
    /// A second server on the same folder.
    #[error("Another Hearthpace is using the record in {}. Use that one, or close it first", dir.display())]
    AlreadyRunning {
        /// The folder that is in use.
        dir: PathBuf,
    },
    /// The sign-in name or the passphrase is wrong (which of them is not said).
    #[error("Name or passphrase is wrong{}", wait_words(*wait_until))]
    WrongPassphrase {
        /// When the next attempt is possible, if not at once.
        wait_until: Option<Timestamp>,
    },
    /// Too many wrong attempts: the passphrase was not even tried.
    #[error("Too many wrong attempts. Wait until {until}, then try again")]
    TooSoon {
        /// When the next attempt is possible.
        until: Timestamp,
    },
    /// The text of the recovery sheet has a typing error.
    #[error(
        "The recovery text is not complete or has a typing error: {hint}. Compare it with the printed sheet, group by group"
    )]
    RecoveryMistyped {
        /// What is wrong with it.
        hint: &'static str,
    },
    /// The recovery text is well formed but belongs to another record or an older sheet.
    #[error(
        "This recovery sheet does not open this record: a newer sheet was printed, or it belongs to another record. Look for the newest sheet"
    )]
    WrongRecovery,
    /// The given key does not open this record.
    #[error("The given key does not open this record. Use the key with which it was created")]
    WrongKey,
    /// A new passphrase is too short.
    #[error(
        "The passphrase has {found} characters, too few to protect the record. Use at least {least}; several words are good"
    )]
    PassphraseTooShort {
        /// Characters given.
        found: usize,
        /// Characters needed.
        least: usize,
    },
    /// The user's roles do not allow this.
    #[error("Your role does not allow to {action}. Ask {who}")]
    NotAllowed {
        /// What was attempted.
        action: &'static str,
        /// Who may do it.
        who: &'static str,
    },
    /// No such user, or removed.
    #[error("This user is not known or was removed. Choose one from the list of users")]
    NoSuchUser,
    /// The sign-in name is in use.
    #[error("The sign-in name {sign_in} is in use. Choose another")]
    SignInTaken {
        /// The name.
        sign_in: String,
    },
    /// Somebody must remain who can manage users.
    #[error(
        "This is the last administrator, and somebody must be able to manage users. Give another user that role first"
    )]
    LastAdministrator,
    /// No such case.
    #[error("This case is not in the record. Choose one from the list")]
    NoSuchCase,
    /// The case was erased.
    #[error(
        "This case was erased, so that nothing in it can be read or added. Open a new case if the person comes again"
    )]
    CaseErased,
    /// A case with this reference is there.
    #[error("There is a case with this reference already. Open that one instead")]
    ReferenceTaken {
        /// The case that has it.
        case: CaseId,
    },
    /// Somebody else added to the case meanwhile.
    #[error(
        "Somebody added to this case meanwhile (entry {found} instead of {expected} would be next). Look at the new entries, then save again"
    )]
    Conflict {
        /// The position that the caller expected to write.
        expected: u64,
        /// The position that would be written.
        found: u64,
    },
    /// The entry id is used for something else.
    #[error(
        "Entry {id} is in the record with another content, and nothing is overwritten. Give the new entry its own id, and supersede the old one if this is a correction"
    )]
    EntryIdTaken {
        /// The id.
        id: EntryId,
    },
    /// The entry to be superseded is not in this case.
    #[error("The entry to be corrected is not in this case. Load the case again")]
    SupersedesUnknown,
    /// The entry to be superseded has been superseded.
    #[error("This entry was corrected already. Correct its correction instead")]
    AlreadySuperseded {
        /// The entry that corrects it.
        by: EntryId,
    },
    /// Something given is outside what the record can hold.
    #[error("{what} cannot be stored: {why}")]
    Unsuitable {
        /// What was given.
        what: &'static str,
        /// Why not, and what would be.
        why: String,
    },
    /// A sealed value does not open: the file was changed outside the program.
    #[error(
        "{what} does not open with its key: the record was changed or damaged outside the program. Restore the last good backup"
    )]
    Tampered {
        /// What does not open.
        what: String,
    },
    /// The database file is damaged or is none.
    #[error(
        "The record is damaged ({what}). Keep the folder as it is and restore the last good backup into a new one"
    )]
    Damaged {
        /// What was found.
        what: String,
    },
    /// The record was written by a newer program.
    #[error(
        "The record has format {found}, this program knows up to {known}. Use the newer program that wrote it"
    )]
    NewerFormat {
        /// The format of the record.
        found: i64,
        /// The newest that this program knows.
        known: i64,
    },
    /// The file is not a usable backup.
    #[error("{} is not a backup that can be restored: {why}. Nothing was changed; use another copy", file.display())]
    NotABackup {
        /// The file.
        file: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// The backup would overwrite a file.
    #[error("{} is there already, and a backup overwrites nothing. Choose another name", file.display())]
    OutputExists {
        /// The file.
        file: PathBuf,
    },
    /// No room left.
    #[error(
        "The disk is full: could not {attempted}. Nothing that was confirmed is lost; free some space, then do it again"
    )]
    DiskFull {
        /// What was attempted.
        attempted: &'static str,
    },
    /// The system refused the database a file or room; also reading needs a little.
    #[error(
        "Could not {attempted}: the disk is full, or the folder of the record cannot be written. Nothing that was confirmed is lost; free some space and look whether the folder may be written, then do it again"
    )]
    NotWritable {
        /// What was attempted.
        attempted: &'static str,
    },
    /// The database was in use for too long.
    #[error("The record was busy for too long: could not {attempted}. Try again")]
    Busy {
        /// What was attempted.
        attempted: &'static str,
    },
    /// The operating system refused something in the folder.
    #[error("Could not {attempted} {}: {}. Check that the folder exists, is writable and has room", path.display(), plain(source))]
    Folder {
        /// What was attempted.
        attempted: &'static str,
        /// Where.
        path: PathBuf,
        /// The cause.
        source: std::io::Error,
    },
    /// The operating system gave no random numbers.
    #[error(
        "The operating system gives no random numbers, so that nothing can be encrypted. Restart the computer"
    )]
    NoRandomness,
    /// Any other failure of the database.
    #[error("The record could not {attempted}. Try again; if it stays so, look at the log")]
    Database {
        /// What was attempted.
        attempted: &'static str,
        /// The cause, for logs.
        source: sqlx::Error,
    },
}

/// Why the system refused something, in plain words.
fn plain(source: &std::io::Error) -> &'static str {
    use std::io::ErrorKind as Kind;
    match source.kind() {
        Kind::NotFound => "it is not there",
        Kind::PermissionDenied => "this account may not do that there",
        Kind::ReadOnlyFilesystem => "it can only be read there",
        Kind::AlreadyExists => "something of that name is there already",
        Kind::IsADirectory => "it is a folder",
        Kind::NotADirectory => "a part of the way to it is no folder",
        _ => "the system refused it",
    }
}

fn wait_words(wait_until: Option<Timestamp>) -> String {
    match wait_until {
        None => ". Try again, or use the recovery sheet".to_owned(),
        Some(until) => {
            format!(". After several wrong attempts the next one is possible at {until}")
        }
    }
}

impl Error {
    /// Translates a failure of the database, with what was attempted.
    pub(crate) fn database(attempted: &'static str, source: sqlx::Error) -> Error {
        if let sqlx::Error::PoolTimedOut = source {
            return Error::Busy { attempted };
        }
        // The lowest byte is SQLite's primary result code: https://www.sqlite.org/rescode.html
        let code = source
            .as_database_error()
            .and_then(|failure| failure.code())
            .and_then(|code| code.parse::<i64>().ok())
            .map(|code| code & 0xff);
        match code {
            Some(5) | Some(6) => Error::Busy { attempted },
            Some(13) => Error::DiskFull { attempted },
            Some(8 | 10 | 14) => Error::NotWritable { attempted },
            Some(11) => Error::Damaged {
                what: "its database is not consistent".to_owned(),
            },
            Some(26) => Error::Damaged {
                what: "its file is not a database".to_owned(),
            },
            _ => Error::Database { attempted, source },
        }
    }

    /// Translates a failure of the operating system, with what was attempted and where.
    pub(crate) fn folder(
        attempted: &'static str,
        path: &std::path::Path,
        source: std::io::Error,
    ) -> Error {
        match source.kind() {
            std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => {
                Error::DiskFull { attempted }
            }
            _ => Error::Folder {
                attempted,
                path: path.to_owned(),
                source,
            },
        }
    }

    /// The same failure for somebody else who waited for the same transaction.
    pub(crate) fn for_another(&self) -> Error {
        match self {
            Error::DiskFull { attempted } => Error::DiskFull { attempted },
            Error::NotWritable { attempted } => Error::NotWritable { attempted },
            Error::Busy { attempted } => Error::Busy { attempted },
            Error::Damaged { what } => Error::Damaged { what: what.clone() },
            other => Error::Database {
                attempted: "note who reads",
                source: sqlx::Error::Protocol(format!("failed together with others: {other}")),
            },
        }
    }

    /// A value that the record cannot hold.
    pub(crate) fn unsuitable(what: &'static str, why: impl Into<String>) -> Error {
        Error::Unsuitable {
            what,
            why: why.into(),
        }
    }
}

/// Adds what was attempted to a failure of the database.
pub(crate) trait Attempted<T> {
    /// Names the attempt, completing "could not ...".
    fn attempted(self, attempted: &'static str) -> Result<T, Error>;
}

impl<T> Attempted<T> for Result<T, sqlx::Error> {
    fn attempted(self, attempted: &'static str) -> Result<T, Error> {
        self.map_err(|source| Error::database(attempted, source))
    }
}

//! Backup: one checked file, taken while the server runs.
//!
//! The file begins with one line of text (name and version of the format, length and SHA-256 of what follows); after it
//! comes the whole database, compact and consistent. Nothing in it can be read without a passphrase or the recovery
//! sheet that belonged to the record at that time. Sessions are left out.

use std::fs::File;
use std::io::{ErrorKind, Read, Seek as _, Write};
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use sha2::{Digest as _, Sha256};

use crate::chain::{RecordHead, Verification};
use crate::database::{Transaction, key_rows, migrate, session_rows, sqlite};
use crate::digest::Digest;
use crate::error::{Attempted as _, Error};
use crate::folder;
use crate::store::verify_chains;

/// The first word of a backup; the number is the version of this form.
const HEADING: &str = "hearthpace-backup-1";

/// The length of the first line: heading, length in 20 digits, digest in 64, two blanks, one line end.
const HEADER_LENGTH: usize = HEADING.len() + 1 + 20 + 1 + 64 + 1;

/// How much of a file is moved at a time.
const PIECE: usize = 1 << 16;

/// What a backup holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BackupReport {
    /// The head of the record at that moment: cases, entries and a digest to keep.
    pub head: RecordHead,
    /// The size of the file.
    pub bytes: u64,
}

/// Writes a consistent copy of the record in `dir` to the new file `out`, also while a server uses the record.
///
/// The copy is verified (file, tables and chains, without keys) before the file gets its name.
pub async fn backup(dir: &Path, out: &Path) -> Result<BackupReport, Error> {
    if !folder::has_record(dir) {
        return Err(Error::NoRecord {
            dir: dir.to_owned(),
        });
    }
    let (copy, part) = (beside(out, ".copy"), beside(out, ".part"));
    // Files of these names may be somebody's own, or of another backup that is being written this moment.
    for file in [out, &copy, &part] {
        if file.symlink_metadata().is_ok() {
            return Err(Error::OutputExists {
                file: file.to_owned(),
            });
        }
    }
    let outcome = write_backup(dir, &copy, &part).await;
    folder::remove_database(&copy)?;
    if outcome.is_err() {
        folder::remove(&part)?;
        return outcome;
    }
    folder::put_in_place(&part, out)?;
    outcome
}

async fn write_backup(dir: &Path, copy: &Path, part: &Path) -> Result<BackupReport, Error> {
    folder::make_private_file(copy)?;
    let pool = sqlite::open_beside(&folder::database_file(dir)).await?;
    let copied = sqlite::copy_into(&pool, copy).await;
    pool.close().await;
    copied?;
    let verification = check_copy(copy).await?;
    if let Some(fault) = verification.faults.first() {
        return Err(Error::Damaged {
            what: fault.to_string(),
        });
    }
    let (from, to) = (copy.to_owned(), part.to_owned());
    let bytes = aside("write the backup", move || wrap_copy(&from, &to)).await?;
    Ok(BackupReport {
        head: verification.head,
        bytes,
    })
}

/// Brings a copy to the newest format, takes the sessions out and verifies it.
///
/// The file may be hostile: its tables and guards are compared with ours before anything in it is run.
pub(crate) async fn check_copy(copy: &Path) -> Result<Verification, Error> {
    let pool = sqlite::open_beside(copy).await?;
    let outcome = check_pool(&pool).await;
    pool.close().await;
    outcome
}

async fn check_pool(pool: &sqlx::SqlitePool) -> Result<Verification, Error> {
    let attempted = "verify the copy";
    let mut connection = pool.acquire().await.attempted(attempted)?;
    let version = migrate::version_of(&mut connection).await?;
    if version == 0 {
        return Err(Error::Damaged {
            what: "its database is empty".to_owned(),
        });
    }
    drop(connection);
    let mut transaction = Transaction::Sqlite(pool.begin().await.attempted(attempted)?);
    if let Some(what) = sqlite::schema_difference(&mut transaction, version).await? {
        return Err(Error::Damaged {
            what: format!("the tables or their guards were changed: {what}"),
        });
    }
    drop(transaction);
    let mut connection = pool.acquire().await.attempted(attempted)?;
    migrate::apply(
        &mut connection,
        version,
        migrate::NEWEST,
        Timestamp::now().as_millisecond(),
    )
    .await?;
    drop(connection);
    let mut transaction = Transaction::Sqlite(pool.begin().await.attempted(attempted)?);
    session_rows::delete_expired(&mut transaction, i64::MAX).await?;
    let (record, _) = key_rows::find_record(&mut transaction).await?;
    let verification = verify_chains(&mut transaction, &record).await?;
    transaction.commit(attempted).await?;
    Ok(verification)
}

/// Puts the first line and a copy together into one file; returns its size.
fn wrap_copy(from: &Path, to: &Path) -> Result<u64, Error> {
    let failed = |source| Error::folder("write the backup", to, source);
    let mut copy = open_for_reading(from)?;
    let mut out = folder::make_private_file(to)?;
    // The line is written last, when length and digest are known: a file that was cut short has none.
    out.write_all(&[0; HEADER_LENGTH]).map_err(failed)?;
    let (length, digest) = pour(&mut copy, &mut out, u64::MAX).map_err(failed)?;
    out.rewind().map_err(failed)?;
    writeln!(out, "{HEADING} {length:020} {digest}").map_err(failed)?;
    out.sync_all().map_err(failed)?;
    Ok(HEADER_LENGTH as u64 + length)
}

/// Takes the database out of a backup into a new file, if length and digest are those of the first line.
pub(crate) fn unwrap_copy(file: &Path, to: &Path) -> Result<(), Error> {
    let refused = |why: &str| Error::NotABackup {
        file: file.to_owned(),
        why: why.to_owned(),
    };
    let mut backup = open_for_reading(file)?;
    let mut line = [0; HEADER_LENGTH];
    match backup.read_exact(&mut line) {
        Err(source) if source.kind() == ErrorKind::UnexpectedEof => {
            return Err(refused("it is too short"));
        }
        Err(source) => return Err(Error::folder("read", file, source)),
        Ok(()) => {}
    }
    let (length, digest) =
        read_line(&line).ok_or_else(|| refused("it does not begin like a backup"))?;
    let mut out = folder::make_private_file(to)?;
    // One byte more than announced is asked for, so that a longer file is noticed without reading all of it.
    let (found, found_digest) = pour(&mut backup, &mut out, length.saturating_add(1))
        .map_err(|source| Error::folder("unpack the backup into", to, source))?;
    if found != length {
        return Err(refused(if found < length {
            "it is cut short"
        } else {
            "it is longer than it says"
        }));
    }
    if found_digest != digest {
        return Err(refused("its content was changed or damaged"));
    }
    Ok(())
}

/// Length and digest out of the first line.
fn read_line(line: &[u8]) -> Option<(u64, Digest)> {
    let line = std::str::from_utf8(line).ok()?.strip_suffix('\n')?;
    let mut words = line.strip_prefix(HEADING)?.strip_prefix(' ')?.split(' ');
    let (length, digest) = (words.next()?, words.next()?);
    let digits = length.bytes().all(|byte| byte.is_ascii_digit());
    (digits && words.next().is_none())
        .then_some((length.parse().ok()?, Digest::from_hex(digest).ok()?))
}

/// Copies at most `most` bytes; returns how many there were and their digest.
fn pour(from: &mut File, to: &mut File, most: u64) -> Result<(u64, Digest), std::io::Error> {
    let mut piece = vec![0; PIECE];
    let (mut length, mut hasher) = (0_u64, Sha256::new());
    let mut from = from.take(most);
    loop {
        let count = from.read(&mut piece)?;
        if count == 0 {
            return Ok((length, Digest::from_bytes(hasher.finalize().into())));
        }
        hasher.update(&piece[..count]);
        to.write_all(&piece[..count])?;
        length += count as u64;
    }
}

fn open_for_reading(file: &Path) -> Result<File, Error> {
    File::open(file).map_err(|source| Error::folder("read", file, source))
}

/// A name beside a file.
fn beside(file: &Path, ending: &str) -> PathBuf {
    let mut name = file.to_owned().into_os_string();
    name.push(ending);
    PathBuf::from(name)
}

/// Runs something that waits for the disk on a thread of its own.
pub(crate) async fn aside<T: Send + 'static>(
    attempted: &'static str,
    work: impl FnOnce() -> Result<T, Error> + Send + 'static,
) -> Result<T, Error> {
    tokio::task::spawn_blocking(work).await.unwrap_or_else(|_| {
        Err(Error::unsuitable(
            "The work",
            format!("it stopped while trying to {attempted}"),
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_first_line_has_its_fixed_length() {
        let line = format!("{HEADING} {:020} {}\n", u64::MAX, Digest::of(b""));
        assert_eq!(line.len(), HEADER_LENGTH);
        assert_eq!(
            read_line(line.as_bytes()),
            Some((u64::MAX, Digest::of(b"")))
        );
    }

    proptest! {
        #[test]
        fn law_a_hostile_first_line_is_refused_or_read(line in proptest::collection::vec(any::<u8>(), HEADER_LENGTH)) {
            let _ = read_line(&line);
        }
    }
}

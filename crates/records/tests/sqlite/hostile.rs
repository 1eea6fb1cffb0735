//! Files that are no backup, were cut short, changed, or made to do harm.

use std::path::{Path, PathBuf};

use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::TestRunner;
use records::{Digest, Error};
use tempfile::TempDir;

use crate::common::{Desk, SqliteFolder};
use crate::raw;

/// The length of the first line of a backup.
const LINE: usize = 106;

async fn a_backup(place: &Path) -> Vec<u8> {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let case = desk.case("fenwick-1951").await;
    desk.add(case, "a").await;
    desk.add(case, "b").await;
    let out = place.join("whole.backup");
    records::backup(desk.engine.dir.path(), &out).await.unwrap();
    std::fs::read(out).unwrap()
}

/// Tries to restore these bytes; they must be refused, and nothing may be left.
async fn refusal(place: &Path, bytes: &[u8]) -> Error {
    let (file, dir) = (place.join("hostile.backup"), place.join("restored"));
    std::fs::write(&file, bytes).unwrap();
    let refused = records::restore(&file, &dir).await.unwrap_err();
    assert!(!dir.exists(), "{refused}");
    refused
}

/// A backup with a right first line around any database.
fn wrapped(database: &[u8]) -> Vec<u8> {
    let mut bytes = format!(
        "hearthpace-backup-1 {:020} {}\n",
        database.len(),
        Digest::of(database)
    )
    .into_bytes();
    assert_eq!(bytes.len(), LINE);
    bytes.extend_from_slice(database);
    bytes
}

#[tokio::test]
async fn law_a_backup_cut_short_or_changed_anywhere_is_refused() {
    let place = TempDir::new().unwrap();
    let whole = a_backup(place.path()).await;
    // The control: rewrapped without a change it is accepted.
    let (file, dir) = (place.path().join("same.backup"), place.path().join("same"));
    std::fs::write(&file, wrapped(&whole[LINE..])).unwrap();
    records::restore(&file, &dir).await.unwrap();

    let mut runner = TestRunner::default();
    let places = (any::<prop::sample::Index>(), 0..8_u32);
    for _ in 0..150 {
        let (at, bit) = places.new_tree(&mut runner).unwrap().current();
        let cut = at.index(whole.len());
        let refused = refusal(place.path(), &whole[..cut]).await;
        assert!(
            matches!(refused, Error::NotABackup { .. }),
            "{cut}: {refused}"
        );
        let mut changed = whole.clone();
        changed[cut] ^= 1 << bit;
        let refused = refusal(place.path(), &changed).await;
        assert!(
            matches!(refused, Error::NotABackup { .. }),
            "{cut}: {refused}"
        );
    }
    let longer = [&whole[..], b"x"].concat();
    let refused = refusal(place.path(), &longer).await.to_string();
    assert!(refused.contains("longer than it says"), "{refused}");
}

#[tokio::test]
async fn what_is_no_backup_is_refused_with_the_reason() {
    let place = TempDir::new().unwrap();
    let whole = a_backup(place.path()).await;
    let huge = [
        b"hearthpace-backup-1 18446744073709551615 ".as_slice(),
        &whole[41..],
    ]
    .concat();
    for (bytes, reason) in [
        (&b""[..], "too short"),
        (b"A letter to the doctor", "too short"),
        (&[0; 4096], "does not begin like a backup"),
        (&whole[LINE..], "does not begin like a backup"),
        (&huge, "cut short"),
        (&wrapped(b""), "empty"),
        (&wrapped(b"no database at all"), "not a database"),
        (&wrapped(&[0x53; 8192]), "not a database"),
        (&wrapped(&whole[LINE..LINE + 4096]), ""),
    ] {
        let refused = refusal(place.path(), bytes).await;
        assert!(matches!(refused, Error::NotABackup { .. }), "{refused}");
        assert!(refused.to_string().contains(reason), "{reason}: {refused}");
        assert!(
            refused.to_string().contains("Nothing was changed"),
            "{refused}"
        );
    }
}

/// Changes the database of a backup with SQL and wraps it rightly again.
async fn changed_by(place: &Path, whole: &[u8], sql: &str) -> Vec<u8> {
    let file: PathBuf = place.join("changed.sqlite");
    std::fs::write(&file, &whole[LINE..]).unwrap();
    let mut connection = raw::connect(&file).await;
    raw::run(&mut connection, sql).await.unwrap();
    sqlx::Connection::close(connection).await.unwrap();
    let bytes = wrapped(&std::fs::read(&file).unwrap());
    std::fs::remove_file(&file).unwrap();
    bytes
}

#[tokio::test]
async fn a_rightly_wrapped_hostile_database_is_refused_before_anything_in_it_runs() {
    let place = TempDir::new().unwrap();
    let whole = a_backup(place.path()).await;
    for (sql, reason) in [
        // Would run when the sessions are taken out.
        (
            "CREATE TRIGGER sly BEFORE DELETE ON session BEGIN SELECT RAISE(ABORT, 'ran'); END",
            "trigger sly",
        ),
        (
            "CREATE TRIGGER sly AFTER INSERT ON access BEGIN DELETE FROM session; END",
            "trigger sly",
        ),
        (
            "DROP TRIGGER journal_entry_not_changed",
            "journal_entry_not_changed",
        ),
        (
            "ALTER TABLE session RENAME TO hidden; CREATE VIEW session AS SELECT * FROM hidden",
            "session",
        ),
        (
            "DROP TRIGGER journal_entry_not_changed; UPDATE journal_entry SET kind = 'call'; \
          CREATE TRIGGER journal_entry_not_changed BEFORE UPDATE ON journal_entry\n\
          BEGIN SELECT RAISE(ABORT, 'the journal only grows: correct an entry with a new one'); END",
            "changed",
        ),
        ("PRAGMA user_version = 7", "format 7"),
        ("PRAGMA application_id = 7", "another program"),
        ("DELETE FROM case_key; DELETE FROM record", "identity"),
    ] {
        let bytes = changed_by(place.path(), &whole, sql).await;
        let refused = refusal(place.path(), &bytes).await.to_string();
        assert!(
            refused.contains(reason) && !refused.contains("ran"),
            "{sql}: {refused}"
        );
    }
}

#[tokio::test]
async fn law_a_database_damaged_anywhere_never_panics_and_is_refused_or_the_same() {
    let place = TempDir::new().unwrap();
    let whole = a_backup(place.path()).await;
    let mut runner = TestRunner::default();
    let damage = proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..20);
    let mut refused = 0;
    for number in 0..120 {
        let mut database = whole[LINE..].to_vec();
        for (at, byte) in damage.new_tree(&mut runner).unwrap().current() {
            let at = at.index(database.len());
            database[at] = byte;
        }
        let (file, dir) = (
            place.path().join("damaged.backup"),
            place.path().join(format!("damaged-{number}")),
        );
        std::fs::write(&file, wrapped(&database)).unwrap();
        match records::restore(&file, &dir).await {
            Ok(report) => assert_eq!((report.head.cases, report.head.entries), (1, 2)),
            Err(error) => {
                assert!(!dir.exists(), "{error}");
                refused += 1;
            }
        }
    }
    println!("{refused} of 120 refused");
    assert!(refused > 20);
}

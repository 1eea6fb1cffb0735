//! The folder: made for its owner only, used by one server, created whole or not at all.

use records::{Error, Store};
use tempfile::TempDir;

use crate::common::{Desk, SqliteFolder, new_record, start};
use crate::raw;

#[tokio::test]
async fn a_second_server_in_the_same_process_is_refused() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let dir = desk.engine.dir.path();
    let refused = Store::open(dir).await.unwrap_err();
    assert!(
        matches!(&refused, Error::AlreadyRunning { .. }),
        "{refused}"
    );
    let text = refused.to_string();
    assert!(
        text.contains(&dir.display().to_string()) && text.contains("close it first"),
        "{text}"
    );
    let refused = Store::create(dir, &new_record(), start())
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::AlreadyRunning { .. }), "{refused}");
    // The lock goes with the last handle, not with the first.
    let copy = desk.store.clone();
    drop(desk.store);
    assert!(matches!(
        Store::open(dir).await,
        Err(Error::AlreadyRunning { .. })
    ));
    drop(copy);
    Store::open(dir).await.unwrap();
}

#[tokio::test]
async fn a_record_is_never_overwritten_and_a_missing_one_is_named() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let Desk { engine, store, .. } = desk;
    store.close().await;
    let refused = Store::create(engine.dir.path(), &new_record(), start())
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::RecordExists { .. }), "{refused}");
    let empty = TempDir::new().unwrap();
    for dir in [empty.path(), &empty.path().join("nowhere")] {
        let refused = Store::open(dir).await.unwrap_err();
        assert!(
            matches!(&refused, Error::NoRecord { dir: named } if named == dir),
            "{refused}"
        );
    }
    assert_eq!(std::fs::read_dir(empty.path()).unwrap().count(), 0);
}

#[tokio::test]
async fn what_a_crash_left_while_creating_does_not_stand_in_the_way() {
    let dir = TempDir::new().unwrap();
    for left in [
        "record.unfinished",
        "record.unfinished-wal",
        "record.unfinished-journal",
        "lock",
    ] {
        std::fs::write(dir.path().join(left), b"half").unwrap();
    }
    assert!(matches!(
        Store::open(dir.path()).await,
        Err(Error::NoRecord { .. })
    ));
    Store::create(dir.path(), &new_record(), start())
        .await
        .unwrap()
        .store
        .close()
        .await;
    let mut names: Vec<_> = std::fs::read_dir(dir.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name())
        .collect();
    names.sort();
    assert_eq!(names, ["lock", "record.sqlite"]);
}

#[cfg(unix)]
#[tokio::test]
async fn only_the_owner_can_read_the_files() {
    use std::os::unix::fs::PermissionsExt as _;
    let above = TempDir::new().unwrap();
    let dir = above.path().join("deep").join("er");
    let created = Store::create(&dir, &new_record(), start()).await.unwrap();
    let out = dir.join("out.backup");
    records::backup(&dir, &out).await.unwrap();
    let mode =
        |path: &std::path::Path| std::fs::metadata(path).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode(&dir), 0o700);
    for entry in std::fs::read_dir(&dir).unwrap() {
        let path = entry.unwrap().path();
        assert_eq!(mode(&path), 0o600, "{}", path.display());
    }
    drop(created);
}

#[tokio::test]
async fn a_file_of_another_program_or_of_the_future_is_refused() {
    for (sql, check) in [
        ("PRAGMA application_id = 5", "another program"),
        ("PRAGMA user_version = 99", "format 99"),
        ("PRAGMA user_version = 0", "another program"),
        ("DELETE FROM record", "no identity"),
    ] {
        let desk = Desk::open(SqliteFolder::fresh()).await;
        let Desk { engine, store, .. } = desk;
        store.close().await;
        let mut connection = raw::connect(&raw::file(engine.dir.path())).await;
        raw::run(&mut connection, sql).await.unwrap();
        drop(connection);
        let refused = Store::open(engine.dir.path())
            .await
            .unwrap_err()
            .to_string();
        assert!(refused.contains(check), "{sql}: {refused}");
    }
    for (content, check) in [
        (&b""[..], "empty"),
        (b"SQLite format 3\0", "damaged"),
        (&[7; 5000], "not a database"),
    ] {
        let dir = TempDir::new().unwrap();
        std::fs::write(raw::file(dir.path()), content).unwrap();
        let refused = Store::open(dir.path()).await.unwrap_err().to_string();
        assert!(refused.contains(check), "{content:?}: {refused}");
        assert!(
            !refused.to_lowercase().contains("sqlite error"),
            "{refused}"
        );
    }
}

#[tokio::test]
async fn a_folder_that_cannot_be_made_or_written_is_named() {
    let dir = TempDir::new().unwrap();
    let file = dir.path().join("file");
    std::fs::write(&file, b"").unwrap();
    let refused = Store::create(&file.join("under"), &new_record(), start())
        .await
        .unwrap_err();
    assert!(matches!(&refused, Error::Folder { .. }), "{refused}");
    assert!(
        refused.to_string().contains("Check that the folder exists"),
        "{refused}"
    );
}

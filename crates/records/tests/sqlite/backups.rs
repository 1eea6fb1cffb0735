//! Backup beside a running server, and restoring.

use records::{CaseId, Draft, Error, RecoverySheet, Roles, SessionToken, Store, UserId};
use tempfile::TempDir;

use crate::common::{ADA, Desk, SqliteFolder, draft, later, new_user, passphrase, reading, start};

#[tokio::test]
async fn a_backup_is_restored_with_everything_and_opened_by_passphrase_and_sheet() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let case = desk.case("fenwick-1951").await;
    let ids = [desk.add(case, "a").await, desk.add(case, "b").await];
    let token = desk
        .store
        .create_session(desk.ada, start(), later(600))
        .await
        .unwrap();
    let place = TempDir::new().unwrap();
    let out = place.path().join("hearthpace.backup");
    let report = desk.store.backup(desk.ada, &out, later(5)).await.unwrap();
    assert_eq!(report.head, desk.store.head().await.unwrap());
    assert_eq!(report.bytes, std::fs::metadata(&out).unwrap().len());
    // One file, nothing beside it.
    assert_eq!(std::fs::read_dir(place.path()).unwrap().count(), 1);
    desk.add(case, "after the backup").await;

    let dir = place.path().join("restored");
    let restored = records::restore(&out, &dir).await.unwrap();
    assert_eq!((restored.head, restored.bytes), (report.head, report.bytes));
    let locked = Store::open(&dir).await.unwrap();
    assert!(locked.verify().await.unwrap().is_sound());
    let (store, _) = locked
        .unlock("ada", &passphrase(ADA), start())
        .await
        .unwrap();
    let entries = store.entries(case, &reading(desk.ada)).await.unwrap();
    assert_eq!(
        entries.iter().map(|entry| entry.id).collect::<Vec<_>>(),
        ids
    );
    assert!(store.verify_sealed().await.unwrap().is_sound());
    let sheet = RecoverySheet::parse(&desk.recovery).unwrap();
    locked.unlock_with_recovery(&sheet, start()).await.unwrap();
    // Who was signed in when the backup was taken is not signed in to the copy.
    let token = SessionToken::from_cookie(token.as_str());
    assert_eq!(store.find_session(&token, later(1)).await.unwrap(), None);
    assert!(
        desk.store
            .find_session(&token, later(1))
            .await
            .unwrap()
            .is_some()
    );
    // The restored record goes on by itself.
    store
        .append(case, desk.ada, draft("note", "c"), later(9))
        .await
        .unwrap();
    let log = desk
        .store
        .access_log(desk.ada, &Default::default())
        .await
        .unwrap();
    assert!(
        log.iter()
            .any(|row| row.what.as_str() == "backup" && row.by == Some(desk.ada))
    );
}

/// Adds entries, three at a time, until told to stop; returns how many.
async fn write_until(
    store: Store,
    case: CaseId,
    by: UserId,
    mut stop: tokio::sync::oneshot::Receiver<()>,
) -> u64 {
    let mut written = 0;
    while stop.try_recv().is_err() {
        let three: Vec<Draft> = ["call", "diary", "note"]
            .map(|kind| draft(kind, "text"))
            .to_vec();
        store.append_all(case, by, three, later(1)).await.unwrap();
        written += 3;
    }
    written
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn law_a_backup_beside_a_writing_server_is_a_consistent_moment() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let case = desk.case("fenwick-1951").await;
    let (stop, stopped) = tokio::sync::oneshot::channel();
    let writer = tokio::spawn(write_until(desk.store.clone(), case, desk.ada, stopped));
    let place = TempDir::new().unwrap();
    let mut sizes = Vec::new();
    for number in 0..12 {
        let before = desk.store.head().await.unwrap().entries;
        let out = place.path().join(format!("{number}.backup"));
        let report = records::backup(desk.engine.dir.path(), &out).await.unwrap();
        let after = desk.store.head().await.unwrap().entries;
        assert!((before..=after).contains(&report.head.entries));
        assert_eq!(report.head.entries % 3, 0, "no transaction is cut in two");
        let dir = place.path().join(format!("restored-{number}"));
        assert_eq!(
            records::restore(&out, &dir).await.unwrap().head,
            report.head
        );
        sizes.push(report.head.entries);
    }
    stop.send(()).unwrap();
    let written = writer.await.unwrap();
    assert_eq!(desk.store.head().await.unwrap().entries, written);
    assert!(desk.store.verify_sealed().await.unwrap().is_sound());
    // The writer must have been at work between the backups, or this showed nothing.
    assert!(sizes.windows(2).all(|pair| pair[0] < pair[1]), "{sizes:?}");
}

#[tokio::test]
async fn a_record_of_an_older_program_is_brought_up_when_opened_and_when_restored() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let case = desk.case("fenwick-1951").await;
    desk.add(case, "a").await;
    let Desk {
        engine, store, ada, ..
    } = desk;
    store.close().await;
    // As the program left it that knew only the first migration.
    let old = "DROP INDEX patient_case_alerts; DELETE FROM migration WHERE migration_id = 2; PRAGMA user_version = 1";
    let file = crate::raw::file(engine.dir.path());
    let mut connection = crate::raw::connect(&file).await;
    crate::raw::run(&mut connection, old).await.unwrap();
    drop(connection);
    let place = TempDir::new().unwrap();
    let (out, dir) = (
        place.path().join("old.backup"),
        place.path().join("restored"),
    );
    records::backup(engine.dir.path(), &out).await.unwrap();
    records::restore(&out, &dir).await.unwrap();
    for dir in [engine.dir.path(), &dir] {
        let locked = Store::open(dir).await.unwrap();
        assert_eq!(locked.verify().await.unwrap().faults, []);
        let (store, _) = locked
            .unlock("ada", &passphrase(ADA), start())
            .await
            .unwrap();
        assert_eq!(
            store.entries(case, &reading(ada)).await.unwrap()[0].body,
            b"a"
        );
        let mut connection = crate::raw::connect(&crate::raw::file(dir)).await;
        assert_eq!(
            crate::raw::number(&mut connection, "SELECT count(*) FROM migration").await,
            2
        );
    }
}

#[tokio::test]
async fn nothing_is_overwritten_by_backup_or_restore() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let place = TempDir::new().unwrap();
    let out = place.path().join("hearthpace.backup");
    records::backup(desk.engine.dir.path(), &out).await.unwrap();
    let refused = records::backup(desk.engine.dir.path(), &out)
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::OutputExists { .. }), "{refused}");
    // Onto the record itself, running or not.
    let refused = records::restore(&out, desk.engine.dir.path())
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::RecordExists { .. }), "{refused}");
    let used = place.path().join("used");
    std::fs::create_dir(&used).unwrap();
    std::fs::write(used.join("letter.txt"), b"keep").unwrap();
    let refused = records::restore(&out, &used).await.unwrap_err();
    assert!(matches!(refused, Error::FolderNotEmpty { .. }), "{refused}");
    assert_eq!(std::fs::read_dir(&used).unwrap().count(), 1);
    let empty = place.path().join("empty");
    std::fs::create_dir(&empty).unwrap();
    records::restore(&out, &empty).await.unwrap();
}

#[tokio::test]
async fn a_backup_needs_a_record_and_a_folder_to_go_to() {
    let empty = TempDir::new().unwrap();
    let refused = records::backup(empty.path(), &empty.path().join("out"))
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::NoRecord { .. }), "{refused}");
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let nowhere = empty.path().join("no").join("such").join("out");
    let refused = records::backup(desk.engine.dir.path(), &nowhere)
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::Folder { .. }), "{refused}");
    let refused = records::restore(&nowhere, &empty.path().join("new"))
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::Folder { .. }), "{refused}");
    assert!(!empty.path().join("new").exists());
    let stranger = desk
        .store
        .add_user(
            desk.ada,
            &new_user("ben", Roles::PRACTITIONER),
            None,
            start(),
        )
        .await
        .unwrap();
    desk.store
        .remove_user(desk.ada, stranger, later(1))
        .await
        .unwrap();
    let refused = desk
        .store
        .backup(stranger, &empty.path().join("out"), later(2))
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::NoSuchUser), "{refused}");
}

#[tokio::test]
async fn a_damaged_record_is_not_backed_up_as_if_it_were_whole() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let case = desk.case("fenwick-1951").await;
    desk.add(case, "a").await;
    crate::raw::run_unguarded(
        &crate::raw::file(desk.engine.dir.path()),
        "UPDATE journal_entry SET kind = 'call'",
    )
    .await;
    let place = TempDir::new().unwrap();
    let refused = records::backup(desk.engine.dir.path(), &place.path().join("out"))
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::Damaged { .. }), "{refused}");
    assert_eq!(std::fs::read_dir(place.path()).unwrap().count(), 0);
}

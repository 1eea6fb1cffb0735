//! Triggers and constraints refuse what the program never does.

use records::FaultKind;

use crate::common::{Desk, SqliteFolder, later};
use crate::raw;

#[tokio::test]
async fn journal_access_log_users_and_cases_are_never_changed_or_deleted() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let case = desk.case("fenwick-1951").await;
    desk.add(case, "a").await;
    desk.add(case, "b").await;
    desk.bodies(case).await;
    let file = raw::file(desk.engine.dir.path());
    let mut connection = raw::connect(&file).await;
    let copy = "SELECT journal_entry_id, patient_case_id, position, 'other', effective_at, recorded_ms, app_user_id, \
                supersedes, plan_digests, sealed_body, hash_before, hash FROM journal_entry WHERE position = 1";
    let moved = copy.replace("position, 'other'", "3, 'other'");
    for (sql, reason) in [
        ("UPDATE journal_entry SET kind = 'call'".to_owned(), "grows"),
        ("UPDATE journal_entry SET sealed_body = x'00' WHERE position = 2".to_owned(), "grows"),
        ("DELETE FROM journal_entry WHERE position = 2".to_owned(), "grows"),
        (format!("INSERT OR REPLACE INTO journal_entry {copy}"), "grows"),
        (format!("INSERT OR REPLACE INTO journal_entry {moved}"), "grows"),
        (moved.replacen("SELECT journal_entry_id", "INSERT INTO journal_entry SELECT randomblob(16)", 1).replace("3, 'other'", "9, 'other'"), "at its end"),
        ("UPDATE access SET what = 'other'".to_owned(), "grows"),
        ("DELETE FROM access".to_owned(), "grows"),
        ("INSERT OR REPLACE INTO access SELECT access_id, 0, app_user_id, patient_case_id, 'other' FROM access LIMIT 1".to_owned(), "grows"),
        ("DELETE FROM app_user".to_owned(), "never deleted"),
        ("DELETE FROM patient_case".to_owned(), "never deleted"),
        ("UPDATE patient_case SET entry_count = entry_count - 1 WHERE entry_count > 0".to_owned(), "grows"),
        ("INSERT INTO record (record_id, only_one, created_ms, key_check) VALUES (randomblob(16), 1, 0, x'00')".to_owned(), "UNIQUE"),
        ("UPDATE app_user SET is_practitioner = 0, is_lead = 0, is_administrator = 0".to_owned(), "CHECK"),
    ] {
        let refused = raw::run(&mut connection, &sql).await.unwrap_err().to_string();
        assert!(refused.contains(reason), "{sql}: {refused}");
    }
    assert_eq!(desk.bodies(case).await, ["a", "b"]);
    assert!(desk.store.verify_sealed().await.unwrap().is_sound());
}

#[tokio::test]
async fn an_erased_case_stays_as_it_is() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let case = desk.case("fenwick-1951").await;
    desk.store
        .erase_case(
            desk.ada,
            case,
            jiff::civil::date(2026, 12, 1).at(9, 0, 0, 0),
            later(9),
        )
        .await
        .unwrap();
    let mut connection = raw::connect(&raw::file(desk.engine.dir.path())).await;
    let sql = "UPDATE patient_case SET erased_ms = NULL WHERE status = 'erased'";
    let refused = raw::run(&mut connection, sql)
        .await
        .unwrap_err()
        .to_string();
    assert!(refused.contains("stays as it is"), "{refused}");
}

#[tokio::test]
async fn a_guard_that_is_missing_or_added_is_found() {
    for sql in [
        "DROP TRIGGER journal_entry_not_deleted",
        "DROP INDEX patient_case_due",
        "CREATE TRIGGER sly AFTER INSERT ON journal_entry BEGIN DELETE FROM session; END",
        "CREATE TABLE extra (a)",
        "CREATE VIEW extra AS SELECT 1",
    ] {
        let desk = Desk::open(SqliteFolder::fresh()).await;
        let mut connection = raw::connect(&raw::file(desk.engine.dir.path())).await;
        raw::run(&mut connection, sql).await.unwrap();
        let faults = desk.store.locked().verify().await.unwrap().faults;
        assert!(
            matches!(&faults[..], [one] if matches!(one.kind, FaultKind::SchemaChanged { .. })),
            "{sql}: {faults:?}"
        );
    }
}

#[tokio::test]
async fn a_session_that_outlived_its_user_is_not_found() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let token = desk
        .store
        .create_session(desk.ada, later(0), later(600))
        .await
        .unwrap();
    assert!(
        desk.store
            .find_session(&token, later(1))
            .await
            .unwrap()
            .is_some()
    );
    // Removing a user ends their sessions; this row stays, as if that had been forgotten.
    let mut connection = raw::connect(&raw::file(desk.engine.dir.path())).await;
    raw::run(&mut connection, "UPDATE app_user SET removed_ms = 5")
        .await
        .unwrap();
    assert_eq!(
        desk.store.find_session(&token, later(1)).await.unwrap(),
        None
    );
}

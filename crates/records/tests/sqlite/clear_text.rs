//! What stands in the files of a record: nothing about a patient in clear, nothing of a key that was destroyed.

use std::path::Path;

use jiff::civil::date;
use records::{Draft, NewCase, Personal};

use crate::common::{Desk, SqliteFolder, draft, later, new_case, start};
use crate::raw;

/// All bytes of all files of a folder.
fn every_byte(dir: &Path) -> Vec<u8> {
    let mut bytes = Vec::new();
    for entry in std::fs::read_dir(dir).unwrap() {
        bytes.extend(std::fs::read(entry.unwrap().path()).unwrap());
    }
    bytes
}

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}

#[tokio::test]
async fn nothing_about_a_patient_stands_in_clear() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let personal = Personal {
        name: "Orla Fenwick".to_owned(),
        called: "Mrs Fenwick".to_owned(),
        birth_year: Some(1951),
        one_line: "stent in August".to_owned(),
    };
    let new = NewCase {
        personal: personal.clone(),
        entries: vec![draft("assessment", "bisoprolol 2.5 mg")],
        ..new_case("fenwick-1951")
    };
    let case = desk.store.open_case(desk.ada, new, start()).await.unwrap();
    let renamed = Draft {
        personal: Some(personal),
        ..draft("note", "sternotomy healed")
    };
    desk.store
        .append(case, desk.ada, renamed, later(1))
        .await
        .unwrap();
    desk.bodies(case).await;
    let token = desk
        .store
        .create_session(desk.ada, start(), later(60))
        .await
        .unwrap();
    let out = desk.engine.dir.path().join("out.backup");
    records::backup(desk.engine.dir.path(), &out).await.unwrap();
    let bytes = every_byte(desk.engine.dir.path());
    for secret in [
        "Orla",
        "Fenwick",
        "fenwick",
        "stent in",
        "bisoprolol",
        "sternotomy",
        "lantern",
        &desk.recovery,
        &desk.recovery.replace('-', ""),
        token.as_str(),
    ] {
        assert!(!holds(&bytes, secret.as_bytes()), "{secret}");
    }
    // The control: what is said to stay in clear is found by the same search.
    for clear in [
        "assessment",
        "2026-11-09",
        "ada of the invented service",
        "case-page",
        "active",
    ] {
        assert!(holds(&bytes, clear.as_bytes()), "{clear}");
    }
}

#[tokio::test]
async fn a_destroyed_key_is_overwritten() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let case = desk.case("fenwick-1951").await;
    desk.add(case, "a").await;
    let mut connection = raw::connect(&raw::file(desk.engine.dir.path())).await;
    let sealed =
        async |connection: &mut sqlx::SqliteConnection, column: &str, table: &str| -> Vec<u8> {
            let sql = format!("SELECT {column} FROM {table} WHERE patient_case_id = $1");
            let query = sqlx::query_as(sqlx::AssertSqlSafe(sql)).bind(case.to_uuid());
            let (bytes,): (Vec<u8>,) = query.fetch_one(connection).await.unwrap();
            bytes
        };
    let key = sealed(&mut connection, "sealed_key", "case_key").await;
    let name = sealed(&mut connection, "sealed_personal", "patient_case").await;
    drop(connection);
    assert!(holds(&every_byte(desk.engine.dir.path()), &key));
    let on = date(2026, 12, 1).at(9, 0, 0, 0);
    let erased = desk
        .store
        .erase_case(desk.ada, case, on, later(9))
        .await
        .unwrap();
    assert!(erased.log_cleared);
    let bytes = every_byte(desk.engine.dir.path());
    assert!(!holds(&bytes, &key) && !holds(&bytes, &name));
    // Even pieces of it.
    assert!(key.windows(12).all(|piece| !holds(&bytes, piece)));
}

//! The settings of the connections, and a database that may not grow.

use tempfile::TempDir;

use super::*;
use crate::database::Database;
use crate::database::access_rows::{self, Note};
use crate::database::journal_rows;
use jiff::Timestamp;

async fn made() -> (TempDir, SqliteDatabase) {
    let dir = TempDir::new().unwrap();
    let file = dir.path().join("a.sqlite");
    std::fs::write(&file, b"").unwrap();
    let mut connection = connect_new(&file).await.unwrap();
    migrate::apply(&mut connection, 0, migrate::NEWEST, 0)
        .await
        .unwrap();
    connection.close().await.unwrap();
    let database = SqliteDatabase::open(&file).await.unwrap();
    (dir, database)
}

async fn pragma(pool: &SqlitePool, sql: &'static str) -> i64 {
    let (value,): (i64,) = sqlx::query_as(sql).fetch_one(pool).await.unwrap();
    value
}

#[tokio::test]
async fn a_commit_is_on_the_disk_before_it_is_confirmed() {
    // A killed process cannot show this, only a lost power could: so the settings themselves are looked at.
    let (_dir, database) = made().await;
    let (mode,): (String,) = sqlx::query_as("PRAGMA journal_mode")
        .fetch_one(&database.writer)
        .await
        .unwrap();
    assert_eq!(mode, "wal");
    // 2 is FULL: https://www.sqlite.org/pragma.html#pragma_synchronous
    assert_eq!(pragma(&database.writer, "PRAGMA synchronous").await, 2);
    assert_eq!(pragma(&database.writer, "PRAGMA secure_delete").await, 1);
}

#[tokio::test]
async fn every_connection_is_guarded() {
    let (_dir, database) = made().await;
    for pool in [&database.writer, &database.readers] {
        assert_eq!(pragma(pool, "PRAGMA foreign_keys").await, 1);
        assert_eq!(pragma(pool, "PRAGMA trusted_schema").await, 0);
        assert_eq!(pragma(pool, "PRAGMA cell_size_check").await, 1);
        // 2 is memory: nothing about a patient in temporary files.
        assert_eq!(pragma(pool, "PRAGMA temp_store").await, 2);
    }
    let refused = sqlx::query("DELETE FROM session")
        .execute(&database.readers)
        .await
        .unwrap_err();
    assert!(refused.to_string().contains("readonly"), "{refused}");
}

#[tokio::test]
async fn a_database_that_may_not_grow_refuses_keeps_what_it_has_and_goes_on_when_it_may() {
    // Runs wherever tests run; the full disk itself stands in the tests of processes.
    let (_dir, database) = made().await;
    let pages = pragma(&database.writer, "PRAGMA page_count").await + 4;
    let limit = sqlx::AssertSqlSafe(format!("PRAGMA max_page_count = {pages}"));
    sqlx::raw_sql(limit)
        .execute(&database.writer)
        .await
        .unwrap();
    let database = Database::Sqlite(database);
    let note = Note {
        at: Timestamp::UNIX_EPOCH,
        by: None,
        case: None,
        what: "x".repeat(200),
    };
    let add = async || {
        let mut transaction = database.write("note who reads").await?;
        access_rows::insert(&mut transaction, &[&note]).await?;
        transaction.commit("note who reads").await
    };
    let mut confirmed = 0;
    let refused = loop {
        match add().await {
            Ok(()) => confirmed += 1,
            Err(error) => break error,
        }
    };
    assert!(matches!(refused, Error::DiskFull { .. }), "{refused}");
    assert!(
        refused
            .to_string()
            .contains("Nothing that was confirmed is lost"),
        "{refused}"
    );
    assert!(confirmed > 10);
    let mut transaction = database.read("count").await.unwrap();
    assert_eq!(
        access_rows::list(&mut transaction, &Default::default())
            .await
            .unwrap()
            .len(),
        confirmed
    );
    assert_eq!(journal_rows::count(&mut transaction).await.unwrap(), 0);
    assert_eq!(
        storage_faults(&mut transaction).await.unwrap(),
        Vec::<String>::new()
    );
    drop(transaction);

    let Database::Sqlite(inner) = &database;
    sqlx::raw_sql("PRAGMA max_page_count = 4294967294")
        .execute(&inner.writer)
        .await
        .unwrap();
    for _ in 0..20 {
        add().await.unwrap();
    }
}

//! The database of a record opened without the program, as somebody with the file could.

use std::path::{Path, PathBuf};

use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{AssertSqlSafe, ConnectOptions as _, SqliteConnection};

/// The database file of a folder.
pub(crate) fn file(dir: &Path) -> PathBuf {
    dir.join("record.sqlite")
}

/// One connection with the defaults of SQLite.
pub(crate) async fn connect(file: &Path) -> SqliteConnection {
    SqliteConnectOptions::new()
        .filename(file)
        .foreign_keys(false)
        .connect()
        .await
        .unwrap()
}

/// Runs SQL, which may be refused.
pub(crate) async fn run(connection: &mut SqliteConnection, sql: &str) -> Result<(), sqlx::Error> {
    sqlx::raw_sql(AssertSqlSafe(sql.to_owned()))
        .execute(connection)
        .await
        .map(drop)
}

/// Runs SQL with all guards away and puts the guards back.
pub(crate) async fn run_unguarded(file: &Path, sql: &str) {
    use sqlx::Connection as _;
    let mut connection = connect(file).await;
    let guards: Vec<(String, String)> =
        sqlx::query_as("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
            .fetch_all(&mut connection)
            .await
            .unwrap();
    assert!(guards.len() > 5, "there are guards to take away");
    for (name, _) in &guards {
        run(&mut connection, &format!("DROP TRIGGER {name}"))
            .await
            .unwrap();
    }
    run(&mut connection, sql).await.unwrap();
    for (_, sql) in &guards {
        run(&mut connection, sql).await.unwrap();
    }
    connection.close().await.unwrap();
}

/// One number.
pub(crate) async fn number(connection: &mut SqliteConnection, sql: &str) -> i64 {
    let (number,): (i64,) = sqlx::query_as(AssertSqlSafe(sql.to_owned()))
        .fetch_one(connection)
        .await
        .unwrap();
    number
}

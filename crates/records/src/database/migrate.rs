//! Numbered migrations: each is applied once, in order, and never edited afterwards.

use sqlx::SqliteConnection;

use crate::database::sqlite::APPLICATION_ID;
use crate::digest::Digest;
use crate::error::{Attempted as _, Error};

/// One migration file.
struct Migration {
    file_name: &'static str,
    sql: &'static str,
}

/// All of them; the first has number 1.
const MIGRATIONS: &[Migration] = &[
    Migration {
        file_name: "0001_record.sql",
        sql: include_str!("../../migrations/sqlite/0001_record.sql"),
    },
    Migration {
        file_name: "0002_attention.sql",
        sql: include_str!("../../migrations/sqlite/0002_attention.sql"),
    },
];

/// The newest format that this program knows.
pub(crate) const NEWEST: i64 = MIGRATIONS.len() as i64;

/// The format of a file: 0 for an empty one; a file of another program and a newer one are refused.
pub(crate) async fn version_of(connection: &mut SqliteConnection) -> Result<i64, Error> {
    let attempted = "read the format of the record";
    let (application,): (i64,) = sqlx::query_as("PRAGMA application_id")
        .fetch_one(&mut *connection)
        .await
        .attempted(attempted)?;
    let (version,): (i64,) = sqlx::query_as("PRAGMA user_version")
        .fetch_one(&mut *connection)
        .await
        .attempted(attempted)?;
    let (tables,): (i64,) = sqlx::query_as("SELECT count(*) FROM sqlite_schema")
        .fetch_one(&mut *connection)
        .await
        .attempted(attempted)?;
    match (application, version, tables) {
        (0, 0, 0) => Ok(0),
        (APPLICATION_ID, 1.., _) if version <= NEWEST => Ok(version),
        (APPLICATION_ID, 1.., _) => Err(Error::NewerFormat {
            found: version,
            known: NEWEST,
        }),
        _ => Err(Error::Damaged {
            what: "its file belongs to another program".to_owned(),
        }),
    }
}

/// Applies what lies above `from` up to `to`, all or nothing.
pub(crate) async fn apply(
    connection: &mut SqliteConnection,
    from: i64,
    to: i64,
    now_ms: i64,
) -> Result<(), Error> {
    let attempted = "bring the record to the newest format";
    if from >= to {
        return Ok(());
    }
    sqlx::raw_sql("BEGIN IMMEDIATE")
        .execute(&mut *connection)
        .await
        .attempted(attempted)?;
    let outcome = apply_all(connection, from, to, now_ms)
        .await
        .attempted(attempted);
    let end = if outcome.is_ok() {
        "COMMIT"
    } else {
        "ROLLBACK"
    };
    sqlx::raw_sql(end)
        .execute(&mut *connection)
        .await
        .attempted(attempted)?;
    outcome
}

async fn apply_all(
    connection: &mut SqliteConnection,
    from: i64,
    to: i64,
    now_ms: i64,
) -> Result<(), sqlx::Error> {
    for (number, migration) in (1..)
        .zip(MIGRATIONS)
        .filter(|(number, _)| (from + 1..=to).contains(number))
    {
        sqlx::raw_sql(migration.sql)
            .execute(&mut *connection)
            .await?;
        sqlx::query("INSERT INTO migration (migration_id, file_name, sha256, applied_ms) VALUES ($1, $2, $3, $4)")
            .bind(number)
            .bind(migration.file_name)
            .bind(Digest::of(migration.sql.as_bytes()).as_bytes().as_slice())
            .bind(now_ms)
            .execute(&mut *connection)
            .await?;
    }
    // The number stands in the header of the file, where it can be read before any table is trusted.
    let stamp = sqlx::AssertSqlSafe(format!(
        "PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = {to}"
    ));
    sqlx::raw_sql(stamp).execute(&mut *connection).await?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pinned_migrations_are_never_edited() {
        // A record in use has applied these very texts. To change a table, add the next file.
        let digests: Vec<String> = MIGRATIONS
            .iter()
            .map(|migration| Digest::of(migration.sql.as_bytes()).to_string())
            .collect();
        assert_eq!(
            digests,
            [
                "9f4f6530144e9693792c3c9c29b0d70a6c0d1a305f9737d051fc75e2af865163",
                "271b34c7911d71fea6a392d0bf16ff61c9ed37e39e2ed67d1f66938dbc2e7715"
            ]
        );
    }

    #[test]
    fn file_names_begin_with_their_number() {
        for (number, migration) in (1..).zip(MIGRATIONS) {
            assert!(
                migration.file_name.starts_with(&format!("{number:04}_")),
                "{}",
                migration.file_name
            );
        }
    }
}

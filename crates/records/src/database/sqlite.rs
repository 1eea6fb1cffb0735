//! SQLite in a folder: one connection that writes, a few that read.

use std::path::Path;
use std::time::Duration;

use sqlx::sqlite::{
    SqliteConnectOptions, SqliteJournalMode, SqlitePool, SqlitePoolOptions, SqliteSynchronous,
};
use sqlx::{ConnectOptions as _, Connection as _, SqliteConnection};

use crate::database::{Transaction, migrate};
use crate::error::{Attempted as _, Error};

/// Tells a file of ours from any other SQLite file ("HRTH").
pub(crate) const APPLICATION_ID: i64 = 0x4852_5448;

const READERS: u32 = 4;
const BUSY_TIMEOUT: Duration = Duration::from_secs(10);

/// The connections to one database file.
pub(crate) struct SqliteDatabase {
    pub(crate) writer: SqlitePool,
    pub(crate) readers: SqlitePool,
}

impl SqliteDatabase {
    /// Opens a file that is there.
    pub(crate) async fn open(file: &Path) -> Result<SqliteDatabase, Error> {
        let options = writer_options(file)?;
        let writer = lasting_pool(1)
            .connect_with(options)
            .await
            .attempted("open the record")?;
        // Readers may not write even by mistake; they still need the shared memory of the log, so not `read_only`.
        let readers = lasting_pool(READERS)
            .connect_lazy_with(guarded_options(file)?.pragma("query_only", "ON"));
        Ok(SqliteDatabase { writer, readers })
    }

    /// Writes the log into the file and empties it; returns whether all of it is gone.
    pub(crate) async fn truncate_log(&self) -> Result<bool, Error> {
        let (busy, _, _): (i64, i64, i64) = sqlx::query_as("PRAGMA wal_checkpoint(TRUNCATE)")
            .fetch_one(&self.writer)
            .await
            .attempted("empty the log of the record")?;
        Ok(busy == 0)
    }

    /// Closes readers first, so that the writer can empty the log.
    pub(crate) async fn close(&self) {
        self.readers.close().await;
        self.writer.close().await;
    }
}

/// Connections that stay open: reopening costs more than keeping.
fn lasting_pool(connections: u32) -> SqlitePoolOptions {
    SqlitePoolOptions::new()
        .max_connections(connections)
        .idle_timeout(None)
        .max_lifetime(None)
        .acquire_timeout(BUSY_TIMEOUT)
        .test_before_acquire(false)
        .after_release(|connection, _| Box::pin(is_settled(connection)))
}

/// Whether a connection that came back may be used again; one that may not is closed and opened anew.
///
/// When the disk is full, SQLite ends the transaction by itself, and the roll-back that follows finds none. The
/// connection would count itself inside a transaction from then on and refuse to begin any other.
async fn is_settled(connection: &mut SqliteConnection) -> Result<bool, sqlx::Error> {
    // A roll-back that waits is done before the answer comes.
    connection.ping().await?;
    Ok(!connection.is_in_transaction())
}

/// What every connection has: no trust in the file, nothing about a patient in temporary files or logs.
fn guarded_options(file: &Path) -> Result<SqliteConnectOptions, Error> {
    // An absolute path, because SQLite takes a name that begins with "file:" for an address.
    let file = std::path::absolute(file).map_err(|source| Error::folder("find", file, source))?;
    Ok(SqliteConnectOptions::new()
        .filename(file)
        .create_if_missing(false)
        .foreign_keys(true)
        .busy_timeout(BUSY_TIMEOUT)
        .pragma("temp_store", "MEMORY")
        .pragma("trusted_schema", "OFF")
        .pragma("cell_size_check", "ON")
        .disable_statement_logging())
}

/// The writing connection: write-ahead log, every commit on the disk before it is confirmed, deleted rows overwritten.
fn writer_options(file: &Path) -> Result<SqliteConnectOptions, Error> {
    Ok(guarded_options(file)?
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .pragma("secure_delete", "ON"))
}

/// One connection to a new, still empty file.
pub(crate) async fn connect_new(file: &Path) -> Result<SqliteConnection, Error> {
    writer_options(file)?
        .connect()
        .await
        .attempted("create the record")
}

/// One connection beside a running server, or to a copy.
pub(crate) async fn open_beside(file: &Path) -> Result<SqlitePool, Error> {
    lasting_pool(1)
        .connect_with(guarded_options(file)?)
        .await
        .attempted("open the record")
}

/// A consistent copy of the whole database as a file of its own.
pub(crate) async fn copy_into(pool: &SqlitePool, copy: &Path) -> Result<(), Error> {
    let path = std::path::absolute(copy).map_err(|source| Error::folder("find", copy, source))?;
    let path = path
        .to_str()
        .ok_or_else(|| Error::unsuitable("The path", "it is not valid UTF-8"))?
        .to_owned();
    sqlx::query("VACUUM INTO $1")
        .bind(path)
        .execute(pool)
        .await
        .attempted("copy the record")
        .map(drop)
}

/// What the database says about its own file: damage and references that lead nowhere.
pub(crate) async fn storage_faults(transaction: &mut Transaction) -> Result<Vec<String>, Error> {
    let Transaction::Sqlite(inner) = transaction;
    let lines: Vec<(String,)> = sqlx::query_as("PRAGMA integrity_check(20)")
        .fetch_all(&mut **inner)
        .await
        .attempted("check the file")?;
    let mut faults: Vec<String> = lines
        .into_iter()
        .map(|(line,)| line)
        .filter(|line| line != "ok")
        .collect();
    let broken = sqlx::query("PRAGMA foreign_key_check")
        .fetch_all(&mut **inner)
        .await
        .attempted("check the file")?;
    if !broken.is_empty() {
        faults.push(format!("{} references lead nowhere", broken.len()));
    }
    Ok(faults)
}

/// The first difference between the tables, indexes and triggers of a file and those of its migrations, if any.
pub(crate) async fn schema_difference(
    transaction: &mut Transaction,
    version: i64,
) -> Result<Option<String>, Error> {
    let Transaction::Sqlite(inner) = transaction;
    let mut empty = SqliteConnectOptions::new()
        .in_memory(true)
        .disable_statement_logging()
        .connect()
        .await
        .attempted("make an empty record to compare with")?;
    migrate::apply(&mut empty, 0, version, 0).await?;
    let expected = schema_of(&mut empty).await?;
    let found = schema_of(&mut *inner).await?;
    empty.close().await.attempted("compare the tables")?;
    let missing = expected
        .iter()
        .find(|item| !found.contains(item))
        .map(|item| format!("{} is not as made", item.0));
    let added = found
        .iter()
        .find(|item| !expected.contains(item))
        .map(|item| format!("{} does not belong", item.0));
    Ok(missing.or(added))
}

/// Name and text of everything that the file defines.
async fn schema_of(
    connection: &mut SqliteConnection,
) -> Result<Vec<(String, Option<String>)>, Error> {
    sqlx::query_as("SELECT type || ' ' || name || ' of ' || tbl_name, sql FROM sqlite_schema WHERE name <> 'sqlite_sequence' ORDER BY 1")
        .fetch_all(connection)
        .await
        .attempted("compare the tables")
}

#[cfg(test)]
mod tests;

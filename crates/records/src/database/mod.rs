//! The database under a record: rows in, rows out, no keys and no judgement.
//!
//! Every query is written once, with `$1` placeholders and types that SQLite and PostgreSQL share, and runs on a
//! [`Transaction`] of whichever engine it is. A second engine adds a variant to [`Database`] and [`Transaction`], an arm
//! to [`on!`] and a folder of migrations; tables and columns keep their names.

use sqlx::Sqlite;

use crate::error::{Attempted as _, Error};

/// Runs one query on the connection of a transaction, whichever engine it belongs to.
macro_rules! on {
    ($transaction:expr, |$connection:ident| $query:expr) => {
        match $transaction {
            $crate::database::Transaction::Sqlite(inner) => {
                let $connection = &mut **inner;
                $query.await
            }
        }
    };
}

pub(crate) mod access_rows;
pub(crate) mod case_rows;
pub(crate) mod journal_rows;
pub(crate) mod key_rows;
pub(crate) mod migrate;
pub(crate) mod session_rows;
pub(crate) mod sqlite;
pub(crate) mod user_rows;

/// Rows or values that one query binds: both engines take well over 10,000 values.
pub(crate) const BOUND_AT_ONCE: usize = 1_000;

/// An open database.
pub(crate) enum Database {
    /// SQLite in a folder.
    Sqlite(sqlite::SqliteDatabase),
}

/// One transaction: for writing (only one at a time) or for reading one consistent state.
pub(crate) enum Transaction {
    /// On SQLite.
    Sqlite(sqlx::Transaction<'static, Sqlite>),
}

impl Database {
    /// Begins to write; waits for the writer before.
    pub(crate) async fn write(&self, attempted: &'static str) -> Result<Transaction, Error> {
        match self {
            // Not the plain BEGIN: a transaction that reads first and writes later would fail at once when another wrote between.
            Database::Sqlite(database) => database
                .writer
                .begin_with("BEGIN IMMEDIATE")
                .await
                .map(Transaction::Sqlite)
                .attempted(attempted),
        }
    }

    /// Begins to read one consistent state, beside any writer.
    pub(crate) async fn read(&self, attempted: &'static str) -> Result<Transaction, Error> {
        match self {
            Database::Sqlite(database) => database
                .readers
                .begin()
                .await
                .map(Transaction::Sqlite)
                .attempted(attempted),
        }
    }

    /// Overwrites what is left of deleted rows in logs; returns whether nothing is left.
    pub(crate) async fn clear_remains(&self) -> Result<bool, Error> {
        match self {
            Database::Sqlite(database) => database.truncate_log().await,
        }
    }

    /// Closes all connections.
    pub(crate) async fn close(&self) {
        match self {
            Database::Sqlite(database) => database.close().await,
        }
    }
}

impl Transaction {
    /// Makes everything in it permanent; after `Ok` it survives a crash of the program, the system or the power.
    pub(crate) async fn commit(self, attempted: &'static str) -> Result<(), Error> {
        match self {
            Transaction::Sqlite(inner) => inner.commit().await.attempted(attempted),
        }
    }
}

/// A date column; one that cannot be read is left out: the seal of the head says that it was changed.
pub(crate) fn stored_date(text: Option<&str>) -> Option<jiff::civil::Date> {
    text?.parse().ok()
}

/// A column of milliseconds.
pub(crate) fn stored_time(milliseconds: i64) -> Result<jiff::Timestamp, Error> {
    jiff::Timestamp::from_millisecond(milliseconds).map_err(|_| Error::Damaged {
        what: "a time is outside the calendar".to_owned(),
    })
}

/// A column of 32 bytes.
pub(crate) fn stored_digest(bytes: &[u8]) -> Result<crate::digest::Digest, Error> {
    let bytes = bytes.try_into().map_err(|_| Error::Damaged {
        what: "a digest is not 32 bytes long".to_owned(),
    })?;
    Ok(crate::digest::Digest::from_bytes(bytes))
}

/// A column that counts.
pub(crate) fn stored_count(number: i64) -> Result<u64, Error> {
    u64::try_from(number).map_err(|_| Error::Damaged {
        what: "a count is negative".to_owned(),
    })
}

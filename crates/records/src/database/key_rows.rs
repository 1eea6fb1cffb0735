//! The row of the record itself and the rows of wrapped keys.

use sqlx::FromRow;
use uuid::Uuid;

use crate::chain::RecordId;
use crate::database::Transaction;
use crate::error::{Attempted as _, Error};
use crate::identity::UserId;
use crate::passphrase::PassphraseCost;

/// The data key as wrapped by one secret text.
#[derive(Clone, FromRow)]
pub(crate) struct WrapRow {
    pub(crate) key_wrap_id: Uuid,
    pub(crate) app_user_id: Option<Uuid>,
    pub(crate) salt: Vec<u8>,
    pub(crate) memory_kib: i64,
    pub(crate) passes: i64,
    pub(crate) sealed_key: Vec<u8>,
    pub(crate) failed_count: i64,
    pub(crate) not_before_ms: i64,
}

impl WrapRow {
    /// What an attempt costs; a hostile value is refused.
    pub(crate) fn cost(&self) -> Result<PassphraseCost, Error> {
        let number = |stored: i64| u32::try_from(stored).unwrap_or(u32::MAX);
        PassphraseCost {
            memory_kib: number(self.memory_kib),
            passes: number(self.passes),
        }
        .checked()
    }
}

/// Writes the identity of a new record.
pub(crate) async fn insert_record(
    transaction: &mut Transaction,
    record: &RecordId,
    key_check: &[u8],
    created_ms: i64,
) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "INSERT INTO record (record_id, created_ms, key_check) VALUES ($1, $2, $3)"
    )
    .bind(Uuid::from_bytes(*record))
    .bind(created_ms)
    .bind(key_check)
    .execute(connection))
    .attempted("create the record")
    .map(drop)
}

/// The identity of the record and its sealed check text.
pub(crate) async fn find_record(
    transaction: &mut Transaction,
) -> Result<(RecordId, Vec<u8>), Error> {
    let found: Option<(Uuid, Vec<u8>)> = on!(transaction, |connection| sqlx::query_as(
        "SELECT record_id, key_check FROM record"
    )
    .fetch_optional(connection))
    .attempted("open the record")?;
    let (record, key_check) = found.ok_or(Error::Damaged {
        what: "it has no identity".to_owned(),
    })?;
    Ok((record.into_bytes(), key_check))
}

/// Writes a wrapped key.
pub(crate) async fn insert_wrap(transaction: &mut Transaction, row: &WrapRow) -> Result<(), Error> {
    let purpose = if row.app_user_id.is_some() {
        "passphrase"
    } else {
        "recovery"
    };
    on!(transaction, |connection| sqlx::query(
        "INSERT INTO key_wrap (key_wrap_id, purpose, app_user_id, salt, memory_kib, passes, sealed_key) \
         VALUES ($1, $2, $3, $4, $5, $6, $7)"
    )
    .bind(row.key_wrap_id)
    .bind(purpose)
    .bind(row.app_user_id)
    .bind(row.salt.as_slice())
    .bind(row.memory_kib)
    .bind(row.passes)
    .bind(row.sealed_key.as_slice())
    .execute(connection))
    .attempted("store the wrapped key")
    .map(drop)
}

/// The wrap of a user's passphrase, or of the recovery sheet.
pub(crate) async fn find_wrap(
    transaction: &mut Transaction,
    user: Option<UserId>,
) -> Result<Option<WrapRow>, Error> {
    match user {
        Some(user) => on!(transaction, |connection| sqlx::query_as(
            "SELECT * FROM key_wrap WHERE app_user_id = $1"
        )
        .bind(user.to_uuid())
        .fetch_optional(connection)),
        None => on!(transaction, |connection| sqlx::query_as(
            "SELECT * FROM key_wrap WHERE purpose = 'recovery'"
        )
        .fetch_optional(connection)),
    }
    .attempted("look for the wrapped key")
}

/// Takes a wrap away: the secret no longer opens the record.
pub(crate) async fn delete_wrap(
    transaction: &mut Transaction,
    user: Option<UserId>,
) -> Result<(), Error> {
    match user {
        Some(user) => on!(transaction, |connection| sqlx::query(
            "DELETE FROM key_wrap WHERE app_user_id = $1"
        )
        .bind(user.to_uuid())
        .execute(connection)),
        None => on!(transaction, |connection| sqlx::query(
            "DELETE FROM key_wrap WHERE purpose = 'recovery'"
        )
        .execute(connection)),
    }
    .attempted("take the wrapped key away")
    .map(drop)
}

/// Notes how many attempts failed in a row and from when on the next one counts.
pub(crate) async fn set_throttle(
    transaction: &mut Transaction,
    wrap: Uuid,
    failed_count: i64,
    not_before_ms: i64,
) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "UPDATE key_wrap SET failed_count = $2, not_before_ms = $3 WHERE key_wrap_id = $1"
    )
    .bind(wrap)
    .bind(failed_count)
    .bind(not_before_ms)
    .execute(connection))
    .attempted("note the attempt")
    .map(drop)
}

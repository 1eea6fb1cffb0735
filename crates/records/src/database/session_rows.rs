//! Rows of sessions.

use sqlx::FromRow;
use uuid::Uuid;

use crate::database::Transaction;
use crate::digest::Digest;
use crate::error::{Attempted as _, Error};
use crate::identity::UserId;

/// A session as stored.
#[derive(FromRow)]
pub(crate) struct SessionRow {
    pub(crate) app_user_id: Uuid,
    pub(crate) created_ms: i64,
    pub(crate) expires_ms: i64,
    pub(crate) is_locked: i64,
}

/// Writes a new session.
pub(crate) async fn insert(
    transaction: &mut Transaction,
    token: Digest,
    user: UserId,
    created_ms: i64,
    expires_ms: i64,
) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "INSERT INTO session (session_id, app_user_id, created_ms, expires_ms) VALUES ($1, $2, $3, $4)"
    )
    .bind(token.as_bytes().as_slice())
    .bind(user.to_uuid())
    .bind(created_ms)
    .bind(expires_ms)
    .execute(connection))
    .attempted("sign in")
    .map(drop)
}

/// One session.
pub(crate) async fn find(
    transaction: &mut Transaction,
    token: Digest,
) -> Result<Option<SessionRow>, Error> {
    on!(transaction, |connection| sqlx::query_as(
        "SELECT * FROM session WHERE session_id = $1"
    )
    .bind(token.as_bytes().as_slice())
    .fetch_optional(connection))
    .attempted("look for the session")
}

/// Locks or unlocks a session; returns whether there was one that had not expired.
pub(crate) async fn set_locked(
    transaction: &mut Transaction,
    token: Digest,
    locked: bool,
    now_ms: i64,
) -> Result<bool, Error> {
    let done = on!(transaction, |connection| async {
        sqlx::query("UPDATE session SET is_locked = $2 WHERE session_id = $1 AND expires_ms > $3")
            .bind(token.as_bytes().as_slice())
            .bind(i64::from(locked))
            .bind(now_ms)
            .execute(connection)
            .await
            .map(|done| done.rows_affected())
    })
    .attempted("lock the session")?;
    Ok(done > 0)
}

/// Moves the end of a session; returns whether there was one that had not expired.
pub(crate) async fn set_expiry(
    transaction: &mut Transaction,
    token: Digest,
    expires_ms: i64,
    now_ms: i64,
) -> Result<bool, Error> {
    let done = on!(transaction, |connection| async {
        sqlx::query("UPDATE session SET expires_ms = $2 WHERE session_id = $1 AND expires_ms > $3")
            .bind(token.as_bytes().as_slice())
            .bind(expires_ms)
            .bind(now_ms)
            .execute(connection)
            .await
            .map(|done| done.rows_affected())
    })
    .attempted("prolong the session")?;
    Ok(done > 0)
}

/// Ends one session.
pub(crate) async fn delete(transaction: &mut Transaction, token: Digest) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "DELETE FROM session WHERE session_id = $1"
    )
    .bind(token.as_bytes().as_slice())
    .execute(connection))
    .attempted("sign out")
    .map(drop)
}

/// Ends all sessions of a user.
pub(crate) async fn delete_of(transaction: &mut Transaction, user: UserId) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "DELETE FROM session WHERE app_user_id = $1"
    )
    .bind(user.to_uuid())
    .execute(connection))
    .attempted("end the sessions of the user")
    .map(drop)
}

/// Ends all sessions that have expired.
pub(crate) async fn delete_expired(
    transaction: &mut Transaction,
    now_ms: i64,
) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "DELETE FROM session WHERE expires_ms <= $1"
    )
    .bind(now_ms)
    .execute(connection))
    .attempted("end expired sessions")
    .map(drop)
}

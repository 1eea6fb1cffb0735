//! Rows of the access log.

use sqlx::FromRow;
use uuid::Uuid;

use crate::access::{AccessFilter, AccessRow};
use crate::database::{Transaction, stored_time};
use crate::error::{Attempted as _, Error};
use crate::identity::{CaseId, UserId, Word};

#[derive(FromRow)]
struct StoredAccess {
    access_id: i64,
    at_ms: i64,
    app_user_id: Option<Uuid>,
    patient_case_id: Option<Uuid>,
    what: String,
}

/// Notes who opened what.
pub(crate) async fn insert(
    transaction: &mut Transaction,
    at_ms: i64,
    by: Option<UserId>,
    case: Option<CaseId>,
    what: &str,
) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "INSERT INTO access (at_ms, app_user_id, patient_case_id, what) VALUES ($1, $2, $3, $4)"
    )
    .bind(at_ms)
    .bind(by.map(UserId::to_uuid))
    .bind(case.map(CaseId::to_uuid))
    .bind(what)
    .execute(connection))
    .attempted("note who reads")
    .map(drop)
}

/// The rows that a filter lets through, newest first.
pub(crate) async fn list(
    transaction: &mut Transaction,
    filter: &AccessFilter,
) -> Result<Vec<AccessRow>, Error> {
    let rows: Vec<StoredAccess> = on!(transaction, |connection| sqlx::query_as(
        "SELECT * FROM access WHERE ($1 IS NULL OR patient_case_id = $1) AND ($2 IS NULL OR app_user_id = $2) \
         AND ($3 IS NULL OR at_ms >= $3) AND ($4 IS NULL OR at_ms < $4) ORDER BY access_id DESC LIMIT $5"
    )
    .bind(filter.case.map(CaseId::to_uuid))
    .bind(filter.by.map(UserId::to_uuid))
    .bind(filter.from.map(|at| at.as_millisecond()))
    .bind(filter.before.map(|at| at.as_millisecond()))
    .bind(filter.limit.map_or(i64::MAX, i64::from))
    .fetch_all(connection))
    .attempted("read the access log")?;
    rows.into_iter()
        .map(|row| {
            Ok(AccessRow {
                number: row.access_id,
                at: stored_time(row.at_ms)?,
                by: row.app_user_id.map(UserId::stored),
                case: row.patient_case_id.map(CaseId::stored),
                what: Word::stored(row.what),
            })
        })
        .collect()
}

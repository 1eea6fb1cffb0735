//! Rows of the access log.

use jiff::Timestamp;
use sqlx::{FromRow, QueryBuilder};
use uuid::Uuid;

use crate::access::{AccessFilter, AccessRow};
use crate::database::{BOUND_AT_ONCE, Transaction, stored_time};
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

/// One row to be written.
pub(crate) struct Note {
    pub(crate) at: Timestamp,
    pub(crate) by: Option<UserId>,
    pub(crate) case: Option<CaseId>,
    pub(crate) what: String,
}

/// Notes who opened what.
pub(crate) async fn insert(transaction: &mut Transaction, notes: &[&Note]) -> Result<(), Error> {
    for some in notes.chunks(BOUND_AT_ONCE) {
        on!(transaction, |connection| async {
            let mut query = QueryBuilder::new(
                "INSERT INTO access (at_ms, app_user_id, patient_case_id, what) ",
            );
            query.push_values(some, |mut row, note| {
                row.push_bind(note.at.as_millisecond())
                    .push_bind(note.by.map(UserId::to_uuid))
                    .push_bind(note.case.map(CaseId::to_uuid))
                    .push_bind(&note.what);
            });
            query.build().execute(connection).await
        })
        .attempted("note who reads")?;
    }
    Ok(())
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

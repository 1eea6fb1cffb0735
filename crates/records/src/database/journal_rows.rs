//! Rows of the journal.

use sqlx::FromRow;
use uuid::Uuid;

use crate::chain::{Link, RecordId};
use crate::database::{Transaction, stored_count, stored_digest, stored_time};
use crate::error::{Attempted as _, Error};
use crate::identity::{CaseId, EntryId, UserId, Word};
use crate::journal::{Entry, digests_from_text};

/// An entry as it is stored.
#[derive(Clone, FromRow)]
pub(crate) struct EntryRow {
    pub(crate) journal_entry_id: Uuid,
    pub(crate) patient_case_id: Uuid,
    pub(crate) position: i64,
    pub(crate) kind: String,
    pub(crate) effective_at: String,
    pub(crate) recorded_ms: i64,
    pub(crate) app_user_id: Uuid,
    pub(crate) supersedes: Option<Uuid>,
    pub(crate) plan_digests: String,
    pub(crate) sealed_body: Vec<u8>,
    pub(crate) hash_before: Vec<u8>,
    pub(crate) hash: Vec<u8>,
}

impl EntryRow {
    /// Everything in clear, for hashing and opening.
    pub(crate) fn link<'a>(&'a self, record: &'a RecordId) -> Link<'a> {
        Link {
            record,
            case: CaseId::stored(self.patient_case_id),
            position: self.position,
            id: EntryId::stored(self.journal_entry_id),
            kind: &self.kind,
            effective: &self.effective_at,
            recorded_ms: self.recorded_ms,
            author: UserId::stored(self.app_user_id),
            supersedes: self.supersedes.map(EntryId::stored),
            plan_digests: &self.plan_digests,
            hash_before: &self.hash_before,
        }
    }

    /// The entry with its opened body.
    pub(crate) fn into_entry(
        self,
        body: Vec<u8>,
        superseded_by: Option<EntryId>,
    ) -> Result<Entry, Error> {
        let damaged = |what: &str| Error::Damaged {
            what: what.to_owned(),
        };
        Ok(Entry {
            case: CaseId::stored(self.patient_case_id),
            position: stored_count(self.position)?,
            id: EntryId::stored(self.journal_entry_id),
            kind: Word::stored(self.kind),
            effective: self
                .effective_at
                .parse()
                .map_err(|_| damaged("an effective time is not a time"))?,
            recorded: stored_time(self.recorded_ms)?,
            author: UserId::stored(self.app_user_id),
            supersedes: self.supersedes.map(EntryId::stored),
            superseded_by,
            plan_digests: digests_from_text(&self.plan_digests)
                .ok_or_else(|| damaged("digests are not digests"))?,
            hash_before: stored_digest(&self.hash_before)?,
            hash: stored_digest(&self.hash)?,
            body,
        })
    }
}

/// Writes one entry.
pub(crate) async fn insert(transaction: &mut Transaction, row: &EntryRow) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "INSERT INTO journal_entry (journal_entry_id, patient_case_id, position, kind, effective_at, recorded_ms, \
         app_user_id, supersedes, plan_digests, sealed_body, hash_before, hash) \
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)"
    )
    .bind(row.journal_entry_id)
    .bind(row.patient_case_id)
    .bind(row.position)
    .bind(row.kind.as_str())
    .bind(row.effective_at.as_str())
    .bind(row.recorded_ms)
    .bind(row.app_user_id)
    .bind(row.supersedes)
    .bind(row.plan_digests.as_str())
    .bind(row.sealed_body.as_slice())
    .bind(row.hash_before.as_slice())
    .bind(row.hash.as_slice())
    .execute(connection))
    .attempted("add the entry")
    .map(drop)
}

/// One entry, in whichever case it is.
pub(crate) async fn find(
    transaction: &mut Transaction,
    id: EntryId,
) -> Result<Option<EntryRow>, Error> {
    on!(transaction, |connection| sqlx::query_as(
        "SELECT * FROM journal_entry WHERE journal_entry_id = $1"
    )
    .bind(id.to_uuid())
    .fetch_optional(connection))
    .attempted("look for the entry")
}

/// The entry that corrects this one.
pub(crate) async fn find_superseding(
    transaction: &mut Transaction,
    id: EntryId,
) -> Result<Option<EntryId>, Error> {
    let found: Option<(Uuid,)> = on!(transaction, |connection| sqlx::query_as(
        "SELECT journal_entry_id FROM journal_entry WHERE supersedes = $1"
    )
    .bind(id.to_uuid())
    .fetch_optional(connection))
    .attempted("look for a correction")?;
    Ok(found.map(|(id,)| EntryId::stored(id)))
}

/// All entries of a case in order, from a position on.
pub(crate) async fn of_case(
    transaction: &mut Transaction,
    case: CaseId,
    from: i64,
) -> Result<Vec<EntryRow>, Error> {
    on!(transaction, |connection| sqlx::query_as(
        "SELECT * FROM journal_entry WHERE patient_case_id = $1 AND position >= $2 ORDER BY position, journal_entry_id"
    )
    .bind(case.to_uuid())
    .bind(from)
    .fetch_all(connection))
    .attempted("read the journal")
}

/// All entries of several neighbouring cases, by case and in order.
pub(crate) async fn of_cases(
    transaction: &mut Transaction,
    first: CaseId,
    last: CaseId,
) -> Result<Vec<EntryRow>, Error> {
    on!(transaction, |connection| sqlx::query_as(
        "SELECT * FROM journal_entry WHERE patient_case_id BETWEEN $1 AND $2 ORDER BY patient_case_id, position"
    )
    .bind(first.to_uuid())
    .bind(last.to_uuid())
    .fetch_all(connection))
    .attempted("read the journals")
}

/// How many entries there are in all.
pub(crate) async fn count(transaction: &mut Transaction) -> Result<u64, Error> {
    let (count,): (i64,) = on!(transaction, |connection| sqlx::query_as(
        "SELECT count(*) FROM journal_entry"
    )
    .fetch_one(connection))
    .attempted("count the entries")?;
    stored_count(count)
}

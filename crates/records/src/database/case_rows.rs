//! Rows of cases and of their keys.

use std::collections::BTreeMap;

use sqlx::{FromRow, QueryBuilder};
use uuid::Uuid;

use crate::case::{Attention, CaseFilter, Summary};
use crate::chain::{CaseHead, RecordId, first_hash};
use crate::database::{BOUND_AT_ONCE, Transaction, stored_count, stored_date, stored_digest};
use crate::error::{Attempted as _, Error};
use crate::framing::Frame;
use crate::identity::{CaseId, Word};

/// Reads cases with their keys; each query goes on with its own conditions.
macro_rules! select_cases {
    () => {
        "SELECT c.*, k.sealed_key FROM patient_case c LEFT JOIN case_key k ON k.patient_case_id = c.patient_case_id "
    };
    ($conditions:literal) => {
        concat!(select_cases!(), $conditions)
    };
}

/// What all lists have in common, and what each adds.
macro_rules! listed {
    (any) => {
        "WHERE c.patient_case_id > $1 AND ($2 = '' OR $2 LIKE '%,' || c.status || ',%') \
         AND ($3 OR c.erased_ms IS NULL) "
    };
    (needed) => {
        concat!(listed!(any), "AND c.patient_case_id IN ", listed!(needing))
    };
    (not_needed) => {
        concat!(
            listed!(any),
            "AND c.patient_case_id NOT IN ",
            listed!(needing)
        )
    };
    // One lookup in an index for each reason, not a walk through all cases: most of a large caseload needs nothing today.
    (needing) => {
        "(SELECT patient_case_id FROM patient_case WHERE due_on <= $5 \
         UNION SELECT patient_case_id FROM patient_case WHERE silent_from <= $5 \
         UNION SELECT patient_case_id FROM patient_case WHERE open_alert_count > 0) "
    };
}

/// The cases, and how many they are.
macro_rules! queries {
    ($which:ident, $order:literal) => {
        (
            concat!(
                select_cases!(),
                listed!($which),
                "ORDER BY ",
                $order,
                "c.patient_case_id LIMIT $4"
            ),
            concat!(
                "SELECT COUNT(*) FROM (SELECT 1 FROM patient_case c ",
                listed!($which),
                "LIMIT $4)"
            ),
        )
    };
}

const ANY: (&str, &str) = queries!(any, "");
const NEEDED: (&str, &str) = queries!(
    needed,
    "c.open_alert_count = 0, CASE WHEN c.silent_from < $5 THEN c.silent_from ELSE $5 END, \
     COALESCE(c.due_on, '9999-12-31'), "
);
const NOT_NEEDED: (&str, &str) = queries!(not_needed, "");

/// A case as it is stored, with its sealed key (none once erased).
#[derive(Clone, FromRow)]
pub(crate) struct CaseRow {
    pub(crate) patient_case_id: Uuid,
    pub(crate) sealed_reference: Option<Vec<u8>>,
    pub(crate) sealed_personal: Option<Vec<u8>>,
    pub(crate) status: String,
    pub(crate) due_on: Option<String>,
    pub(crate) silent_from: Option<String>,
    pub(crate) examined_on: Option<String>,
    pub(crate) heard_on: Option<String>,
    pub(crate) session_count: i64,
    pub(crate) open_alert_count: i64,
    pub(crate) entry_count: i64,
    pub(crate) head_hash: Vec<u8>,
    pub(crate) head_seal: Option<Vec<u8>>,
    pub(crate) opened_ms: i64,
    pub(crate) changed_ms: i64,
    pub(crate) erased_ms: Option<i64>,
    pub(crate) sealed_key: Option<Vec<u8>>,
}

impl CaseRow {
    /// A case without entries, dates or counts; its head is not sealed yet.
    pub(crate) fn new(
        record: &RecordId,
        case: CaseId,
        sealed_key: Vec<u8>,
        opened_ms: i64,
    ) -> CaseRow {
        CaseRow {
            patient_case_id: case.to_uuid(),
            sealed_reference: None,
            sealed_personal: None,
            status: String::new(),
            due_on: None,
            silent_from: None,
            examined_on: None,
            heard_on: None,
            session_count: 0,
            open_alert_count: 0,
            entry_count: 0,
            head_hash: first_hash(record, case).as_bytes().to_vec(),
            head_seal: None,
            opened_ms,
            changed_ms: opened_ms,
            erased_ms: None,
            sealed_key: Some(sealed_key),
        }
    }

    /// The case.
    pub(crate) fn case(&self) -> CaseId {
        CaseId::stored(self.patient_case_id)
    }

    /// The head of its chain.
    pub(crate) fn head(&self) -> Result<CaseHead, Error> {
        Ok(CaseHead {
            case: self.case(),
            entries: stored_count(self.entry_count)?,
            hash: stored_digest(&self.head_hash)?,
        })
    }

    /// Its dates and counts. What cannot be read is left out, a count becomes the greatest: one damaged case must not hide
    /// the others, and the seal of the head says that it was changed.
    pub(crate) fn summary(&self) -> Summary {
        let count = |number: i64| u32::try_from(number).unwrap_or(u32::MAX);
        Summary {
            status: Word::stored(self.status.clone()),
            due_on: stored_date(self.due_on.as_deref()),
            silent_from: stored_date(self.silent_from.as_deref()),
            examined_on: stored_date(self.examined_on.as_deref()),
            heard_on: stored_date(self.heard_on.as_deref()),
            session_count: count(self.session_count),
            open_alert_count: count(self.open_alert_count),
        }
    }

    /// What the keyed seal of the case covers: the head of its chain and everything that stands in clear beside it.
    pub(crate) fn head_frame(&self, record: &RecordId) -> Frame {
        Frame::for_purpose("hearthpace head of a case 1")
            .bytes(record)
            .bytes(self.patient_case_id.as_bytes())
            .number(self.entry_count)
            .bytes(&self.head_hash)
            .text(&self.status)
            .maybe(self.due_on.as_deref().map(str::as_bytes))
            .maybe(self.silent_from.as_deref().map(str::as_bytes))
            .maybe(self.examined_on.as_deref().map(str::as_bytes))
            .maybe(self.heard_on.as_deref().map(str::as_bytes))
            .number(self.session_count)
            .number(self.open_alert_count)
            .number(self.opened_ms)
            .number(self.changed_ms)
    }

    /// Takes over new dates and counts.
    pub(crate) fn set_summary(&mut self, summary: &Summary) {
        let text = |date: Option<jiff::civil::Date>| date.map(|date| date.to_string());
        self.status = summary.status.as_str().to_owned();
        self.due_on = text(summary.due_on);
        self.silent_from = text(summary.silent_from);
        self.examined_on = text(summary.examined_on);
        self.heard_on = text(summary.heard_on);
        self.session_count = summary.session_count.into();
        self.open_alert_count = summary.open_alert_count.into();
    }
}

/// Writes a new case and its key.
pub(crate) async fn insert(
    transaction: &mut Transaction,
    row: &CaseRow,
    reference_digest: Option<&[u8]>,
) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "INSERT INTO patient_case (patient_case_id, reference_digest, sealed_reference, sealed_personal, status, due_on, \
         silent_from, examined_on, heard_on, session_count, open_alert_count, entry_count, head_hash, head_seal, opened_ms, changed_ms) \
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16)"
    )
    .bind(row.patient_case_id)
    .bind(reference_digest)
    .bind(row.sealed_reference.as_deref())
    .bind(row.sealed_personal.as_deref())
    .bind(row.status.as_str())
    .bind(row.due_on.as_deref())
    .bind(row.silent_from.as_deref())
    .bind(row.examined_on.as_deref())
    .bind(row.heard_on.as_deref())
    .bind(row.session_count)
    .bind(row.open_alert_count)
    .bind(row.entry_count)
    .bind(row.head_hash.as_slice())
    .bind(row.head_seal.as_deref())
    .bind(row.opened_ms)
    .bind(row.changed_ms)
    .execute(connection))
    .attempted("open the case")?;
    on!(transaction, |connection| sqlx::query(
        "INSERT INTO case_key (patient_case_id, sealed_key) VALUES ($1, $2)"
    )
    .bind(row.patient_case_id)
    .bind(row.sealed_key.as_deref())
    .execute(connection))
    .attempted("open the case")
    .map(drop)
}

/// Writes head, dates, counts and personal fields as they are in `row`; the reference stays.
pub(crate) async fn update(transaction: &mut Transaction, row: &CaseRow) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "UPDATE patient_case SET sealed_personal = $2, status = $3, due_on = $4, silent_from = $5, examined_on = $6, \
         heard_on = $7, session_count = $8, open_alert_count = $9, entry_count = $10, head_hash = $11, head_seal = $12, \
         changed_ms = $13 WHERE patient_case_id = $1"
    )
    .bind(row.patient_case_id)
    .bind(row.sealed_personal.as_deref())
    .bind(row.status.as_str())
    .bind(row.due_on.as_deref())
    .bind(row.silent_from.as_deref())
    .bind(row.examined_on.as_deref())
    .bind(row.heard_on.as_deref())
    .bind(row.session_count)
    .bind(row.open_alert_count)
    .bind(row.entry_count)
    .bind(row.head_hash.as_slice())
    .bind(row.head_seal.as_deref())
    .bind(row.changed_ms)
    .execute(connection))
    .attempted("change the summary of the case")
    .map(drop)
}

/// Destroys the key and everything about the person; chain, ids and times stay.
pub(crate) async fn erase(
    transaction: &mut Transaction,
    case: CaseId,
    erased_ms: i64,
) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "DELETE FROM case_key WHERE patient_case_id = $1"
    )
    .bind(case.to_uuid())
    .execute(connection))
    .attempted("erase the case")?;
    on!(transaction, |connection| sqlx::query(
        "UPDATE patient_case SET reference_digest = NULL, sealed_reference = NULL, sealed_personal = NULL, \
         head_seal = NULL, status = 'erased', due_on = NULL, silent_from = NULL, examined_on = NULL, heard_on = NULL, \
         session_count = 0, open_alert_count = 0, erased_ms = $2 WHERE patient_case_id = $1"
    )
    .bind(case.to_uuid())
    .bind(erased_ms)
    .execute(connection))
    .attempted("erase the case")
    .map(drop)
}

/// One case.
pub(crate) async fn find(
    transaction: &mut Transaction,
    case: CaseId,
) -> Result<Option<CaseRow>, Error> {
    on!(transaction, |connection| sqlx::query_as(select_cases!(
        "WHERE c.patient_case_id = $1"
    ))
    .bind(case.to_uuid())
    .fetch_optional(connection))
    .attempted("look for the case")
}

/// Which of these cases there are, and whether each was erased.
pub(crate) async fn erased_of(
    transaction: &mut Transaction,
    cases: &[CaseId],
) -> Result<BTreeMap<CaseId, bool>, Error> {
    let mut found = BTreeMap::new();
    for some in cases.chunks(BOUND_AT_ONCE) {
        let rows: Vec<(Uuid, bool)> = on!(transaction, |connection| async {
            let mut query = QueryBuilder::new(
                "SELECT patient_case_id, erased_ms IS NOT NULL FROM patient_case WHERE patient_case_id IN (",
            );
            let mut list = query.separated(", ");
            for case in some {
                list.push_bind(case.to_uuid());
            }
            query
                .push(")")
                .build_query_as()
                .fetch_all(connection)
                .await
        })
        .attempted("look for the cases")?;
        found.extend(
            rows.into_iter()
                .map(|(id, erased)| (CaseId::stored(id), erased)),
        );
    }
    Ok(found)
}

/// The case with this keyed digest of its reference.
pub(crate) async fn find_by_reference(
    transaction: &mut Transaction,
    digest: &[u8],
) -> Result<Option<CaseId>, Error> {
    let found: Option<(Uuid,)> = on!(transaction, |connection| sqlx::query_as(
        "SELECT patient_case_id FROM patient_case WHERE reference_digest = $1"
    )
    .bind(digest)
    .fetch_optional(connection))
    .attempted("look for the case")?;
    Ok(found.map(|(id,)| CaseId::stored(id)))
}

/// A query with the values of a filter bound, in the order of the placeholders of [`listed`].
macro_rules! bind_filter {
    ($query:expr, $filter:expr) => {{
        let query = $query
            // The journal of the service has the least of all ids, so that it is never listed.
            .bind($filter.after.unwrap_or(CaseId::SERVICE).to_uuid())
            .bind($filter.joined_statuses())
            .bind($filter.with_erased)
            .bind($filter.limit.map_or(i64::MAX, i64::from));
        match $filter.attention {
            Attention::Any => query,
            Attention::NeededOn(date) | Attention::NotNeededOn(date) => {
                query.bind(date.to_string())
            }
        }
    }};
}

const fn queries_of(filter: &CaseFilter) -> (&'static str, &'static str) {
    match filter.attention {
        Attention::Any => ANY,
        Attention::NeededOn(_) => NEEDED,
        Attention::NotNeededOn(_) => NOT_NEEDED,
    }
}

/// The cases that a filter lets through: by urgency where they need a look, else in the order of opening.
pub(crate) async fn list(
    transaction: &mut Transaction,
    filter: &CaseFilter,
) -> Result<Vec<CaseRow>, Error> {
    let (sql, _) = queries_of(filter);
    on!(transaction, |connection| {
        bind_filter!(sqlx::query_as(sql), filter).fetch_all(connection)
    })
    .attempted("list the cases")
}

/// How many cases a filter lets through.
pub(crate) async fn count(
    transaction: &mut Transaction,
    filter: &CaseFilter,
) -> Result<u64, Error> {
    let (_, sql) = queries_of(filter);
    let (count,): (i64,) = on!(transaction, |connection| {
        bind_filter!(sqlx::query_as(sql), filter).fetch_one(connection)
    })
    .attempted("count the cases")?;
    stored_count(count)
}

/// Every case there is, the journal of the service included, in the order of ids.
pub(crate) async fn all(transaction: &mut Transaction) -> Result<Vec<CaseRow>, Error> {
    on!(transaction, |connection| sqlx::query_as(select_cases!(
        "ORDER BY c.patient_case_id"
    ))
    .fetch_all(connection))
    .attempted("list the cases")
}

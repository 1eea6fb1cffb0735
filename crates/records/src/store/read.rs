//! Reading journals, and who read them.

use std::collections::BTreeMap;

use crate::access::{AccessFilter, AccessRow, Reading};
use crate::chain::RecordId;
use crate::database::case_rows::{self, CaseRow};
use crate::database::journal_rows::{self, EntryRow};
use crate::database::{Transaction, access_rows};
use crate::error::Error;
use crate::identity::{CaseId, EntryId, UserId};
use crate::journal::Entry;
use crate::store::keys::CaseKey;
use crate::store::{Store, active_user, require};
use crate::user::Action;

/// How many cases [`Store::read_every_case`] takes at a time: few enough to stay small in memory.
const CASES_AT_A_TIME: usize = 200;

impl Store {
    /// All entries of a case in order, superseded ones too; the reading is in the access log before anything is opened.
    pub async fn entries(&self, case: CaseId, reading: &Reading) -> Result<Vec<Entry>, Error> {
        self.entries_from(case, 1, reading).await
    }

    /// The entries of a case from a position on, for a page that shows the rest already.
    pub async fn entries_from(
        &self,
        case: CaseId,
        position: u64,
        reading: &Reading,
    ) -> Result<Vec<Entry>, Error> {
        let (row, key) = self.note_reading(case, reading).await?;
        let mut transaction = self.shared.database.read("read the journal").await?;
        let from = i64::try_from(position).unwrap_or(i64::MAX);
        let rows = journal_rows::of_case(&mut transaction, row.case(), from).await?;
        open_entries(&self.keys.record, &key, rows)
    }

    /// Every case that is not erased with all its entries, in the order of opening, for a review of the whole caseload.
    ///
    /// The access log gets one row for all of it. `visit` may stop by returning `false`.
    pub async fn read_every_case(
        &self,
        reading: &Reading,
        mut visit: impl FnMut(CaseId, Vec<Entry>) -> bool,
    ) -> Result<(), Error> {
        let mut transaction = self
            .write_as(reading.by, Action::ReadCase, "note who reads")
            .await?;
        let at_ms = reading.at.as_millisecond();
        access_rows::insert(
            &mut transaction,
            at_ms,
            Some(reading.by),
            None,
            reading.what.as_str(),
        )
        .await?;
        transaction.commit("note who reads").await?;
        // One reading transaction, so that all cases are shown as they were at the same moment.
        let mut transaction = self.shared.database.read("read the journals").await?;
        let cases = case_rows::list(&mut transaction, &Default::default()).await?;
        for some in cases.chunks(CASES_AT_A_TIME) {
            let (Some(first), Some(last)) = (some.first(), some.last()) else {
                continue;
            };
            let rows = journal_rows::of_cases(&mut transaction, first.case(), last.case()).await?;
            let mut by_case: BTreeMap<CaseId, Vec<EntryRow>> = BTreeMap::new();
            for row in rows {
                by_case
                    .entry(CaseId::stored(row.patient_case_id))
                    .or_default()
                    .push(row);
            }
            for row in some {
                let rows = by_case.remove(&row.case()).unwrap_or_default();
                let entries = open_entries(&self.keys.record, &self.keys.case_key(row)?, rows)?;
                if !visit(row.case(), entries) {
                    return Ok(());
                }
            }
        }
        Ok(())
    }

    /// The entries of the journal of the service, for anyone who works with the record; not noted, it is about no patient.
    pub async fn service_entries(&self, by: UserId) -> Result<Vec<Entry>, Error> {
        let mut transaction = self
            .shared
            .database
            .read("read the journal of the service")
            .await?;
        active_user(&mut transaction, by).await?;
        let row = case_rows::find(&mut transaction, CaseId::SERVICE)
            .await?
            .ok_or(Error::NoSuchCase)?;
        let rows = journal_rows::of_case(&mut transaction, CaseId::SERVICE, 1).await?;
        open_entries(&self.keys.record, &self.keys.case_key(&row)?, rows)
    }

    /// Who opened what, newest first.
    pub async fn access_log(
        &self,
        by: UserId,
        filter: &AccessFilter,
    ) -> Result<Vec<AccessRow>, Error> {
        let mut transaction = self
            .read_as(by, Action::ReadAccessLog, "read the access log")
            .await?;
        access_rows::list(&mut transaction, filter).await
    }

    /// Notes that somebody opened something that was made from a case, such as a letter.
    pub async fn note_access(&self, case: CaseId, reading: &Reading) -> Result<(), Error> {
        self.note_reading(case, reading).await.map(drop)
    }

    /// Notes a reading and gives the key of the case; whoever may not read is refused and not noted.
    async fn note_reading(
        &self,
        case: CaseId,
        reading: &Reading,
    ) -> Result<(CaseRow, CaseKey), Error> {
        let mut transaction = self.shared.database.write("note who reads").await?;
        let row = readable_case(&mut transaction, case, reading.by).await?;
        let key = self.keys.case_key(&row)?;
        let at_ms = reading.at.as_millisecond();
        access_rows::insert(
            &mut transaction,
            at_ms,
            Some(reading.by),
            Some(case),
            reading.what.as_str(),
        )
        .await?;
        transaction.commit("note who reads").await?;
        Ok((row, key))
    }
}

/// A case of a patient, if this user may read it.
async fn readable_case(
    transaction: &mut Transaction,
    case: CaseId,
    by: UserId,
) -> Result<CaseRow, Error> {
    require(transaction, by, Action::ReadCase).await?;
    let row = case_rows::find(transaction, case).await?;
    row.filter(|row| row.case() != CaseId::SERVICE)
        .ok_or(Error::NoSuchCase)
}

/// Opens the bodies and says of each entry which one corrects it.
fn open_entries(
    record: &RecordId,
    key: &CaseKey,
    rows: Vec<EntryRow>,
) -> Result<Vec<Entry>, Error> {
    let corrections: BTreeMap<EntryId, EntryId> = rows
        .iter()
        .filter_map(|row| {
            Some((
                EntryId::stored(row.supersedes?),
                EntryId::stored(row.journal_entry_id),
            ))
        })
        .collect();
    rows.into_iter()
        .map(|row| {
            let body = key
                .open_body(&row.link(record), &row.sealed_body)
                .ok_or_else(|| Error::Tampered {
                    what: format!(
                        "Entry {} of case {}",
                        row.position,
                        CaseId::stored(row.patient_case_id)
                    ),
                })?;
            let superseded_by = corrections
                .get(&EntryId::stored(row.journal_entry_id))
                .copied();
            row.into_entry(body, superseded_by)
        })
        .collect()
}

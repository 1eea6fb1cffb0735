//! Reading journals, and who read them.

use std::collections::BTreeMap;

use crate::access::{AccessFilter, AccessRow, Reading};
use crate::case::CaseFilter;
use crate::chain::{Fault, RecordId};
use crate::database::Transaction;
use crate::database::access_rows::{self, Note};
use crate::database::case_rows::{self, CaseRow};
use crate::database::journal_rows::{self, EntryRow};
use crate::error::Error;
use crate::identity::{CaseId, EntryId, UserId};
use crate::journal::Entry;
use crate::store::check::{check_sealed, walk_chain};
use crate::store::keys::CaseKey;
use crate::store::{Store, active_user};
use crate::user::Action;

/// How many cases [`Store::read_every_case`] takes at a time: few enough to stay small in memory.
const CASES_AT_A_TIME: usize = 200;

impl Store {
    /// All entries of a case in order, superseded ones too; the reading is in the access log before anything is opened.
    ///
    /// Chain and seals are checked: a case in which anything was changed, moved or cut off is refused, not shown in part.
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
        self.note_access(case, reading).await?;
        let from = i64::try_from(position.max(1)).unwrap_or(i64::MAX);
        let mut transaction = self.shared.database.read("read the journal").await?;
        let row = case_rows::find(&mut transaction, case)
            .await?
            .ok_or(Error::NoSuchCase)?;
        let rows = journal_rows::of_case(&mut transaction, case, from).await?;
        open_entries(
            &self.keys.record,
            &self.keys.case_key(&row)?,
            &row,
            rows,
            from,
        )
    }

    /// What can still be read of a damaged case, and what is wrong with it: for a person to look at, not for a programme.
    pub async fn salvage_entries(
        &self,
        case: CaseId,
        reading: &Reading,
    ) -> Result<(Vec<Entry>, Vec<Fault>), Error> {
        self.note_access(case, reading).await?;
        let mut transaction = self.shared.database.read("read the journal").await?;
        let row = case_rows::find(&mut transaction, case)
            .await?
            .ok_or(Error::NoSuchCase)?;
        let rows = journal_rows::of_case(&mut transaction, case, i64::MIN).await?;
        let key = self.keys.case_key(&row)?;
        let mut faults = walk_chain(&self.keys.record, &row, &rows, 1);
        check_sealed(&self.keys, &row, &rows, &mut faults);
        let corrections = corrections_of(&rows);
        let entries = rows
            .into_iter()
            .filter_map(|row| open_entry(&self.keys.record, &key, row, &corrections).ok())
            .collect();
        Ok((entries, faults))
    }

    /// Every case that is not erased with all its entries, in the order of opening, for a review of the whole caseload.
    ///
    /// The access log gets one row for all of it. A damaged case comes as an error beside its id, so that one does not
    /// hide the others. `visit` may stop by returning `false`.
    pub async fn read_every_case(
        &self,
        reading: &Reading,
        mut visit: impl FnMut(CaseId, Result<Vec<Entry>, Error>) -> bool,
    ) -> Result<(), Error> {
        drop(
            self.read_as(reading.by, Action::ReadCase, "read the journals")
                .await?,
        );
        self.shared.write_notes(vec![note(None, reading)]).await?;
        // One reading transaction, so that all cases are shown as they were at the same moment.
        let mut transaction = self.shared.database.read("read the journals").await?;
        let cases = case_rows::list(&mut transaction, &CaseFilter::default()).await?;
        for some in cases.chunks(CASES_AT_A_TIME) {
            let mut by_case = entries_by_case(&mut transaction, some).await?;
            for row in some {
                let rows = by_case.remove(&row.case()).unwrap_or_default();
                let key = self.keys.case_key(row);
                let entries =
                    key.and_then(|key| open_entries(&self.keys.record, &key, row, rows, 1));
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
        open_entries(&self.keys.record, &self.keys.case_key(&row)?, &row, rows, 1)
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

    /// Notes that somebody opens a case or something made from it, such as a letter; who may not read is refused and
    /// not noted.
    pub async fn note_access(&self, case: CaseId, reading: &Reading) -> Result<(), Error> {
        self.note_accesses(&[case], reading).await
    }

    /// The same for something that is made from several cases; where one of them may not be read, none is noted.
    pub async fn note_accesses(&self, cases: &[CaseId], reading: &Reading) -> Result<(), Error> {
        if cases.is_empty() {
            return Ok(());
        }
        let mut transaction = self
            .read_as(reading.by, Action::ReadCase, "look for the case")
            .await?;
        let found = case_rows::erased_of(&mut transaction, cases).await?;
        drop(transaction);
        for case in cases {
            match found.get(case).filter(|_| *case != CaseId::SERVICE) {
                Some(false) => {}
                Some(true) => return Err(Error::CaseErased),
                None => return Err(Error::NoSuchCase),
            }
        }
        let notes = cases.iter().map(|case| note(Some(*case), reading));
        self.shared.write_notes(notes.collect()).await
    }
}

fn note(case: Option<CaseId>, reading: &Reading) -> Note {
    Note {
        at: reading.at,
        by: Some(reading.by),
        case,
        what: reading.what.as_str().to_owned(),
    }
}

/// The entries of neighbouring cases, sorted by case.
async fn entries_by_case(
    transaction: &mut Transaction,
    cases: &[CaseRow],
) -> Result<BTreeMap<CaseId, Vec<EntryRow>>, Error> {
    let mut by_case: BTreeMap<CaseId, Vec<EntryRow>> = BTreeMap::new();
    if let (Some(first), Some(last)) = (cases.first(), cases.last()) {
        for row in journal_rows::of_cases(transaction, first.case(), last.case()).await? {
            by_case
                .entry(CaseId::stored(row.patient_case_id))
                .or_default()
                .push(row);
        }
    }
    Ok(by_case)
}

/// Opens the bodies from a position on, if chain and seals fit, and says of each entry which one corrects it.
fn open_entries(
    record: &RecordId,
    key: &CaseKey,
    row: &CaseRow,
    rows: Vec<EntryRow>,
    from: i64,
) -> Result<Vec<Entry>, Error> {
    key.check_head(row)?;
    if let Some(fault) = walk_chain(record, row, &rows, from).first() {
        return Err(Error::Tampered {
            what: format!("The journal ({fault})"),
        });
    }
    let corrections = corrections_of(&rows);
    rows.into_iter()
        .map(|row| open_entry(record, key, row, &corrections))
        .collect()
}

/// Which entry is corrected by which.
fn corrections_of(rows: &[EntryRow]) -> BTreeMap<EntryId, EntryId> {
    let pair = |row: &EntryRow| {
        Some((
            EntryId::stored(row.supersedes?),
            EntryId::stored(row.journal_entry_id),
        ))
    };
    rows.iter().filter_map(pair).collect()
}

fn open_entry(
    record: &RecordId,
    key: &CaseKey,
    row: EntryRow,
    corrections: &BTreeMap<EntryId, EntryId>,
) -> Result<Entry, Error> {
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
}

//! Opening, finding and listing cases.

use jiff::Timestamp;

use crate::case::{CaseFilter, CaseListing, NewCase, Personal, Summary};
use crate::chain::{CaseHead, FaultKind, RecordHead};
use crate::database::case_rows::{self, CaseRow};
use crate::database::{journal_rows, stored_count, stored_time};
use crate::error::Error;
use crate::identity::{CaseId, UserId};
use crate::store::Store;
use crate::store::append::OpenJournal;
use crate::store::keys::{CaseKey, Keyring};
use crate::user::Action;

impl Store {
    /// Opens a case with its first entries, all in one transaction.
    ///
    /// A reference that is in use is refused, unless the case was opened by an earlier attempt of the same call (its
    /// first entry has the id of the first one given): then that case is returned.
    pub async fn open_case(
        &self,
        author: UserId,
        new: NewCase,
        now: Timestamp,
    ) -> Result<CaseId, Error> {
        let reference = new.checked_reference()?;
        let digest = self.keys.reference_digest(reference);
        let mut transaction = self
            .write_as(author, Action::AddToCase, "open the case")
            .await?;
        if let Some(case) = case_rows::find_by_reference(&mut transaction, &digest).await? {
            let first = match new.entries.first() {
                Some(first) => journal_rows::find(&mut transaction, first.id).await?,
                None => None,
            };
            return match first {
                Some(first) if first.patient_case_id == case.to_uuid() => Ok(case),
                _ => Err(Error::ReferenceTaken { case }),
            };
        }
        let case = CaseId::generate(now)?;
        let (row, key) = new_row(&self.keys, case, &new, now)?;
        case_rows::insert(&mut transaction, &row, Some(&digest)).await?;
        let mut journal = OpenJournal {
            transaction: &mut transaction,
            record: &self.keys.record,
            row,
            key,
            author,
            now,
        };
        for draft in &new.entries {
            journal.add(draft).await?;
        }
        transaction.commit("open the case").await?;
        Ok(case)
    }

    /// The case with this reference (the id in its case file), if there is one that is not erased.
    pub async fn find_case(&self, by: UserId, reference: &str) -> Result<Option<CaseId>, Error> {
        let mut transaction = self
            .read_as(by, Action::ReadCase, "look for the case")
            .await?;
        case_rows::find_by_reference(&mut transaction, &self.keys.reference_digest(reference)).await
    }

    /// The reference of a case (the id in its case file).
    pub async fn reference(&self, by: UserId, case: CaseId) -> Result<String, Error> {
        let mut transaction = self
            .read_as(by, Action::ReadCase, "look for the case")
            .await?;
        let row = listed_row(case_rows::find(&mut transaction, case).await?)?;
        let sealed = row.sealed_reference.as_deref().ok_or(Error::CaseErased)?;
        let opened = self.keys.case_key(&row)?.open_reference(sealed);
        opened.ok_or_else(|| Error::Tampered {
            what: format!("The reference of case {case}"),
        })
    }

    /// The cases that a filter lets through, with what lists show of each: by urgency where they need a look, else in
    /// the order of opening.
    ///
    /// A list is not noted in the access log; opening a case is ([`Store::entries`]).
    pub async fn list_cases(
        &self,
        by: UserId,
        filter: &CaseFilter,
    ) -> Result<Vec<CaseListing>, Error> {
        let mut transaction = self.read_as(by, Action::ReadCase, "list the cases").await?;
        let rows = case_rows::list(&mut transaction, filter).await?;
        rows.iter().map(|row| self.listing(row)).collect()
    }

    /// How many cases a filter lets through; its limit is the most that are counted.
    pub async fn count_cases(&self, by: UserId, filter: &CaseFilter) -> Result<u64, Error> {
        let mut transaction = self
            .read_as(by, Action::ReadCase, "count the cases")
            .await?;
        case_rows::count(&mut transaction, filter).await
    }

    /// Several lists as they stood at the same moment: of each the cases that its filter lets through, and how many
    /// there are without its limit, counted up to another one.
    pub async fn lists_of_cases(
        &self,
        by: UserId,
        wanted: &[(CaseFilter, Option<u32>)],
    ) -> Result<Vec<(Vec<CaseListing>, u64)>, Error> {
        let mut transaction = self.read_as(by, Action::ReadCase, "list the cases").await?;
        let mut lists = Vec::with_capacity(wanted.len());
        for (filter, most_counted) in wanted {
            let rows = case_rows::list(&mut transaction, filter).await?;
            let counted = CaseFilter {
                limit: *most_counted,
                ..filter.clone()
            };
            let count = case_rows::count(&mut transaction, &counted).await?;
            let listed: Result<_, Error> = rows.iter().map(|row| self.listing(row)).collect();
            lists.push((listed?, count));
        }
        Ok(lists)
    }

    /// One case as a list shows it.
    pub async fn case(&self, by: UserId, case: CaseId) -> Result<CaseListing, Error> {
        let mut transaction = self
            .read_as(by, Action::ReadCase, "look for the case")
            .await?;
        self.listing(&listed_row(case_rows::find(&mut transaction, case).await?)?)
    }

    /// Replaces what lists need of a case without adding an entry: for working it out anew from the same journal.
    ///
    /// `entry_count` is how many entries it was worked out from; if there are more by now, it is a conflict.
    pub async fn replace_summary(
        &self,
        by: UserId,
        case: CaseId,
        entry_count: u64,
        summary: &Summary,
        personal: &Personal,
    ) -> Result<(), Error> {
        let mut transaction = self
            .write_as(by, Action::AddToCase, "change the summary of the case")
            .await?;
        let mut row = listed_row(case_rows::find(&mut transaction, case).await?)?;
        let found = stored_count(row.entry_count)?;
        if found != entry_count {
            return Err(Error::Conflict {
                expected: entry_count + 1,
                found: found + 1,
            });
        }
        let key = self.keys.case_key(&row)?;
        key.check_head(&row)?;
        row.sealed_personal = Some(key.seal_personal(personal)?);
        row.set_summary(summary);
        key.seal_head(&mut row);
        case_rows::update(&mut transaction, &row).await?;
        transaction.commit("change the summary of the case").await
    }

    /// The head of the chain of one case, for signing or printing.
    pub async fn case_head(&self, case: CaseId) -> Result<CaseHead, Error> {
        let mut transaction = self.shared.database.read("look for the case").await?;
        case_rows::find(&mut transaction, case)
            .await?
            .ok_or(Error::NoSuchCase)?
            .head()
    }

    /// One digest over the heads of all cases, for printing or keeping outside.
    pub async fn head(&self) -> Result<RecordHead, Error> {
        let mut transaction = self.shared.database.read("look at all cases").await?;
        let rows = case_rows::all(&mut transaction).await?;
        let heads = rows
            .iter()
            .map(CaseRow::head)
            .collect::<Result<Vec<_>, _>>()?;
        Ok(RecordHead::of(&self.keys.record, &heads))
    }

    fn listing(&self, row: &CaseRow) -> Result<CaseListing, Error> {
        // One damaged case must not hide the others: what is wrong with it stands beside it.
        let (personal, fault) = match self.keys.case_key(row) {
            Err(Error::CaseErased) => (None, None),
            Err(_) => (None, Some(FaultKind::DoesNotOpen { what: "its key" })),
            Ok(key) => {
                let personal = row
                    .sealed_personal
                    .as_deref()
                    .and_then(|sealed| key.open_personal(sealed));
                let fault = match &personal {
                    None => Some(FaultKind::DoesNotOpen { what: "its name" }),
                    Some(_) => (!key.head_fits(row)).then_some(FaultKind::HeadSealWrong),
                };
                (personal, fault)
            }
        };
        Ok(CaseListing {
            case: row.case(),
            summary: row.summary(),
            personal,
            entry_count: stored_count(row.entry_count)?,
            opened: stored_time(row.opened_ms)?,
            changed: stored_time(row.changed_ms)?,
            erased: row.erased_ms.map(stored_time).transpose()?,
            fault,
        })
    }
}

/// A case of a patient: the journal of the service is none.
fn listed_row(row: Option<CaseRow>) -> Result<CaseRow, Error> {
    row.filter(|row| row.case() != CaseId::SERVICE)
        .ok_or(Error::NoSuchCase)
}

/// The row and key of a case that has no entry yet.
fn new_row(
    keys: &Keyring,
    case: CaseId,
    new: &NewCase,
    now: Timestamp,
) -> Result<(CaseRow, CaseKey), Error> {
    let made = keys.new_case_key(case)?;
    let mut row = CaseRow::new(&keys.record, case, made.sealed, now.as_millisecond());
    row.sealed_reference = Some(made.key.seal_reference(&new.reference)?);
    row.sealed_personal = Some(made.key.seal_personal(&new.personal)?);
    row.set_summary(&new.summary);
    made.key.seal_head(&mut row);
    Ok((row, made.key))
}

//! Adding to a journal.

use jiff::Timestamp;

use crate::chain::RecordId;
use crate::database::case_rows::{self, CaseRow};
use crate::database::journal_rows::{self, EntryRow};
use crate::database::{Transaction, stored_count, stored_digest, stored_time};
use crate::error::Error;
use crate::identity::{CaseId, EntryId, UserId};
use crate::journal::{Appended, Draft, digests_to_text};
use crate::store::Store;
use crate::store::keys::CaseKey;
use crate::user::Action;

impl Store {
    /// Adds one entry to a case (or to the journal of the service, [`CaseId::SERVICE`]).
    ///
    /// After `Ok` the entry is on the disk. The same draft given twice is one entry, and the second call says so. An id
    /// that is used for something else, a position other than expected, and an erased case are refused.
    pub async fn append(
        &self,
        case: CaseId,
        author: UserId,
        draft: Draft,
        now: Timestamp,
    ) -> Result<Appended, Error> {
        let appended = self.append_all(case, author, vec![draft], now).await?;
        Ok(*appended.last().expect("one draft gives one entry"))
    }

    /// Adds several entries in one transaction: all of them or none.
    pub async fn append_all(
        &self,
        case: CaseId,
        author: UserId,
        drafts: Vec<Draft>,
        now: Timestamp,
    ) -> Result<Vec<Appended>, Error> {
        let action = if case == CaseId::SERVICE {
            Action::AddToService
        } else {
            Action::AddToCase
        };
        let mut transaction = self.write_as(author, action, "add to the case").await?;
        let row = case_rows::find(&mut transaction, case)
            .await?
            .ok_or(Error::NoSuchCase)?;
        let key = self.keys.case_key(&row)?;
        // Adding would seal the head anew, and so make a changed case look right.
        key.check_head(&row)?;
        let mut journal = OpenJournal {
            transaction: &mut transaction,
            record: &self.keys.record,
            row,
            key,
            author,
            now,
        };
        let mut appended = Vec::with_capacity(drafts.len());
        for draft in &drafts {
            appended.push(journal.add(draft).await?);
        }
        transaction.commit("add to the case").await?;
        Ok(appended)
    }
}

/// The journal of one case inside a writing transaction.
pub(crate) struct OpenJournal<'a> {
    pub(crate) transaction: &'a mut Transaction,
    pub(crate) record: &'a RecordId,
    pub(crate) row: CaseRow,
    pub(crate) key: CaseKey,
    pub(crate) author: UserId,
    pub(crate) now: Timestamp,
}

impl OpenJournal<'_> {
    /// Adds one entry and what it changes in the summary, unless the entry is there already.
    pub(crate) async fn add(&mut self, draft: &Draft) -> Result<Appended, Error> {
        draft.check_size()?;
        if let Some(there) = journal_rows::find(self.transaction, draft.id).await? {
            return self.recognise(draft, &there);
        }
        let position = self.row.entry_count + 1;
        let found = stored_count(position)?;
        if let Some(expected) = draft
            .expected_position
            .filter(|expected| *expected != found)
        {
            return Err(Error::Conflict { expected, found });
        }
        if let Some(superseded) = draft.supersedes {
            self.check_superseded(superseded).await?;
        }
        let entry = self.seal(draft, position)?;
        journal_rows::insert(self.transaction, &entry).await?;
        self.move_head(draft, &entry).await?;
        Ok(Appended {
            id: draft.id,
            position: found,
            recorded: stored_time(entry.recorded_ms)?,
            hash: stored_digest(&entry.hash)?,
            was_there: false,
        })
    }

    /// The entry that was added by an earlier attempt, if it is the same.
    fn recognise(&self, draft: &Draft, there: &EntryRow) -> Result<Appended, Error> {
        let same = there.patient_case_id == self.row.patient_case_id
            && there.kind == draft.kind.as_str()
            && there.effective_at == draft.effective.to_string()
            && there.supersedes == draft.supersedes.map(EntryId::to_uuid)
            && there.plan_digests == digests_to_text(&draft.plan_digests)
            && self
                .key
                .open_body(&there.link(self.record), &there.sealed_body)
                .as_ref()
                == Some(&draft.body);
        if !same {
            return Err(Error::EntryIdTaken { id: draft.id });
        }
        Ok(Appended {
            id: draft.id,
            position: stored_count(there.position)?,
            recorded: stored_time(there.recorded_ms)?,
            hash: stored_digest(&there.hash)?,
            was_there: true,
        })
    }

    /// Refuses to correct what is not in this case or was corrected already.
    async fn check_superseded(&mut self, superseded: EntryId) -> Result<(), Error> {
        let there = journal_rows::find(self.transaction, superseded).await?;
        if there.is_none_or(|there| there.patient_case_id != self.row.patient_case_id) {
            return Err(Error::SupersedesUnknown);
        }
        match journal_rows::find_superseding(self.transaction, superseded).await? {
            Some(by) => Err(Error::AlreadySuperseded { by }),
            None => Ok(()),
        }
    }

    /// The entry with its sealed body and its hash.
    fn seal(&self, draft: &Draft, position: i64) -> Result<EntryRow, Error> {
        let mut entry = EntryRow {
            journal_entry_id: draft.id.to_uuid(),
            patient_case_id: self.row.patient_case_id,
            position,
            kind: draft.kind.as_str().to_owned(),
            effective_at: draft.effective.to_string(),
            recorded_ms: self.now.as_millisecond(),
            app_user_id: self.author.to_uuid(),
            supersedes: draft.supersedes.map(EntryId::to_uuid),
            plan_digests: digests_to_text(&draft.plan_digests),
            sealed_body: Vec::new(),
            hash_before: self.row.head_hash.clone(),
            hash: Vec::new(),
        };
        entry.sealed_body = self.key.seal_body(&entry.link(self.record), &draft.body)?;
        entry.hash = entry
            .link(self.record)
            .hash(&entry.sealed_body)
            .as_bytes()
            .to_vec();
        Ok(entry)
    }

    /// Moves the head of the case to the new entry, with the summary and personal fields that come with it.
    async fn move_head(&mut self, draft: &Draft, entry: &EntryRow) -> Result<(), Error> {
        self.row.entry_count = entry.position;
        self.row.head_hash = entry.hash.clone();
        self.row.changed_ms = entry.recorded_ms;
        if let Some(summary) = &draft.summary {
            self.row.set_summary(summary);
        }
        if let Some(personal) = &draft.personal {
            self.row.sealed_personal = Some(self.key.seal_personal(personal)?);
        }
        self.key.seal_head(&mut self.row);
        case_rows::update(self.transaction, &self.row).await
    }
}

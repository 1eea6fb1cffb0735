//! Erasing a case: its key is destroyed, its chain stays.

use jiff::Timestamp;
use jiff::civil::DateTime;

use crate::database::case_rows;
use crate::error::Error;
use crate::identity::{CaseId, EntryId, UserId, Word};
use crate::journal::Draft;
use crate::store::Store;
use crate::store::append::OpenJournal;
use crate::user::Action;

/// The kind of the last entry of an erased case.
pub(crate) const ERASED: &str = "erased";

/// What an erasure did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Erased {
    /// How many entries can no longer be read, the last one ("erased") included.
    pub entries: u64,
    /// Whether the destroyed key is gone from the database's log too. If somebody was reading meanwhile it is gone
    /// with the next erasure or when the server stops.
    pub log_cleared: bool,
}

impl Store {
    /// Destroys the key of a case and everything that lists show of the person. There is no way back.
    ///
    /// A last entry of kind "erased" says who did it and when (`effective` is the local time). Backups made before still
    /// hold the key: they have to be destroyed too.
    pub async fn erase_case(
        &self,
        by: UserId,
        case: CaseId,
        effective: DateTime,
        now: Timestamp,
    ) -> Result<Erased, Error> {
        if case == CaseId::SERVICE {
            return Err(Error::unsuitable(
                "The erasure",
                "the journal of the service is about no patient and stays",
            ));
        }
        let mut transaction = self
            .write_as(by, Action::EraseCase, "erase the case")
            .await?;
        let row = case_rows::find(&mut transaction, case)
            .await?
            .ok_or(Error::NoSuchCase)?;
        let key = self.keys.case_key(&row)?;
        let last = Draft::new(
            EntryId::generate(now)?,
            Word::stored(ERASED.to_owned()),
            effective,
            Vec::new(),
        );
        let mut journal = OpenJournal {
            transaction: &mut transaction,
            record: &self.keys.record,
            row,
            key,
            author: by,
            now,
        };
        let appended = journal.add(&last).await?;
        case_rows::erase(&mut transaction, case, now.as_millisecond()).await?;
        transaction.commit("erase the case").await?;
        let log_cleared = self.shared.database.clear_remains().await?;
        Ok(Erased {
            entries: appended.position,
            log_cleared,
        })
    }
}

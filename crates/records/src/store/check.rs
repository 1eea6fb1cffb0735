//! Verifying a record: its chains without any key, its sealed values with the keys.

use crate::chain::{Fault, FaultKind, RecordHead, RecordId, Verification, first_hash};
use crate::database::case_rows::{self, CaseRow};
use crate::database::journal_rows::{self, EntryRow};
use crate::database::{Transaction, migrate, sqlite, stored_count};
use crate::error::Error;
use crate::identity::CaseId;
use crate::store::erase::ERASED;
use crate::store::keys::Keyring;
use crate::store::{LockedStore, Store};

impl LockedStore {
    /// Verifies file, tables and the chains of all cases, without any key.
    pub async fn verify(&self) -> Result<Verification, Error> {
        let mut transaction = self.shared.database.read("verify the record").await?;
        verify_chains(&mut transaction, &self.shared.record).await
    }
}

impl Store {
    /// Verifies with the keys too: every sealed value opens at its place, every head has its seal.
    pub async fn verify_sealed(&self) -> Result<Verification, Error> {
        let mut transaction = self.shared.database.read("verify the record").await?;
        let mut verification = verify_chains(&mut transaction, &self.keys.record).await?;
        for row in case_rows::all(&mut transaction)
            .await?
            .iter()
            .filter(|row| row.erased_ms.is_none())
        {
            let entries = journal_rows::of_case(&mut transaction, row.case(), i64::MIN).await?;
            check_sealed(&self.keys, row, &entries, &mut verification.faults);
        }
        Ok(verification)
    }
}

/// Whether everything sealed of a case opens at its place, and its seal fits.
pub(crate) fn check_sealed(
    keys: &Keyring,
    row: &CaseRow,
    entries: &[EntryRow],
    faults: &mut Vec<Fault>,
) {
    let mut fault = |position, kind| {
        faults.push(Fault {
            case: Some(row.case()),
            position,
            kind,
        })
    };
    let Ok(key) = keys.case_key(row) else {
        return fault(None, FaultKind::DoesNotOpen { what: "its key" });
    };
    if !key.head_fits(row) {
        fault(None, FaultKind::HeadSealWrong);
    }
    // Every case of a patient has both; only the journal of the service has neither.
    let is_case = row.case() != CaseId::SERVICE;
    if is_case
        && row
            .sealed_personal
            .as_deref()
            .and_then(|sealed| key.open_personal(sealed))
            .is_none()
    {
        fault(None, FaultKind::DoesNotOpen { what: "its name" });
    }
    if is_case
        && row
            .sealed_reference
            .as_deref()
            .and_then(|sealed| key.open_reference(sealed))
            .is_none()
    {
        fault(
            None,
            FaultKind::DoesNotOpen {
                what: "its reference",
            },
        );
    }
    for entry in entries {
        if key
            .open_body(&entry.link(&keys.record), &entry.sealed_body)
            .is_none()
        {
            fault(
                position_of(entry),
                FaultKind::DoesNotOpen { what: "its body" },
            );
        }
    }
}

/// Everything that can be verified without keys.
pub(crate) async fn verify_chains(
    transaction: &mut Transaction,
    record: &RecordId,
) -> Result<Verification, Error> {
    let mut faults: Vec<Fault> = Vec::new();
    let mut about_file = |kind| {
        faults.push(Fault {
            case: None,
            position: None,
            kind,
        })
    };
    if let Some(what) = sqlite::schema_difference(transaction, migrate::NEWEST).await? {
        about_file(FaultKind::SchemaChanged { what });
    }
    for what in sqlite::storage_faults(transaction).await? {
        about_file(FaultKind::FileDamaged { what });
    }
    let rows = case_rows::all(transaction).await?;
    let mut heads = Vec::with_capacity(rows.len());
    let mut seen = 0;
    for row in &rows {
        let entries = journal_rows::of_case(transaction, row.case(), i64::MIN).await?;
        seen += entries.len() as u64;
        faults.append(&mut walk_chain(record, row, &entries, 1));
        faults.extend(check_erasure(row, &entries));
        heads.push(row.head()?);
    }
    let orphans = journal_rows::count(transaction).await?.saturating_sub(seen);
    if orphans > 0 {
        faults.push(Fault {
            case: None,
            position: None,
            kind: FaultKind::Orphans { count: orphans },
        });
    }
    let erased = rows.iter().filter(|row| row.erased_ms.is_some()).count() as u64;
    Ok(Verification {
        head: RecordHead::of(record, &heads),
        erased,
        faults,
    })
}

/// A case that counts as erased has no key and says at its end who erased it.
fn check_erasure(row: &CaseRow, entries: &[EntryRow]) -> Option<Fault> {
    let said = entries.last().is_some_and(|last| last.kind == ERASED);
    let wrong = row.erased_ms.is_some() && (row.sealed_key.is_some() || !said);
    wrong.then_some(Fault {
        case: Some(row.case()),
        position: None,
        kind: FaultKind::ErasureWrong,
    })
}

/// Walks the chain of a case from a position to its head.
pub(crate) fn walk_chain(
    record: &RecordId,
    row: &CaseRow,
    entries: &[EntryRow],
    from: i64,
) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut fault = |position, kind| {
        faults.push(Fault {
            case: Some(row.case()),
            position,
            kind,
        })
    };
    // What lies before a later position is not looked at here.
    let mut before = match entries.first() {
        Some(first) if from > 1 => first.hash_before.clone(),
        _ => first_hash(record, row.case()).as_bytes().to_vec(),
    };
    for (expected, entry) in (from.unsigned_abs()..).zip(entries) {
        if position_of(entry) != Some(expected) {
            fault(position_of(entry), FaultKind::PositionWrong { expected });
        }
        if entry.hash_before != before {
            fault(position_of(entry), FaultKind::ChainBroken);
        }
        let hash = entry.link(record).hash(&entry.sealed_body);
        if entry.hash != hash.as_bytes() {
            fault(position_of(entry), FaultKind::HashWrong);
        }
        before = hash.as_bytes().to_vec();
    }
    let count = i64::try_from(entries.len()).unwrap_or(i64::MAX);
    let expected = row.entry_count.saturating_sub(from - 1).max(0);
    let at_head = row.head_hash == before || (count == 0 && from > 1);
    if count != expected || !at_head {
        fault(None, FaultKind::HeadWrong);
    }
    faults
}

fn position_of(entry: &EntryRow) -> Option<u64> {
    stored_count(entry.position).ok()
}

#[cfg(test)]
mod tests;

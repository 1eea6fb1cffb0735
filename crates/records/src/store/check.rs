//! Verifying a record: its chains without any key, its sealed values with the keys.

use crate::chain::{CaseHead, Fault, FaultKind, RecordHead, RecordId, Verification, first_hash};
use crate::database::case_rows::{self, CaseRow};
use crate::database::journal_rows::{self, EntryRow};
use crate::database::{Transaction, migrate, sqlite, stored_count};
use crate::digest::Digest;
use crate::error::Error;
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
            self.check_sealed(row, &entries, &mut verification.faults);
        }
        Ok(verification)
    }

    fn check_sealed(&self, row: &CaseRow, entries: &[EntryRow], faults: &mut Vec<Fault>) {
        let mut fault = |position, kind| {
            faults.push(Fault {
                case: Some(row.case()),
                position,
                kind,
            })
        };
        let Ok(key) = self.keys.case_key(row) else {
            return fault(None, FaultKind::DoesNotOpen { what: "its key" });
        };
        if row.head_seal != Some(key.head_seal(row.entry_count, &row.head_hash)) {
            fault(None, FaultKind::HeadSealWrong);
        }
        if row
            .sealed_personal
            .as_deref()
            .is_some_and(|sealed| key.open_personal(sealed).is_none())
        {
            fault(None, FaultKind::DoesNotOpen { what: "its name" });
        }
        if row
            .sealed_reference
            .as_deref()
            .is_some_and(|sealed| key.open_reference(sealed).is_none())
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
                .open_body(&entry.link(&self.keys.record), &entry.sealed_body)
                .is_none()
            {
                fault(
                    position_of(entry),
                    FaultKind::DoesNotOpen { what: "its body" },
                );
            }
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
        heads.push(verify_case(record, row, &entries, &mut faults)?);
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

/// Walks the chain of one case and gives its head as the case names it.
fn verify_case(
    record: &RecordId,
    row: &CaseRow,
    entries: &[EntryRow],
    faults: &mut Vec<Fault>,
) -> Result<CaseHead, Error> {
    let case = row.case();
    let mut fault = |position, kind| {
        faults.push(Fault {
            case: Some(case),
            position,
            kind,
        })
    };
    let mut before: Digest = first_hash(record, case);
    for (expected, entry) in (1_u64..).zip(entries) {
        if position_of(entry) != Some(expected) {
            fault(position_of(entry), FaultKind::PositionWrong { expected });
        }
        if entry.hash_before != before.as_bytes() {
            fault(position_of(entry), FaultKind::ChainBroken);
        }
        let hash = entry.link(record).hash(&entry.sealed_body);
        if entry.hash != hash.as_bytes() {
            fault(position_of(entry), FaultKind::HashWrong);
        }
        before = hash;
    }
    if row.entry_count != i64::try_from(entries.len()).unwrap_or(i64::MAX)
        || row.head_hash != before.as_bytes()
    {
        fault(None, FaultKind::HeadWrong);
    }
    row.head()
}

fn position_of(entry: &EntryRow) -> Option<u64> {
    stored_count(entry.position).ok()
}

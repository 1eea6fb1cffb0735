//! Digests of everything a plan is made from, so that a signed plan tells what it rests on.

use crate::journal::stored_stages;
use crate::tree::{self, Notation, Table};
use crate::{case, embedded, service};
use rehab::assessment::Case;
use rehab::course::Digests;
use rehab::programme::Stage;
use rehab::service::Service;
use sha2::{Digest as _, Sha256};

/// Digests of a case, the settings, the exercises that the program carries with a service's own (name and text), and
/// the version of the program. Each is the SHA-256 of the written form, in hexadecimal.
pub fn digests(case: &Case, service: &Service, own_exercises: &[(String, String)]) -> Digests {
    Digests {
        case: of_table(&case::to_table(case)),
        service: of_table(&service::to_table(service)),
        exercises: of_exercises(own_exercises),
        program: env!("CARGO_PKG_VERSION").to_owned(),
    }
}

/// Digest of rungs as they are stored with a signature: whether what is signed is what was seen.
pub fn digest_of(stages: &[Stage]) -> String {
    hexadecimal(Sha256::digest(stored_stages(stages)))
}

fn of_table(table: &Table) -> String {
    hexadecimal(Sha256::digest(tree::write(table, Notation::Json)))
}

fn of_exercises(own: &[(String, String)]) -> String {
    let mut all: Vec<(&str, &str)> = embedded::EXERCISES.to_vec();
    all.extend(
        own.iter()
            .map(|(name, text)| (name.as_str(), text.as_str())),
    );
    // The order of files changes nothing.
    all.sort_unstable();
    let mut hash = Sha256::new();
    for (name, text) in all {
        for part in [name, text] {
            // With its length before it, no part can be cut differently into the same bytes.
            hash.update((part.len() as u64).to_le_bytes());
            hash.update(part);
        }
    }
    hexadecimal(hash.finalize())
}

fn hexadecimal(bytes: impl AsRef<[u8]>) -> String {
    bytes
        .as_ref()
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use rehab::assessment::CaseId;

    #[test]
    fn a_change_anywhere_changes_its_digest_and_no_other() {
        let case = Case::unknown(CaseId("fenwick-1951".to_owned()));
        let service = Service::cautious();
        let before = digests(&case, &service, &[]);
        assert_eq!(before, digests(&case, &service, &[]));
        assert_eq!(before.case.len(), 64);
        let mut other = case.clone();
        other.heart.ejection_fraction_pct = Some(40.0);
        let mut margin = service.clone();
        margin.icd_margin_bpm = 10.0;
        let own = [("own.toml".to_owned(), "id = \"x\"".to_owned())];
        let after = digests(&other, &margin, &own);
        assert_ne!(after.case, before.case);
        assert_ne!(after.service, before.service);
        assert_ne!(after.exercises, before.exercises);
        assert_eq!(digests(&other, &service, &[]).service, before.service);
    }
}

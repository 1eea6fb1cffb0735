//! Entries of a journal: what is given to be added, and what is read back.

use jiff::Timestamp;
use jiff::civil::DateTime;

use crate::case::{Personal, Summary};
use crate::digest::Digest;
use crate::error::Error;
use crate::identity::{CaseId, EntryId, UserId, Word};

/// The longest body in bytes (16 MiB). Photographs are attachments, not bodies.
pub(crate) const LONGEST_BODY: usize = 16 << 20;

/// An entry to be added.
#[derive(Clone)]
pub struct Draft {
    /// The id, made by the caller before the first attempt, so that an attempt can be repeated.
    pub id: EntryId,
    /// What kind of entry it is; stays in clear.
    pub kind: Word,
    /// When it was true or done, in the local time of the service.
    pub effective: DateTime,
    /// What it says; sealed.
    pub body: Vec<u8>,
    /// The entry of the same case that this one corrects.
    pub supersedes: Option<EntryId>,
    /// Digests of what a signed plan was made from; stay in clear.
    pub plan_digests: Vec<NamedDigest>,
    /// The position that the caller expects it to get; another one is a conflict and nothing is written.
    pub expected_position: Option<u64>,
    /// The dates and counts of the case after this entry, if they change.
    pub summary: Option<Summary>,
    /// What lists show of the person after this entry, if it changes.
    pub personal: Option<Personal>,
}

impl Draft {
    /// An entry that changes no summary, corrects nothing and expects no position.
    pub fn new(id: EntryId, kind: Word, effective: DateTime, body: Vec<u8>) -> Draft {
        Draft {
            id,
            kind,
            effective,
            body,
            supersedes: None,
            plan_digests: Vec::new(),
            expected_position: None,
            summary: None,
            personal: None,
        }
    }

    /// Refuses a body that is too long.
    pub(crate) fn check_size(&self) -> Result<(), Error> {
        if self.body.len() > LONGEST_BODY {
            return Err(Error::unsuitable("The entry", "it is longer than 16 MiB"));
        }
        Ok(())
    }
}

impl std::fmt::Debug for Draft {
    /// Leaves the body out, so that nothing about a patient gets into a log.
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            out,
            "Draft({} {:?}, {} bytes)",
            self.id,
            self.kind,
            self.body.len()
        )
    }
}

/// A digest with the name of what it was taken from ("service", "exercises" ...).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NamedDigest {
    /// What it was taken from.
    pub name: Word,
    /// The digest.
    pub digest: Digest,
}

/// One line each: name, blank, hexadecimal digits.
pub(crate) fn digests_to_text(digests: &[NamedDigest]) -> String {
    digests
        .iter()
        .map(|named| format!("{} {}\n", named.name, named.digest))
        .collect()
}

/// Reads those lines again; `None` if one is not of that form.
pub(crate) fn digests_from_text(text: &str) -> Option<Vec<NamedDigest>> {
    text.lines()
        .map(|line| {
            let (name, hex) = line.split_once(' ')?;
            Some(NamedDigest {
                name: Word::new(name).ok()?,
                digest: Digest::from_hex(hex).ok()?,
            })
        })
        .collect()
}

/// What became of a draft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Appended {
    /// The entry.
    pub id: EntryId,
    /// Its position in the journal of the case.
    pub position: u64,
    /// When it was recorded.
    pub recorded: Timestamp,
    /// The hash of the chain up to and with it.
    pub hash: Digest,
    /// Whether it had been added before, by an earlier attempt.
    pub was_there: bool,
}

/// An entry read back.
#[derive(Clone, PartialEq)]
pub struct Entry {
    /// The case.
    pub case: CaseId,
    /// The position, from 1.
    pub position: u64,
    /// The id.
    pub id: EntryId,
    /// What kind of entry it is.
    pub kind: Word,
    /// When it was true or done, in the local time of the service.
    pub effective: DateTime,
    /// When it was recorded.
    pub recorded: Timestamp,
    /// Who wrote it.
    pub author: UserId,
    /// The entry that it corrects.
    pub supersedes: Option<EntryId>,
    /// The entry that corrects it: then this one no longer counts, but can still be read.
    pub superseded_by: Option<EntryId>,
    /// Digests of what a signed plan was made from.
    pub plan_digests: Vec<NamedDigest>,
    /// The hash of the chain before it.
    pub hash_before: Digest,
    /// The hash of the chain up to and with it.
    pub hash: Digest,
    /// What it says.
    pub body: Vec<u8>,
}

impl std::fmt::Debug for Entry {
    /// Leaves the body out, so that nothing about a patient gets into a log.
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            out,
            "Entry({} {} {:?}, {} bytes)",
            self.position,
            self.id,
            self.kind,
            self.body.len()
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digests_come_back_from_their_lines() {
        let named = |name, text: &str| NamedDigest {
            name: Word::new(name).unwrap(),
            digest: Digest::of(text.as_bytes()),
        };
        let digests = vec![named("service", "a"), named("exercises", "b")];
        assert_eq!(
            digests_from_text(&digests_to_text(&digests)).unwrap(),
            digests
        );
        assert_eq!(digests_from_text("").unwrap(), vec![]);
        for broken in ["service", "service 12", "Service 00", "\n", " "] {
            assert!(digests_from_text(broken).is_none(), "{broken:?}");
        }
    }
}

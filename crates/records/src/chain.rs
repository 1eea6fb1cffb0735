//! The chain of hashes through a journal, and what a verification finds.

use std::fmt;

use crate::digest::Digest;
use crate::framing::Frame;
use crate::identity::{CaseId, EntryId, UserId};

/// The 16 bytes that name a record; bound into every hash and every sealed value.
pub(crate) type RecordId = [u8; 16];

/// Everything of an entry that stands in clear, in its stored form.
///
/// The sealed body is bound to this (it opens only here), and the hash covers this and the sealed body.
pub(crate) struct Link<'a> {
    pub(crate) record: &'a RecordId,
    pub(crate) case: CaseId,
    pub(crate) position: i64,
    pub(crate) id: EntryId,
    pub(crate) kind: &'a str,
    pub(crate) effective: &'a str,
    pub(crate) recorded_ms: i64,
    pub(crate) author: UserId,
    pub(crate) supersedes: Option<EntryId>,
    pub(crate) plan_digests: &'a str,
    pub(crate) hash_before: &'a [u8],
}

impl Link<'_> {
    /// The place of the body: it opens nowhere else, and only after this very chain.
    pub(crate) fn place(&self) -> Frame {
        Frame::for_purpose("hearthpace journal entry 1")
            .bytes(self.record)
            .bytes(self.case.as_bytes())
            .number(self.position)
            .bytes(self.id.as_bytes())
            .text(self.kind)
            .text(self.effective)
            .number(self.recorded_ms)
            .bytes(self.author.as_bytes())
            .maybe(self.supersedes.as_ref().map(EntryId::as_bytes))
            .text(self.plan_digests)
            .bytes(self.hash_before)
    }

    /// The hash of the chain up to and with this entry.
    pub(crate) fn hash(&self, sealed_body: &[u8]) -> Digest {
        self.place().bytes(sealed_body).digest()
    }
}

/// The hash before the first entry of a case.
pub(crate) fn first_hash(record: &RecordId, case: CaseId) -> Digest {
    Frame::for_purpose("hearthpace journal start 1")
        .bytes(record)
        .bytes(case.as_bytes())
        .digest()
}

/// The head of the chain of one case, for signing or printing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CaseHead {
    /// The case.
    pub case: CaseId,
    /// How many entries it has.
    pub entries: u64,
    /// The hash of the newest one.
    pub hash: Digest,
}

/// One digest over the heads of all cases: who keeps it outside can later tell that nothing was taken away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RecordHead {
    /// How many cases there are, erased ones included; the journal of the service is none.
    pub cases: u64,
    /// How many entries they have together.
    pub entries: u64,
    /// The digest over their heads.
    pub digest: Digest,
}

impl RecordHead {
    /// Joins the heads, which are given in the order of case ids.
    pub(crate) fn of(record: &RecordId, heads: &[CaseHead]) -> RecordHead {
        let entries = heads.iter().map(|head| head.entries).sum();
        let cases = heads.iter().filter(|head| head.case != CaseId::SERVICE);
        let frame = heads.iter().fold(
            Frame::for_purpose("hearthpace record head 1").bytes(record),
            |frame, head| {
                frame
                    .bytes(head.case.as_bytes())
                    .bytes(&head.entries.to_le_bytes())
                    .bytes(head.hash.as_bytes())
            },
        );
        RecordHead {
            cases: cases.count() as u64,
            entries,
            digest: frame.digest(),
        }
    }
}

impl fmt::Display for RecordHead {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            out,
            "{} {}, {} {}, {}",
            self.cases,
            if self.cases == 1 { "case" } else { "cases" },
            self.entries,
            if self.entries == 1 {
                "entry"
            } else {
                "entries"
            },
            self.digest.to_short_text()
        )
    }
}

/// What a verification looked at and found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verification {
    /// The head of what was looked at.
    pub head: RecordHead,
    /// How many of the cases are erased.
    pub erased: u64,
    /// What is wrong; empty means that everything fits.
    pub faults: Vec<Fault>,
}

impl Verification {
    /// Whether nothing is wrong.
    pub fn is_sound(&self) -> bool {
        self.faults.is_empty()
    }
}

/// One thing that is wrong with a record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// In which case; `None` when it is about the whole file.
    pub case: Option<CaseId>,
    /// At which position.
    pub position: Option<u64>,
    /// What it is.
    pub kind: FaultKind,
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(case) = self.case {
            write!(out, "case {case}: ")?;
        }
        if let Some(position) = self.position {
            write!(out, "entry {position}: ")?;
        }
        self.kind.fmt(out)
    }
}

/// What can be wrong with a record.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum FaultKind {
    /// The entry is not what was hashed.
    #[error("its content does not fit its hash: it was changed")]
    HashWrong,
    /// The entry does not follow the one before.
    #[error("it does not follow the entry before it: entries were changed, moved or put in")]
    ChainBroken,
    /// A position is missing or twice.
    #[error("its position should be {expected}: an entry is missing or was put in")]
    PositionWrong {
        /// The position that should come next.
        expected: u64,
    },
    /// The case names another newest entry than the journal has.
    #[error(
        "its newest entry is not the one that the case names: entries are missing at the end or were put in"
    )]
    HeadWrong,
    /// The keyed seal of the head does not fit.
    #[error(
        "the seal of its newest entry does not fit: entries were cut off or the chain was made anew"
    )]
    HeadSealWrong,
    /// The case counts as erased, but was not erased by this program.
    #[error("it counts as erased, but its key is there or its last entry does not say so")]
    ErasureWrong,
    /// A sealed value does not open.
    #[error("{what} does not open with its key: it was changed or moved")]
    DoesNotOpen {
        /// What does not open.
        what: &'static str,
    },
    /// Entries that belong to no case.
    #[error("{count} entries belong to no case")]
    Orphans {
        /// How many.
        count: u64,
    },
    /// Tables, indexes or triggers are not those that this program made.
    #[error("the tables or their guards were changed: {what}")]
    SchemaChanged {
        /// The first difference.
        what: String,
    },
    /// The database says that its file is not consistent.
    #[error("the database file is not consistent: {what}")]
    FileDamaged {
        /// What it says.
        what: String,
    },
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::Timestamp;

    fn link<'a>(record: &'a RecordId, before: &'a Digest) -> Link<'a> {
        Link {
            record,
            case: CaseId::from_parts(Timestamp::UNIX_EPOCH, [1; 10]),
            position: 1,
            id: EntryId::from_parts(Timestamp::UNIX_EPOCH, [2; 10]),
            kind: "diary",
            effective: "2026-11-03T10:00:00",
            recorded_ms: 5,
            author: UserId::from_parts(Timestamp::UNIX_EPOCH, [3; 10]),
            supersedes: None,
            plan_digests: "",
            hash_before: before.as_bytes(),
        }
    }

    #[test]
    fn law_every_field_of_an_entry_is_covered_by_its_hash() {
        let (record, other_record, before, other_before) =
            ([9; 16], [8; 16], Digest::of(b"a"), Digest::of(b"b"));
        let base = || link(&record, &before);
        let id = EntryId::from_parts(Timestamp::UNIX_EPOCH, [4; 10]);
        let changed = [
            link(&other_record, &before),
            link(&record, &other_before),
            Link {
                case: CaseId::from_parts(Timestamp::UNIX_EPOCH, [4; 10]),
                ..base()
            },
            Link {
                position: 2,
                ..base()
            },
            Link { id, ..base() },
            Link {
                kind: "call",
                ..base()
            },
            Link {
                effective: "2026-11-03T10:00:01",
                ..base()
            },
            Link {
                recorded_ms: 6,
                ..base()
            },
            Link {
                author: UserId::from_parts(Timestamp::UNIX_EPOCH, [4; 10]),
                ..base()
            },
            Link {
                supersedes: Some(id),
                ..base()
            },
            Link {
                plan_digests: "service 00",
                ..base()
            },
        ];
        let hash = base().hash(b"sealed");
        assert_ne!(hash, base().hash(b"sealee"));
        for other in changed {
            assert_ne!(hash, other.hash(b"sealed"));
            assert_ne!(base().place().as_slice(), other.place().as_slice());
        }
    }

    #[test]
    fn pinned_hash_of_a_fixed_entry() {
        // Own output, so that a change of the stored form is noticed: records in use depend on it.
        let hash = link(&[9; 16], &first_hash(&[9; 16], CaseId::SERVICE)).hash(b"sealed");
        assert_eq!(
            hash.to_string(),
            "17fb378740abeec6158ecb2217e0d923920e73f734c2e08c11ea959db9d53934"
        );
    }
}

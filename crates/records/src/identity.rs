//! Ids of cases, entries and users, and the short words that name kinds.

use std::fmt;

use jiff::Timestamp;
use uuid::Uuid;

use crate::error::Error;
use crate::framing::Frame;
use crate::seal::random_bytes;

macro_rules! identity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(Uuid);

        impl $name {
            /// A new id from the clock and the randomness of the operating system (UUID version 7).
            pub fn generate(now: Timestamp) -> Result<$name, Error> {
                Ok($name::from_parts(now, random_bytes()?))
            }

            /// A new id from a given time and given randomness (UUID version 7), for callers that must be repeatable.
            pub fn from_parts(now: Timestamp, random: [u8; 10]) -> $name {
                let milliseconds = u64::try_from(now.as_millisecond()).unwrap_or(0);
                $name(uuid::Builder::from_unix_timestamp_millis(milliseconds, &random).into_uuid())
            }

            /// An id from elsewhere; the nil UUID is refused.
            pub fn from_uuid(id: Uuid) -> Result<$name, Error> {
                if id.is_nil() {
                    return Err(Error::unsuitable("The id", "it consists of zeros only"));
                }
                Ok($name(id))
            }

            /// Reads the hyphenated form.
            pub fn parse(text: &str) -> Result<$name, Error> {
                let id = Uuid::try_parse(text).map_err(|_| Error::unsuitable("The id", "it is not a UUID"))?;
                $name::from_uuid(id)
            }

            /// The UUID.
            pub fn to_uuid(self) -> Uuid {
                self.0
            }

            /// An id that stands in the database.
            #[allow(dead_code)]
            pub(crate) fn stored(id: Uuid) -> $name {
                $name(id)
            }

            /// The 16 bytes.
            pub(crate) fn as_bytes(&self) -> &[u8] {
                self.0.as_bytes()
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(out)
            }
        }

        impl fmt::Debug for $name {
            fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(out, concat!(stringify!($name), "({})"), self.0)
            }
        }
    };
}

identity! {
    /// Names a case inside the record; random, so that it says nothing about the patient and may stand in an address or a log.
    CaseId
}

identity! {
    /// Names an entry; given by the caller, so that sending the same entry twice makes one entry.
    EntryId
}

identity! {
    /// Names a user.
    UserId
}

impl CaseId {
    /// The journal of the service itself (settings, adoption): every record has it, it is in no list and cannot be erased.
    pub const SERVICE: CaseId = CaseId(Uuid::nil());
}

impl EntryId {
    /// The id of something that has a name of its own (a diary entry of a case, say), so that the same thing coming in
    /// by two ways is one entry: a UUID version 8 from the SHA-256 of case, kind and name.
    pub fn derived(case: CaseId, kind: &Word, name: &str) -> EntryId {
        let digest = Frame::for_purpose("hearthpace entry id 1")
            .bytes(case.as_bytes())
            .text(kind.as_str())
            .text(name)
            .digest();
        let (first, _) = digest
            .as_bytes()
            .split_first_chunk::<16>()
            .expect("a digest has 32 bytes");
        EntryId(uuid::Builder::from_custom_bytes(*first).into_uuid())
    }
}

/// A short word that stands in clear: the kind of an entry, the status of a case, what was read.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Word(String);

impl Word {
    /// Takes 1 to 40 small letters, digits and hyphens; anything else is refused, so that no personal text slips in.
    pub fn new(text: &str) -> Result<Word, Error> {
        let fits = (1..=40).contains(&text.len())
            && text
                .bytes()
                .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-');
        if !fits {
            return Err(Error::unsuitable(
                "The word",
                "it needs 1 to 40 small letters, digits or hyphens",
            ));
        }
        Ok(Word(text.to_owned()))
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// A word that stands in the database.
    pub(crate) fn stored(text: String) -> Word {
        Word(text)
    }
}

impl fmt::Display for Word {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

impl fmt::Debug for Word {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:?}", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_keep_free_text_out() {
        for good in ["diary", "call-sheet", "phq-9", "a"] {
            assert_eq!(Word::new(good).unwrap().as_str(), good);
        }
        for bad in ["", "Mrs", "two words", "naïve", "%", &"x".repeat(41)] {
            assert!(Word::new(bad).is_err(), "{bad:?}");
        }
    }

    #[test]
    fn ids_are_version_7_and_in_order_of_time() {
        let at = |second| Timestamp::from_second(second).unwrap();
        let early = EntryId::generate(at(1_790_000_000)).unwrap();
        let late = EntryId::generate(at(1_790_000_001)).unwrap();
        assert_eq!(early.to_uuid().get_version_num(), 7);
        assert!(early < late);
        assert_eq!(
            EntryId::from_parts(at(5), [7; 10]),
            EntryId::from_parts(at(5), [7; 10])
        );
    }

    #[test]
    fn a_derived_id_is_the_same_for_the_same_thing_only() {
        let case = CaseId::from_parts(Timestamp::UNIX_EPOCH, [1; 10]);
        let diary = Word::new("diary").unwrap();
        let id = EntryId::derived(case, &diary, "monday");
        assert_eq!(id, EntryId::derived(case, &diary, "monday"));
        assert_ne!(id, EntryId::derived(case, &diary, "tuesday"));
        assert_ne!(
            id,
            EntryId::derived(case, &Word::new("call").unwrap(), "monday")
        );
        assert_ne!(
            id,
            EntryId::derived(
                CaseId::from_parts(Timestamp::UNIX_EPOCH, [2; 10]),
                &diary,
                "monday"
            )
        );
        assert_eq!(id.to_uuid().get_version_num(), 8);
    }

    #[test]
    fn the_nil_id_is_refused() {
        assert!(EntryId::from_uuid(Uuid::nil()).is_err());
        assert!(CaseId::parse("00000000-0000-0000-0000-000000000000").is_err());
        assert!(UserId::parse("not an id").is_err());
    }
}

//! Cases: what is given when one is opened, what lists show, and how a list is narrowed.

use jiff::Timestamp;
use jiff::civil::Date;

use crate::chain::FaultKind;
use crate::error::Error;
use crate::framing::{Frame, FrameReader};
use crate::identity::{CaseId, Word};
use crate::journal::Draft;

/// The dates and counts of a case that lists need; they stay in clear. Dates, never a computed state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Summary {
    /// The status of the case as a word (active, paused, discharged ...).
    pub status: Word,
    /// When the next contact is due.
    pub due_on: Option<Date>,
    /// From when on no news counts as silence.
    pub silent_from: Option<Date>,
    /// The newest examination.
    pub examined_on: Option<Date>,
    /// The newest sign of life.
    pub heard_on: Option<Date>,
    /// Sessions known to have been done.
    pub session_count: u32,
    /// Alerts about which nobody has written yet what was done.
    pub open_alert_count: u32,
}

/// What lists show of the person; it is sealed with the key of the case.
#[derive(Clone, PartialEq, Eq)]
pub struct Personal {
    /// The full name.
    pub name: String,
    /// How the person wants to be called.
    pub called: String,
    /// The year of birth, if known.
    pub birth_year: Option<i16>,
    /// One line for lists: what this person is about.
    pub one_line: String,
}

impl std::fmt::Debug for Personal {
    /// Shows nothing, so that no name gets into a log by accident.
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str("Personal(sealed)")
    }
}

const PERSONAL: &str = "hearthpace personal summary 1";

impl Personal {
    /// The bytes to be sealed.
    pub(crate) fn to_frame(&self) -> Frame {
        Frame::for_purpose(PERSONAL)
            .text(&self.name)
            .text(&self.called)
            .maybe(
                self.birth_year
                    .map(i16::to_le_bytes)
                    .as_ref()
                    .map(<[u8; 2]>::as_slice),
            )
            .text(&self.one_line)
    }

    /// Back from the opened bytes.
    pub(crate) fn from_bytes(bytes: &[u8]) -> Option<Personal> {
        let mut reader = FrameReader::for_purpose(bytes, PERSONAL)?;
        Some(Personal {
            name: reader.text()?,
            called: reader.text()?,
            birth_year: match reader.maybe()? {
                None => None,
                Some(year) => Some(i16::from_le_bytes(year.try_into().ok()?)),
            },
            one_line: reader.text()?,
        })
    }
}

/// What a new case needs.
#[derive(Clone, Debug)]
pub struct NewCase {
    /// The id in the case file; sealed, unique among the cases that are not erased.
    pub reference: String,
    /// What lists need, in clear.
    pub summary: Summary,
    /// What lists show, sealed.
    pub personal: Personal,
    /// The first entries, written in the same transaction.
    pub entries: Vec<Draft>,
}

/// The longest reference in bytes. Case files allow 40 characters; derived ones may be longer.
const LONGEST_REFERENCE: usize = 200;

impl NewCase {
    /// Refuses an empty or overlong reference.
    pub(crate) fn checked_reference(&self) -> Result<&str, Error> {
        if self.reference.is_empty() || self.reference.len() > LONGEST_REFERENCE {
            return Err(Error::unsuitable(
                "The reference of the case",
                "it needs 1 to 200 characters",
            ));
        }
        Ok(&self.reference)
    }
}

/// One case as a list shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct CaseListing {
    /// The case.
    pub case: CaseId,
    /// Its dates and counts.
    pub summary: Summary,
    /// Who it is; `None` when the case was erased or is damaged.
    pub personal: Option<Personal>,
    /// How many entries its journal has; the next one gets this plus one as its position.
    pub entry_count: u64,
    /// When it was opened.
    pub opened: Timestamp,
    /// When something was last added.
    pub changed: Timestamp,
    /// When it was erased, if it was.
    pub erased: Option<Timestamp>,
    /// What does not fit its seal: then name, dates or counts were changed outside the program and cannot be trusted.
    pub fault: Option<FaultKind>,
}

/// Whether a case needs a look on a day: due by then, silent by then, or with an open alert.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Attention {
    /// Whether or not.
    #[default]
    Any,
    /// Only cases that need one. They come by urgency: with an open alert first, then the longest silence, then what
    /// was due first.
    NeededOn(Date),
    /// Only cases that need none.
    NotNeededOn(Date),
}

/// Which cases a list shows; the default shows all that are not erased.
#[derive(Clone, Debug, Default)]
pub struct CaseFilter {
    /// Only these status words; empty means any.
    pub statuses: Vec<Word>,
    /// Only cases that need a look, or that need none.
    pub attention: Attention,
    /// Erased cases too.
    pub with_erased: bool,
    /// At most so many, in the order of opening or of urgency; `None` means all.
    pub limit: Option<u32>,
    /// Only cases opened after this one, for the next page of a long list.
    pub after: Option<CaseId>,
}

impl CaseFilter {
    /// The status words joined as `,active,paused,`, or empty for any: one bound value whatever their number.
    pub(crate) fn joined_statuses(&self) -> String {
        self.statuses
            .iter()
            .fold(String::new(), |joined, status| match joined.as_str() {
                "" => format!(",{status},"),
                _ => format!("{joined}{status},"),
            })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn law_personal_fields_come_back(name in ".{0,40}", called in ".{0,40}", birth_year in proptest::option::of(any::<i16>()), one_line in ".{0,80}") {
            let personal = Personal { name, called, birth_year, one_line };
            let frame = personal.to_frame();
            prop_assert!(Personal::from_bytes(frame.as_slice()) == Some(personal));
        }

        #[test]
        fn law_hostile_personal_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..120)) {
            let _ = Personal::from_bytes(&bytes);
        }
    }

    #[test]
    fn statuses_are_joined_so_that_no_part_of_a_word_matches() {
        let mut filter = CaseFilter::default();
        assert_eq!(filter.joined_statuses(), "");
        filter.statuses = vec![
            Word::new("active").unwrap(),
            Word::new("in-hospital").unwrap(),
        ];
        assert_eq!(filter.joined_statuses(), ",active,in-hospital,");
    }
}

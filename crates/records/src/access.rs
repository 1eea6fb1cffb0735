//! The access log: who opened which case, when and for what.

use jiff::Timestamp;

use crate::identity::{CaseId, UserId, Word};

/// Who reads, what for and when: it is logged before anything is opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading {
    /// Who reads.
    pub by: UserId,
    /// What is opened, as a word that stays in clear (case-page, letter, export ...).
    pub what: Word,
    /// When.
    pub at: Timestamp,
}

/// One row of the access log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AccessRow {
    /// The running number.
    pub number: i64,
    /// When.
    pub at: Timestamp,
    /// Who; `None` before anybody had signed in (the recovery sheet).
    pub by: Option<UserId>,
    /// Which case; `None` when it was about the whole record.
    pub case: Option<CaseId>,
    /// What was opened.
    pub what: Word,
}

/// Which rows of the access log are wanted; newest first.
#[derive(Clone, Debug, Default)]
pub struct AccessFilter {
    /// Only about this case.
    pub case: Option<CaseId>,
    /// Only by this user.
    pub by: Option<UserId>,
    /// Only from this moment on.
    pub from: Option<Timestamp>,
    /// Only before this moment.
    pub before: Option<Timestamp>,
    /// At most so many; `None` means all.
    pub limit: Option<u32>,
}

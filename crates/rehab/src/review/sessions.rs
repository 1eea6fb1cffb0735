//! Which entries are sessions, and which of them count on the present page.

use super::{ReviewInput, decide};
use crate::diary::DiaryEntry;
use std::collections::BTreeSet;

pub(super) fn last_three<'a>(entries: &[&'a DiaryEntry]) -> Vec<&'a DiaryEntry> {
    let sessions = entries.iter().rev().filter(|entry| entry.is_session());
    sessions.take(3).copied().collect()
}

/// A report that no session was done is news, but never a session: it must not hide a gap.
pub(super) fn last_session<'a>(entries: &[&'a DiaryEntry]) -> Option<&'a DiaryEntry> {
    entries
        .iter()
        .rev()
        .find(|entry| entry.is_session())
        .copied()
}

/// Days with a finished session on this page. Days, not entries: a session told on the telephone and again on paper
/// is one session, and two in one day do not shorten the time on a page.
pub(super) fn days_here(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> usize {
    let days = entries
        .iter()
        .filter(|entry| is_here(input, entry))
        .map(|entry| entry.date);
    days.collect::<BTreeSet<_>>().len()
}

pub(super) fn is_unfinished(entry: &DiaryEntry) -> bool {
    let told = entry.stations_done.zip(entry.stations_planned);
    told.is_some_and(|(done, planned)| !decide::is_finished(done, planned))
        || entry.stopped_because.is_some()
}

fn is_here(input: &ReviewInput<'_>, entry: &DiaryEntry) -> bool {
    let on_page = entry.stage.is_none_or(|stage| stage == input.current_stage);
    entry.is_session()
        && on_page
        && !is_unfinished(entry)
        && input.stage_since.is_none_or(|since| entry.date >= since)
}

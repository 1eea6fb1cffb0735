//! Which entries are sessions, and which of them count on the present page.

use super::{ReviewInput, decide, rules};
use crate::calendar::days_between;
use crate::diary::DiaryEntry;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// The last three sessions since the page was given or begun again: what was done before was decided on.
pub(super) fn last_three<'a>(
    input: &ReviewInput<'_>,
    entries: &[&'a DiaryEntry],
) -> Vec<&'a DiaryEntry> {
    let sessions = entries.iter().rev().filter(|entry| is_since(input, entry));
    sessions.take(3).copied().collect()
}

/// The last three sessions since the page was given, and everything since the third of them that tells an effort or a
/// pulse without being a session of their own: what was measured under somebody's eyes adds to them and never takes the
/// place of one.
pub(super) fn last_measured<'a>(
    input: &ReviewInput<'_>,
    entries: &[&'a DiaryEntry],
) -> Vec<&'a DiaryEntry> {
    let first = last_three(input, entries).last().map(|entry| entry.date);
    let begun = first.max(input.stage_since);
    let counts = |entry: &DiaryEntry| {
        let measured = entry.effort.is_some() || !entry.pulses.is_empty();
        let beside = !entry.is_session() && measured && begun.is_none_or(|day| entry.date >= day);
        beside || is_since(input, entry) && first.is_some_and(|day| entry.date >= day)
    };
    let mut sessions = 0;
    let mut list = Vec::new();
    for entry in entries.iter().rev().filter(|entry| counts(entry)) {
        if entry.is_session() {
            sessions += 1;
        }
        if sessions > 3 {
            break;
        }
        list.push(*entry);
    }
    list
}

/// Days of sessions, in order, each once. A report that no session was done is news, but never a session: it must not
/// hide a gap.
pub(super) fn days(entries: &[&DiaryEntry]) -> Vec<Date> {
    let days = entries
        .iter()
        .filter(|entry| entry.is_session())
        .map(|entry| entry.date);
    days.collect::<BTreeSet<_>>().into_iter().collect()
}

/// Days with a finished session on this page since the last gap. Days, not entries: a session told on the telephone and
/// again on paper is one session, and two in one day do not shorten the time on a page.
pub(super) fn days_here(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> usize {
    let begun_again = after_last_gap(entries);
    let days = entries
        .iter()
        .filter(|entry| begun_again.is_none_or(|day| entry.date >= day))
        .filter(|entry| is_here(input, entry))
        .map(|entry| entry.date);
    days.collect::<BTreeSet<_>>().len()
}

/// The first session after the last gap.
fn after_last_gap(entries: &[&DiaryEntry]) -> Option<Date> {
    let days = days(entries);
    let mut pairs = days.iter().zip(days.iter().skip(1));
    pairs
        .rfind(|(from, to)| decide::gap(days_between(**from, **to)).is_some())
        .map(|(_, to)| *to)
}

/// Whether a session was finished; `None` where nothing tells it. Without any turns told, a page that has none, or about
/// its whole length in minutes, tells it too.
pub(super) fn is_finished(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Option<bool> {
    if entry.stopped_because.is_some() {
        return Some(false);
    }
    let turns = entry.stations_done.zip(entry.stations_planned);
    if let Some((done, planned)) = turns {
        return Some(decide::is_finished(done, planned));
    }
    let number = entry.stage.unwrap_or(input.current_stage);
    let stage = input.stages.iter().find(|stage| stage.number == number)?;
    let long = entry
        .minutes
        .is_some_and(|minutes| minutes >= rules::FINISHED_SHARE * stage.minutes());
    (long || stage.turns() == 0).then_some(true)
}

fn is_here(input: &ReviewInput<'_>, entry: &DiaryEntry) -> bool {
    let on_page = entry.stage.is_none_or(|stage| stage == input.current_stage);
    on_page && is_since(input, entry) && is_finished(input, entry) == Some(true)
}

/// A session since the page was given or begun again; on that very day only one of this page, since the other was done
/// before.
fn is_since(input: &ReviewInput<'_>, entry: &DiaryEntry) -> bool {
    let of_this_page = entry.stage.is_none_or(|stage| stage == input.current_stage);
    let since = input
        .stage_since
        .is_none_or(|since| entry.date > since || (entry.date == since && of_this_page));
    entry.is_session() && since
}

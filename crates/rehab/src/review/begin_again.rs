//! Who begins again, and where: after a gap, back from hospital or a pause, after a stop.

use super::propose::Action;
use super::sessions::last_session;
use super::speak::{Spoken, speak};
use super::{ReviewInput, decide, rules};
use crate::assessed::Decision;
use crate::assessment::StatusKind;
use crate::calendar::days_between;
use crate::diary::DiaryEntry;
use crate::evidence::Named;

pub(super) fn after_gap(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Option<Spoken> {
    let last = last_session(entries)?;
    let gap = days_between(last.date, input.on);
    decide::gap(gap).map(|action| {
        speak(
            action,
            rules::RE_ENTER_GAP,
            format!(
                "the last session was {gap} days ago; more than {} days start again lower",
                rules::GAP_DAYS
            ),
            vec![Named::whole("gap_days", i64::from(gap), "days")],
        )
    })
}

/// Back from hospital or a pause after the last session.
pub(super) fn after_return(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Option<Spoken> {
    let since = input.case.status.since?;
    let last = last_session(entries)?;
    (input.case.status.kind == StatusKind::Active && since > last.date).then(|| {
        let text = format!(
            "active again since {since}, after the last session of {}",
            last.date
        );
        speak(
            Action::ReEnter,
            rules::RE_ENTER_RETURN,
            text,
            vec![Named::date("active_since", since)],
        )
    })
}

/// A stop that nobody has ended: examined again since and allowed to exercise, a person may begin one page lower;
/// until then nothing is proposed but to ask. An examination of the same day may have come before the stop.
pub(super) fn after_stop(input: &ReviewInput<'_>) -> Option<Spoken> {
    let since = input.stopped?;
    let screening = &input.assessed.screening;
    let again = screening
        .examined
        .filter(|day| *day > since && screening.decision == Decision::Exercise);
    let (action, rule, text) = match again {
        Some(day) => (
            Action::ReEnter,
            rules::RE_ENTER_STOPPED,
            format!("stopped on {since}, examined again on {day}: begin again lower"),
        ),
        None => (
            Action::AskFirst,
            rules::ASK_STOPPED,
            format!(
                "stopped on {since}, and not examined since; ask what was found before anybody exercises again"
            ),
        ),
    };
    let inputs = vec![Named::date("stopped", since)];
    Some(speak(action, rule, text, inputs))
}

//! Who begins again, and where: after a gap, back from hospital or a pause, after a stop.

use super::propose::Action;
use super::speak::{Spoken, speak};
use super::{ReviewInput, decide, rules, sessions};
use crate::assessed::Decision;
use crate::assessment::StatusKind;
use crate::calendar::days_between;
use crate::diary::DiaryEntry;
use crate::evidence::Named;
use jiff::civil::Date;

/// The longest time without a session that no decision on a page has answered yet, in days; `None` without any session.
/// A session begun again without asking does not answer it.
pub(super) fn longest_gap(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Option<i32> {
    let days = sessions::days(entries);
    let ends = days.iter().copied().skip(1).chain([input.on]);
    days.iter()
        .zip(ends)
        .map(|(from, to)| unanswered(*from, to, input.stage_since))
        .max()
}

/// Days between two sessions as far as no decision on a page answered them: one taken before it was a gap did not.
fn unanswered(from: Date, to: Date, decided: Option<Date>) -> i32 {
    match decided {
        Some(day) if day >= to => 0,
        Some(day) if decide::gap(days_between(from, day)).is_some() => days_between(day, to),
        _ => days_between(from, to),
    }
}

pub(super) fn after_gap(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Option<Spoken> {
    let gap = longest_gap(input, entries)?;
    let last = *sessions::days(entries).last()?;
    decide::gap(gap).map(|action| {
        let what = if days_between(last, input.on) == gap {
            format!("the last session was {}", crate::calendar::ago(gap))
        } else {
            format!("{gap} days passed without a session, and nobody decided on a page since")
        };
        speak(
            action,
            rules::RE_ENTER_GAP,
            format!(
                "{what}; more than {} days start again lower",
                rules::GAP_DAYS
            ),
            vec![Named::whole("gap_days", i64::from(gap), "days")],
        )
    })
}

/// Back from hospital or a pause after a session, and no page decided since.
pub(super) fn after_return(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Option<Spoken> {
    let since = input.case.status.since?;
    let before = sessions::days(entries)
        .into_iter()
        .rfind(|day| *day < since)?;
    let decided = input.stage_since.is_some_and(|day| day >= since);
    (input.case.status.kind == StatusKind::Active && !decided).then(|| {
        let text = format!("active again since {since}, after the session of {before}");
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

//! Last heard from: no news is never good news.

use super::{ReviewInput, decide};
use crate::assessed::RiskClass;
use crate::calendar::days_between;
use crate::diary::DiaryEntry;
use jiff::civil::Date;

/// When a person was last heard from, and whether that is longer ago than agreed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Silence {
    /// Last day of any news, from a diary or a contact.
    pub last_heard: Option<Date>,
    /// Days since then.
    pub days: Option<i32>,
    /// The day silence is counted from: that of the last news, or that on which the page began where this is later.
    /// `None` before the first page and the first news.
    pub since: Option<Date>,
    /// Days after which silence speaks: the service's setting, or twice the call interval of the class where that is
    /// shorter; of somebody who sends nothing between the calls not before the next call is due.
    pub agreed_days: i32,
    /// Whether it is longer than agreed; with neither a page nor news nothing was ever heard, which counts as silent.
    pub silent: bool,
}

pub(super) fn of(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Silence {
    let diary = entries.iter().map(|entry| entry.date);
    let contacts = input
        .contacts
        .iter()
        .map(|contact| contact.date)
        .filter(|date| *date <= input.on);
    let last_heard = diary.chain(contacts).max();
    let days = last_heard.map(|date| days_between(date, input.on));
    let begun = input.stage_since.filter(|date| *date <= input.on);
    // A page that was begun today is not silent since the call of a month ago.
    let since = last_heard.max(begun);
    let agreed_days = agreed_days(input);
    let silent = decide::is_silent(since.map(|date| days_between(date, input.on)), agreed_days);
    Silence {
        last_heard,
        days,
        since,
        agreed_days,
        silent,
    }
}

/// High risk is called more often, so silence speaks earlier there.
fn agreed_days(input: &ReviewInput<'_>) -> i32 {
    let risk = &input.service.risk;
    let call_every = match input.assessed.risk.class {
        RiskClass::Low => risk.low.call_every_days,
        RiskClass::Moderate => risk.moderate.call_every_days,
        RiskClass::High => risk.high.call_every_days,
    };
    let silent_after = match input.keeps_diary {
        true => input.service.silent_after_days,
        false => input.service.silent_after_days.max(call_every),
    };
    i32::from(silent_after.min(call_every.saturating_mul(2)))
}

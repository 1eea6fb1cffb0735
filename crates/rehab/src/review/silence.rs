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
    /// Days after which silence speaks: the service's setting, or twice the call interval of the class where that is
    /// shorter.
    pub agreed_days: i32,
    /// Whether it is longer than agreed; nothing ever heard counts as silent.
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
    let agreed_days = agreed_days(input);
    let silent = decide::is_silent(days, agreed_days);
    Silence {
        last_heard,
        days,
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
    i32::from(
        input
            .service
            .silent_after_days
            .min(call_every.saturating_mul(2)),
    )
}

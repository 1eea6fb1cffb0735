//! Silence and the call that was agreed.

use super::tests::{ON, Setting};
use super::{Contact, ContactKind, Silence};
use crate::assessed::RiskClass;
use crate::calendar::days_after;

fn heard(days_ago: i32, class: RiskClass, keeps_diary: bool) -> Silence {
    let mut setting = Setting::ready();
    setting.entries.clear();
    setting.stage_since = None;
    setting.contacts = vec![Contact {
        date: days_after(ON, -days_ago),
        kind: ContactKind::Call,
    }];
    setting.assessed.risk.class = class;
    setting.keeps_diary = keeps_diary;
    setting.review().silence
}

/// In low risk a call was agreed every 14 days, and from the eleventh on the person was "silent longer than agreed".
#[test]
fn law_who_sends_nothing_between_the_calls_is_not_silent_before_the_next() {
    let risk = Setting::ready().service.risk;
    for (class, every) in [
        (RiskClass::Low, risk.low.call_every_days),
        (RiskClass::Moderate, risk.moderate.call_every_days),
        (RiskClass::High, risk.high.call_every_days),
    ] {
        let every = i32::from(every);
        assert!(
            !heard(every, class, false).silent,
            "{class} on the day of the call"
        );
        assert!(heard(2 * every + 1, class, false).silent, "{class}");
    }
    assert!(heard(15, RiskClass::Low, false).silent);
    assert!(
        heard(11, RiskClass::Low, true).silent,
        "a diary was awaited"
    );
}

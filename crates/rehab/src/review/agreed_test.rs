//! A session is judged by the range that was agreed for its own day.

use super::tests::{ON, Setting, watched_long_ago};
use super::{Action, Given};
use crate::assessment::{Effort, EffortScale, Watched};
use crate::course::AgreedEffort;
use crate::service::EffortBand;
use jiff::civil::date;

/// Every session of the week at effort 4.
fn at_four() -> Setting {
    let mut setting = Setting::ready();
    for entry in &mut setting.entries {
        entry.effort = Some(Effort {
            scale: EffortScale::ZeroToTen,
            value: 4.0,
        });
    }
    setting
}

fn given(high: f64) -> Given {
    Given {
        date: date(2026, 11, 12),
        stage: 2,
        effort: Some(AgreedEffort {
            scale: EffortScale::ZeroToTen,
            band: EffortBand { low: 2.0, high },
        }),
    }
}

/// The day after the gentle fortnight ended, the same diary said "move on" that had said "step back" the day before.
#[test]
fn the_end_of_the_gentle_fortnight_makes_no_session_of_before_gentler() {
    assert_eq!(at_four().action(), Action::Advance, "inside 3 to 4");
    let mut setting = at_four();
    setting.case.watched = vec![Watched {
        date: date(2026, 11, 11),
        ..watched_long_ago()
    }];
    assert_eq!(
        setting.assessed.limits.effort.high, 4.0,
        "the range of {ON}"
    );
    assert_eq!(setting.action(), Action::StepBack);
}

#[test]
fn what_was_signed_with_the_page_at_home_is_what_its_sessions_are_held_against() {
    let mut setting = at_four();
    setting.given = vec![given(3.0)];
    assert_eq!(setting.action(), Action::StepBack);
    setting.given = vec![given(4.0)];
    assert_eq!(setting.action(), Action::Advance);
}

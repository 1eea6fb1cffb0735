//! A report that no session was done is news and never a session.

use super::tests::{ON, Setting, entry, symptom};
use super::{Action, Contact, ContactKind};
use crate::calendar::days_after;
use crate::diary::SymptomKind;

fn report_of_today() -> crate::diary::DiaryEntry {
    crate::diary::DiaryEntry {
        stations_planned: None,
        stations_done: None,
        effort: None,
        minutes: Some(0.0),
        ..entry("report", ON)
    }
}

#[test]
fn a_report_of_no_session_does_not_hide_a_gap() {
    let mut setting = Setting::ready();
    for (one, day) in setting.entries.iter_mut().zip([2, 4, 6]) {
        one.date = jiff::civil::date(2026, 11, day);
    }
    setting.contacts.push(Contact {
        date: ON,
        kind: ContactKind::Call,
    });
    assert_eq!(setting.action(), Action::ReEnter);
    setting.entries.push(report_of_today());
    assert_eq!(setting.action(), Action::ReEnter);
}

#[test]
fn a_report_without_effort_keeps_nobody_back_and_counts_as_no_session() {
    let mut setting = Setting::ready();
    setting.entries.push(report_of_today());
    let review = setting.review();
    assert_eq!(
        review.proposal.action,
        Action::Advance,
        "{:?}",
        review.proposal.because
    );
    assert_eq!(review.trends.done_in_14_days, 3);
}

#[test]
fn a_morning_after_that_tells_only_of_joints_asks_for_nothing_else() {
    let mut setting = Setting::ready();
    let mut morning = report_of_today();
    morning.symptoms = None;
    morning.joint_pain = Some(crate::diary::JointPain {
        during: None,
        worse_next_morning: Some(false),
    });
    setting.entries.push(morning.clone());
    assert_eq!(setting.action(), Action::Advance);
    // Anything beside it, and what was not asked is missing again.
    setting.entries.last_mut().expect("an entry").weight_kg = Some(70.0);
    assert_eq!(setting.action(), Action::AskFirst);
    morning.joint_pain = Some(crate::diary::JointPain {
        during: None,
        worse_next_morning: Some(true),
    });
    setting.entries.pop();
    setting.entries.push(morning);
    assert_eq!(setting.action(), Action::Hold, "a sore joint still holds");
}

#[test]
fn a_symptom_told_in_a_report_still_stops() {
    let mut setting = Setting::ready();
    let mut report = report_of_today();
    report.symptoms = Some(vec![symptom(SymptomKind::ChestDiscomfort)]);
    setting.entries.push(report);
    assert_eq!(setting.action(), Action::StopAndContact);
}

#[test]
fn a_day_told_twice_is_one_session() {
    let mut setting = Setting::ready();
    setting.entries.truncate(2);
    let again = setting.entries[1].date;
    setting.entries.push(entry("told-again", again));
    assert_eq!(setting.action(), Action::Hold);
    setting
        .entries
        .push(entry("another-day", days_after(again, 1)));
    assert_eq!(setting.action(), Action::Advance);
}

#[test]
fn what_was_measured_under_somebodys_eyes_is_held_against_the_limits() {
    let watched = |value: f64| {
        let scale = crate::assessment::EffortScale::ZeroToTen;
        crate::diary::DiaryEntry {
            effort: Some(crate::assessment::Effort { scale, value }),
            ..report_of_today()
        }
    };
    let mut setting = Setting::ready();
    setting.entries.push(watched(10.0));
    assert_eq!(setting.action(), Action::StepBack);

    // An easy one beside somebody does not take the place of a hard one alone.
    let mut setting = Setting::ready();
    let high = setting.assessed.limits.effort.high;
    setting.entries[0].effort = Some(crate::assessment::Effort {
        scale: crate::assessment::EffortScale::ZeroToTen,
        value: high + 1.0,
    });
    setting.entries.push(watched(1.0));
    assert_eq!(setting.action(), Action::Hold);
}

//! Beginning again: a gap or a stay in hospital is not hidden by a session, and a page stepped back to begins anew.

use super::tests::{ON, Setting, last};
use super::{Action, Contact, ContactKind, Given};
use crate::assessment::{Effort, EffortScale, StatusKind};
use crate::calendar::days_after;
use jiff::civil::{Date, date};

/// Three sessions on given days, on a page given long before; a call of yesterday keeps silence from speaking.
fn on_days(days: [Date; 3]) -> Setting {
    let mut setting = Setting::ready();
    setting.stage_since = Some(date(2026, 9, 20));
    for (entry, day) in setting.entries.iter_mut().zip(days) {
        entry.date = day;
    }
    setting.contacts.push(Contact {
        date: days_after(ON, -1),
        kind: ContactKind::Call,
    });
    setting
}

const LONG_AGO: [Date; 3] = [date(2026, 10, 2), date(2026, 10, 4), date(2026, 10, 6)];

#[test]
fn sessions_begun_again_alone_hide_no_gap() {
    let mut setting = on_days(LONG_AGO);
    assert_eq!(setting.review().proposal.to_stage, Some(1));
    let again = [1, 3, 5].map(|back| {
        let day = days_after(ON, -back);
        super::tests::entry(&format!("again-{back}"), day)
    });
    setting.entries.extend(again);
    let proposal = setting.review().proposal;
    assert_eq!(proposal.action, Action::ReEnter, "{:?}", proposal.because);
    // 6 October to 20 November is more than 28 days, so the first page, from wherever they are.
    setting.current_stage = 3;
    assert_eq!(setting.review().proposal.to_stage, Some(1));
}

#[test]
fn a_decision_on_a_page_answers_a_gap_and_one_taken_before_it_does_not() {
    let mut setting = on_days([date(2026, 10, 6), date(2026, 10, 8), date(2026, 11, 22)]);
    setting.stage_since = Some(date(2026, 10, 10));
    assert_eq!(
        setting.action(),
        Action::ReEnter,
        "decided two days into it"
    );
    setting.stage_since = Some(date(2026, 11, 20));
    let proposal = setting.review().proposal;
    assert_eq!(proposal.action, Action::Hold, "{:?}", proposal.because);
}

#[test]
fn sessions_before_a_gap_do_not_count_for_the_next_page() {
    let mut setting = on_days([date(2026, 10, 6), date(2026, 10, 8), date(2026, 11, 23)]);
    // Somebody decided in knowledge of the gap to stay on the page.
    setting.stage_since = Some(date(2026, 10, 1));
    let rules: Vec<&str> = setting
        .review()
        .proposal
        .because
        .iter()
        .map(|one| one.rule.0)
        .collect();
    assert!(rules.contains(&"review/hold-few-sessions"), "{rules:?}");
}

#[test]
fn a_session_after_hospital_does_not_hide_the_return() {
    let mut setting = Setting::ready();
    setting.case.status.kind = StatusKind::Active;
    setting.case.status.since = Some(date(2026, 11, 22));
    assert_eq!(
        setting.action(),
        Action::ReEnter,
        "sessions before and after"
    );
    setting.stage_since = Some(date(2026, 11, 22));
    assert_eq!(setting.action(), Action::Hold, "decided on since");
}

#[test]
fn only_sessions_since_the_page_was_given_step_anybody_back() {
    let hard = Effort {
        scale: EffortScale::ZeroToTen,
        value: 8.0,
    };
    let mut setting = Setting::ready();
    for entry in &mut setting.entries {
        entry.effort = Some(hard);
        entry.stations_done = Some(2);
        entry.stage = Some(3);
    }
    setting.current_stage = 3;
    assert_eq!(setting.action(), Action::StepBack);
    // Stepped back on the day of the last session: what was hard is decided on.
    setting.given = given(&[(date(2026, 11, 12), 3), (date(2026, 11, 23), 2)]);
    setting.current_stage = 2;
    setting.stage_since = Some(date(2026, 11, 23));
    assert_eq!(setting.action(), Action::Hold);
}

fn given(days: &[(Date, u16)]) -> Vec<Given> {
    let one = |(date, stage): &(Date, u16)| Given {
        date: *date,
        stage: *stage,
        effort: None,
    };
    days.iter().map(one).collect()
}

#[test]
fn a_page_stepped_back_to_contradicts_nothing_and_a_further_one_is_noticed() {
    let mut setting = Setting::ready();
    // The first page in early November, the second on the 12th, back to the first on the 20th.
    setting.given = given(&[
        (date(2026, 11, 2), 1),
        (date(2026, 11, 12), 2),
        (date(2026, 11, 20), 1),
    ]);
    setting.current_stage = 1;
    setting.stage_since = Some(date(2026, 11, 20));
    for (entry, stage) in setting.entries.iter_mut().zip([2, 1, 1]) {
        entry.stage = Some(stage);
    }
    let mut early = super::tests::entry("first-page", date(2026, 11, 14));
    early.stage = Some(1);
    setting.entries.push(early);
    let proposal = setting.review().proposal;
    assert_eq!(proposal.action, Action::Hold, "{:?}", proposal.because);
    last(&mut setting).stage = Some(3);
    let review = setting.review();
    assert_eq!(review.proposal.action, Action::AskFirst);
    let keys: Vec<&str> = review.alerts.iter().map(|one| one.key.as_str()).collect();
    assert_eq!(keys, ["review/ask-higher-page:first-page"]);
}

#[test]
fn a_page_done_before_any_was_given_is_noticed() {
    let mut setting = Setting::ready();
    setting.given = given(&[(date(2026, 11, 20), 2)]);
    assert_eq!(setting.action(), Action::AskFirst);
}

#[test]
fn where_only_diaries_are_known_a_page_further_than_the_present_is_noticed() {
    let mut setting = Setting::ready();
    last(&mut setting).stage = Some(3);
    assert_eq!(setting.action(), Action::AskFirst);
}

//! A stop lasts until somebody decides on a page again.

use super::tests::{ON, Setting, symptom};
use super::{Action, leaves_a_stop};
use crate::assessed::Decision;
use crate::diary::SymptomKind;
use jiff::civil::date;

const RED: &[SymptomKind] = &[
    SymptomKind::ChestDiscomfort,
    SymptomKind::Faint,
    SymptomKind::Palpitations,
    SymptomKind::Breathlessness,
    SymptomKind::DeviceShock,
];

/// Good weeks behind them, everything answered, and a stop that nobody has ended.
fn stopped() -> Setting {
    let mut setting = Setting::ready();
    setting.stopped = Some(date(2026, 11, 21));
    setting
}

#[test]
fn every_red_alert_leaves_a_stop_and_no_other_does() {
    for kind in RED {
        let mut setting = Setting::ready();
        setting.entries[2].symptoms = Some(vec![symptom(*kind)]);
        let alerts = setting.review().alerts;
        assert!(alerts.iter().any(|one| leaves_a_stop(&one.key)), "{kind}");
    }
    for key in [
        "review/ask-silence:2026-11-20",
        "review/changed-symptom:a:ankle-swelling",
        "review/stop-screening:2026-11-20",
        "review/ask-medicine-change:a",
        "",
    ] {
        assert!(!leaves_a_stop(key), "{key}");
    }
    assert!(leaves_a_stop("review/red-weight-gain:2026-11-20"));
    assert!(leaves_a_stop("review/red-nitrate-used:a"));
}

#[test]
fn a_stop_gives_no_page_however_good_the_news() {
    let mut setting = stopped();
    let proposal = setting.review().proposal;
    assert_eq!(proposal.action, Action::AskFirst, "{:?}", proposal.because);
    assert_eq!(proposal.to_stage, None);
    setting.stopped = None;
    assert_eq!(
        setting.action(),
        Action::Advance,
        "the same news without it"
    );
}

#[test]
fn the_alert_of_a_stop_is_not_answered_by_words() {
    let mut setting = stopped();
    let first = setting.review().alerts;
    assert_eq!(first.len(), 1, "{first:?}");
    assert!(first[0].ends_with_decision());
    setting.settled = vec![first[0].key.clone()];
    assert_eq!(setting.review().alerts, first);
}

#[test]
fn examined_on_a_later_day_a_person_begins_again_lower_and_never_on_the_same_day() {
    let mut setting = stopped();
    setting.assessed.screening.examined = setting.stopped;
    assert_eq!(
        setting.action(),
        Action::AskFirst,
        "perhaps before the stop"
    );
    setting.assessed.screening.examined = Some(ON);
    let proposal = setting.review().proposal;
    assert_eq!(proposal.action, Action::ReEnter, "{:?}", proposal.because);
    assert_eq!(proposal.to_stage, Some(1), "one page lower than the second");
    setting.assessed.screening.decision = Decision::NotToday;
    assert_eq!(setting.review().proposal.to_stage, None);
}

//! What was watched far outside asks first, whether news of that day came back or only a case file tells of it.

use super::tests::{ON, Setting, entry};
use super::{Action, rules};
use crate::assessment::{Effort, EffortScale, Technique, Watched};
use crate::diary::{Pulse, PulseMoment};
use jiff::civil::{Date, date};

const DAY: Date = date(2026, 11, 24);

fn watched(effort: f64, bpm: f64) -> Watched {
    Watched {
        date: DAY,
        exercise: "march".to_owned(),
        variant: "free".to_owned(),
        effort: Some(Effort {
            scale: EffortScale::ZeroToTen,
            value: effort,
        }),
        hr_bpm: Some(bpm),
        bp: None,
        technique: Technique::Good,
        support: None,
        symptoms: Some(Vec::new()),
    }
}

fn seen(effort: f64, bpm: f64) -> Setting {
    let mut setting = Setting::ready();
    setting.case.watched.push(watched(effort, bpm));
    setting
}

/// A page watched at effort 9 raised no alert, and a case file could tell of a pulse above the hard limit without one.
#[test]
fn what_was_watched_far_outside_asks_first_until_watched_again_in_order() {
    assert_eq!(seen(4.0, 108.0).action(), Action::Advance, "inside");
    assert_eq!(seen(5.0, 100.0).action(), Action::Advance, "not far above");
    for setting in [seen(6.0, 100.0), seen(4.0, 109.0)] {
        let review = setting.review();
        assert_eq!(review.proposal.action, Action::AskFirst);
        let found = review
            .alerts
            .iter()
            .filter(|one| one.rule == rules::ASK_WATCHED);
        assert_eq!(found.count(), 1, "{:?}", review.alerts);
    }
    let mut again = seen(9.0, 160.0);
    again.case.watched.push(Watched {
        date: ON,
        ..watched(3.0, 96.0)
    });
    assert_eq!(again.action(), Action::Advance);
}

#[test]
fn an_answer_settles_what_was_watched_and_a_pulse_told_that_day_speaks_once() {
    let mut setting = seen(4.0, 160.0);
    let key = setting.review().alerts[0].key.clone();
    setting.settled = vec![key];
    assert!(setting.review().alerts.is_empty());

    let mut setting = seen(4.0, 160.0);
    let mut news = entry("watched-7", DAY);
    news.minutes = Some(0.0);
    news.pulses = vec![Pulse {
        at: PulseMoment::EndOfStation(1),
        bpm: 160.0,
        how: None,
    }];
    setting.entries.push(news);
    let alerts = setting.review().alerts;
    let rules: Vec<_> = alerts.iter().map(|one| one.rule).collect();
    assert_eq!(rules, [rules::OVER_CEILING]);
}

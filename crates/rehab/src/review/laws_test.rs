//! Laws of the review on many diaries: answered and open alerts, stops, gaps, changes of page, other scales, no minutes.

use super::tests::{ON, Setting, symptom};
use super::{Action, Given, SymptomClass};
use crate::assessment::{Effort, EffortScale};
use crate::calendar::days_after;
use crate::diary::{Pulse, PulseMoment, SymptomKind};

/// A small generator with a fixed start, so that every run sees the same diaries.
struct Mix(u64);

impl Mix {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }
}

fn random_setting(mix: &mut Mix) -> Setting {
    let mut setting = Setting::ready();
    let back = mix.below(60) as i32;
    // Half of the people are calm, so that some of them may be moved on.
    let odd = if mix.below(2) == 0 { 6 } else { 1 };
    for entry in &mut setting.entries {
        // Some days lie weeks back, so that there are gaps and causes that are no longer recent.
        let far = mix.below(4 * odd) == 0;
        let days = mix.below(if far { 60 } else { 16 });
        entry.date = days_after(ON, -(days as i32));
        if mix.below(2 * odd) == 0 {
            entry.stage = Some(1 + mix.below(3) as u16).filter(|_| mix.below(4) > 0);
        }
        if mix.below(odd) == 0 {
            entry.stations_done = (mix.below(4) > 0).then(|| mix.below(9) as u8);
            entry.effort = (mix.below(4) > 0).then(|| Effort {
                scale: EffortScale::ALL[usize::from(mix.below(5) == 0)],
                value: mix.below(8) as f64,
            });
        }
        entry.minutes = match mix.below(5 * odd) {
            0 => Some(0.0),
            1 => None,
            _ => Some(39.0),
        };
        if mix.below(3 * odd) == 0 {
            let kind = SymptomKind::ALL[mix.below(SymptomKind::ALL.len() as u64) as usize];
            entry.symptoms = Some(vec![symptom(kind)]);
        }
        if mix.below(6 * odd) == 0 {
            entry.stopped_because = Some("day check: ill".to_owned());
        }
        if mix.below(6 * odd) == 0 {
            entry.medicine_change = Some("another water tablet".to_owned());
        }
        if mix.below(4) == 0 {
            entry.pulses = vec![Pulse {
                at: PulseMoment::Before,
                bpm: 60.0 + mix.below(80) as f64,
                how: None,
            }];
        }
    }
    setting.stage_since = (mix.below(6) > 0).then(|| days_after(ON, -back));
    setting.given = setting
        .stage_since
        .map(|date| Given {
            date,
            stage: 2,
            effort: None,
        })
        .into_iter()
        .filter(|_| mix.below(2) == 0)
        .collect();
    if mix.below(4) == 0 {
        setting.stopped = Some(days_after(ON, -(mix.below(20) as i32)));
    }
    if mix.below(2) == 0 {
        let alerts = setting.review().alerts;
        setting.settled = alerts.into_iter().map(|alert| alert.key).collect();
    }
    setting
}

#[test]
fn law_more_symptoms_never_a_higher_rung() {
    let mut mix = Mix(7);
    for _ in 0..2_000 {
        let mut setting = random_setting(&mut mix);
        let before = setting.review().proposal;
        let kind = SymptomKind::ALL[mix.below(SymptomKind::ALL.len() as u64) as usize];
        let entry = mix.below(3) as usize;
        setting.entries[entry]
            .symptoms
            .get_or_insert_default()
            .push(symptom(kind));
        let after = setting.review().proposal;
        let rung = |proposal: &super::Proposal| proposal.to_stage.unwrap_or(0);
        // Writing down symptoms where none were told answers "not told"; only then may the question fall away.
        let was_told = !before
            .because
            .iter()
            .any(|one| one.rule.0.ends_with("symptoms-not-told"));
        if was_told {
            assert!(
                rung(&after) <= rung(&before),
                "{kind}: {before:?} then {after:?}"
            );
        }
    }
}

#[test]
fn law_nobody_with_a_red_or_changed_symptom_is_advanced() {
    let mut mix = Mix(11);
    let (mut open, mut settled) = (0, 0);
    for _ in 0..2_000 {
        let setting = random_setting(&mut mix);
        let review = setting.review();
        let bad = review.symptoms.iter().any(|one| {
            matches!(one.class, SymptomClass::Red | SymptomClass::Changed)
                && one.date >= days_after(ON, -14)
        });
        if bad {
            *(if setting.settled.is_empty() {
                &mut open
            } else {
                &mut settled
            }) += 1;
            assert_ne!(review.proposal.action, Action::Advance);
        }
    }
    assert!(
        open > 150 && settled > 150,
        "the generator must make such diaries: {open}, {settled}"
    );
}

#[test]
fn law_whoever_is_advanced_has_shown_all_that_it_takes() {
    let mut mix = Mix(17);
    let mut advanced = 0;
    for _ in 0..6_000 {
        let setting = random_setting(&mut mix);
        let review = setting.review();
        if review.proposal.action != Action::Advance {
            continue;
        }
        advanced += 1;
        let since = setting.stage_since.expect("the day of the page is known");
        assert!(since <= days_after(ON, -6), "kept for six days");
        assert_eq!(setting.stopped, None);
        assert!(review.alerts.is_empty(), "{:?}", review.alerts);
        let done = setting.entries.iter().filter(|entry| {
            entry.is_session()
                && entry.date >= since
                && entry.stage.is_none_or(|stage| stage == 2)
                && entry.stopped_because.is_none()
                && entry.effort.is_some_and(|effort| {
                    effort.scale == EffortScale::ZeroToTen && effort.value <= 4.0
                })
        });
        let mut days: Vec<_> = done.map(|entry| entry.date).collect();
        days.sort();
        days.dedup();
        assert!(days.len() >= 3, "three days of this page: {days:?}");
        days.push(ON);
        for pair in days.windows(2) {
            assert!(pair[1] <= days_after(pair[0], 14), "a gap: {days:?}");
        }
        let told = setting.entries.iter();
        assert!(told.clone().all(|entry| entry.medicine_change.is_none()));
        assert!(
            told.flat_map(|entry| &entry.pulses)
                .all(|pulse| pulse.bpm < 120.0)
        );
    }
    assert!(
        advanced > 20,
        "the generator must make such diaries: {advanced}"
    );
}

#[test]
fn law_a_stop_gives_no_page_without_an_examination_on_a_later_day() {
    let mut mix = Mix(19);
    let mut seen = 0;
    for _ in 0..2_000 {
        let mut setting = random_setting(&mut mix);
        let Some(since) = setting.stopped else {
            continue;
        };
        setting.assessed.screening.examined = Some(since);
        seen += 1;
        assert_eq!(setting.review().proposal.to_stage, None);
    }
    assert!(seen > 300, "the generator must make stops: {seen}");
}

#[test]
fn law_the_order_of_entries_changes_nothing() {
    let mut mix = Mix(13);
    for _ in 0..300 {
        let mut setting = random_setting(&mut mix);
        let forward = setting.review();
        setting.entries.reverse();
        assert_eq!(forward, setting.review());
    }
}

//! What the pulses of an entry lead to.

use super::Action;
use super::tests::{Setting, last};
use super::told_test::keys;
use crate::assessed::{Ceiling, CeilingKind};
use crate::diary::{Pulse, PulseMoment, SymptomKind};
use crate::quantity::HeartRate;

pub(super) fn with_pulse(at: PulseMoment, bpm: f64) -> Setting {
    let mut setting = Setting::ready();
    // Of the whole entry the highest counts, wherever it stands.
    let pulse = |at, bpm| Pulse { at, bpm, how: None };
    last(&mut setting).pulses = vec![pulse(at, 60.0), pulse(at, bpm)];
    setting
}

// Source: day-gate-ours: from 120; the hard ceiling of this person is 108.
#[test]
fn every_pulse_is_held_against_the_hard_ceiling_and_a_very_fast_one_before_stops() {
    for at in [
        PulseMoment::Before,
        PulseMoment::EndOfStation(2),
        PulseMoment::SixtySecondsAfter,
    ] {
        assert_eq!(with_pulse(at, 99.0).action(), Action::Advance, "{at:?}");
        let over = keys(&with_pulse(at, 109.0));
        assert!(
            over.contains(&"review/step-back-over-ceiling:c".to_owned()),
            "{at:?}: {over:?}"
        );
    }
    assert_eq!(
        with_pulse(PulseMoment::Before, 119.0).action(),
        Action::AskFirst
    );
    let mut setting = with_pulse(PulseMoment::Before, 120.0);
    assert_eq!(setting.action(), Action::StopAndContact);
    setting.assessed.limits.ceiling = None;
    assert_eq!(
        setting.action(),
        Action::StopAndContact,
        "without a ceiling too"
    );
}

#[test]
fn past_the_hard_ceiling_on_the_first_page_there_is_none_until_somebody_asked() {
    let mut setting = with_pulse(PulseMoment::EndOfStation(2), 109.0);
    assert_eq!(setting.review().proposal.to_stage, Some(1));
    setting.current_stage = 1;
    for entry in &mut setting.entries {
        entry.stage = Some(1);
    }
    let proposal = setting.review().proposal;
    assert_eq!(
        (proposal.action, proposal.to_stage),
        (Action::AskFirst, None)
    );
}

/// The session page asks for a pulse before and a minute after the last turn: neither may pass unheard.
#[test]
fn a_pulse_that_stays_high_after_the_last_turn_moves_nobody_on() {
    for (bpm, wanted) in [(84.0, Action::Advance), (125.0, Action::AskFirst)] {
        let mut setting = Setting::ready();
        setting.assessed.limits.ceiling = None;
        for one in &mut setting.entries {
            one.pulses = vec![Pulse {
                at: PulseMoment::SixtySecondsAfter,
                bpm,
                how: None,
            }];
        }
        assert_eq!(setting.action(), wanted, "{bpm}");
    }
}

#[test]
fn a_guiding_ceiling_is_held_against_every_pulse_that_is_told() {
    for moment in [PulseMoment::EndOfStation(2), PulseMoment::SixtySecondsAfter] {
        let mut setting = with_pulse(moment, 109.0);
        let ceiling = setting.assessed.limits.ceiling.as_mut().expect("a ceiling");
        ceiling.kind = CeilingKind::Guiding;
        let latest = setting.entries.len() - 3;
        let pulses = setting.entries.iter().find(|one| !one.pulses.is_empty());
        let pulses = pulses.expect("a pulse is told").pulses.clone();
        for one in &mut setting.entries[latest..] {
            one.pulses.clone_from(&pulses);
        }
        assert_eq!(setting.action(), Action::Hold, "{moment:?}");
    }
}

fn after_the_way_down(before: Option<f64>, after: f64) -> Setting {
    let mut setting = Setting::ready();
    let pulse = |at, bpm| Pulse { at, bpm, how: None };
    let before = before.map(|bpm| pulse(PulseMoment::Before, bpm));
    let after = pulse(PulseMoment::AfterCoolDown, after);
    last(&mut setting).pulses = before.into_iter().chain([after]).collect();
    setting
}

// Source: thow-2006: within 10 bpm of the pulse before; this person's pulse at rest is 64.
#[test]
fn a_pulse_that_has_not_come_back_after_the_cool_down_holds_and_is_asked_about() {
    let rule = "review/hold-after-cool-down:c".to_owned();
    for (before, after, wanted) in [
        (Some(70.0), 80.0, Action::Advance),
        (Some(70.0), 81.0, Action::Hold),
        (None, 74.0, Action::Advance),
        (None, 75.0, Action::Hold),
    ] {
        let mut setting = after_the_way_down(before, after);
        assert_eq!(setting.action(), wanted, "{before:?} {after}");
        let held = wanted == Action::Hold;
        assert_eq!(keys(&setting).contains(&rule), held, "{before:?} {after}");
        setting.settled = vec![rule.clone()];
        assert_eq!(setting.action(), Action::Advance, "asked and answered");
    }
    let mut near = after_the_way_down(Some(70.0), 76.0);
    assert_eq!(near.action(), Action::Advance);
    near.service.cool_down_within_bpm = 5.0;
    assert_eq!(near.action(), Action::Hold, "the service's own setting");
}

#[test]
fn where_no_pulse_means_anything_none_is_expected_to_come_back() {
    let mut setting = after_the_way_down(Some(70.0), 99.0);
    setting.assessed.limits.pulse_model = false;
    assert_eq!(setting.action(), Action::Advance);
    let mut unknown = after_the_way_down(None, 99.0);
    unknown.assessed.limits.resting_hr = None;
    assert_eq!(
        unknown.action(),
        Action::Advance,
        "nothing to hold it against"
    );
}

#[test]
fn after_the_cool_down_a_pulse_over_the_ceiling_or_too_slow_or_very_fast_is_heard_as_ever() {
    let told = |bpm: f64| keys(&after_the_way_down(None, bpm));
    assert!(told(109.0).contains(&"review/step-back-over-ceiling:c".to_owned()));
    assert!(told(34.0).contains(&"review/red-slow-pulse:c".to_owned()));
    assert!(told(125.0).contains(&"review/ask-fast-after:c".to_owned()));
}

// Sources: day-gate-practice: under 40, under 50 with symptoms.
#[test]
fn a_slow_pulse_stops_wherever_it_was_taken() {
    for at in [
        PulseMoment::Before,
        PulseMoment::EndOfStation(2),
        PulseMoment::SixtySecondsAfter,
    ] {
        assert_eq!(with_pulse(at, 41.0).action(), Action::Advance, "{at:?}");
        let setting = with_pulse(at, 34.0);
        assert_eq!(setting.action(), Action::StopAndContact, "{at:?}");
        assert!(keys(&setting).contains(&"review/red-slow-pulse:c".to_owned()));
    }
    let mut dizzy = with_pulse(PulseMoment::Before, 46.0);
    last(&mut dizzy).symptoms = Some(vec![super::tests::symptom(SymptomKind::Dizziness)]);
    assert!(keys(&dizzy).contains(&"review/red-slow-pulse:c".to_owned()));
}

/// One pulse far above a rate that only guides was passed over, and the person moved on.
#[test]
fn one_pulse_far_above_a_guiding_rate_is_asked_about() {
    let told = |bpm: f64| {
        let mut setting = with_pulse(PulseMoment::EndOfStation(2), bpm);
        setting.assessed.limits.ceiling = Some(Ceiling {
            rate: HeartRate::bpm(97.0),
            kind: CeilingKind::Guiding,
        });
        setting.action()
    };
    assert_eq!(told(117.0), Action::Advance, "once, and not far");
    assert_eq!(told(118.0), Action::Hold);
    assert_eq!(told(150.0), Action::Hold);
}

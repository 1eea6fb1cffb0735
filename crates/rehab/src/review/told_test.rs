//! What an entry tells is heard, stays until it is answered, and what it leaves out never counts as good.

use super::pulses_test::with_pulse;
use super::tests::{ON, Setting, entry, last, symptom};
use super::{Action, Urgency, leaves_a_stop};
use crate::assessed::{Ceiling, CeilingKind, Decision, RiskClass};
use crate::assessment::{
    Effort, EffortScale, Examination, HistoryItem, Pressure, StatusKind, UsualSymptom,
};
use crate::calendar::days_after;
use crate::diary::{DiaryEntry, DiarySymptom, JointPain, Pulse, PulseMoment, SymptomKind};
use crate::evidence::{Finding, Named, RuleId, Tag, Weight};
use crate::quantity::HeartRate;
use crate::service::ScreeningSet;
use jiff::civil::{Date, date};

/// What stands where no session was done.
fn left_out(because: &str) -> DiaryEntry {
    DiaryEntry {
        stations_planned: Some(8),
        stations_done: Some(0),
        effort: None,
        minutes: Some(0.0),
        stopped_because: Some(because.to_owned()),
        ..entry("left-out", ON)
    }
}

pub(super) fn keys(setting: &Setting) -> Vec<String> {
    let alerts = setting.review().alerts;
    alerts.into_iter().map(|alert| alert.key).collect()
}

fn settle(setting: &mut Setting) {
    setting.settled = keys(setting);
}

#[test]
fn a_session_left_out_by_the_day_check_or_feeling_unwell_is_answered_today() {
    for because in ["day check: ill", "unwell: low-sugar", "felt poorly"] {
        let mut setting = Setting::ready();
        setting.entries.push(left_out(because));
        let review = setting.review();
        assert_eq!(review.proposal.action, Action::StopAndContact, "{because}");
        assert_eq!(review.alerts.len(), 1, "{because}");
        assert_eq!(review.alerts[0].urgency, Urgency::Today);
        assert!(leaves_a_stop(&review.alerts[0].key));
        settle(&mut setting);
        assert_eq!(setting.action(), Action::Hold, "{because}: for a fortnight");
    }
    let mut setting = Setting::ready();
    last(&mut setting).stopped_because = Some("unwell: other".to_owned());
    assert_eq!(setting.action(), Action::StopAndContact, "within a session");
    let mut setting = Setting::ready();
    setting.entries.push(left_out("interrupted"));
    assert_eq!(setting.action(), Action::Advance, "only put away early");
}

fn examined(on: Date) -> Examination {
    Examination {
        resting_hr_bpm: Some(64.0),
        ..Examination::on(on)
    }
}

#[test]
fn a_change_of_medicine_asks_until_somebody_has_examined_later() {
    let mut setting = Setting::ready();
    let told = setting.entries[0].date;
    setting.entries[0].medicine_change = Some("another water tablet".to_owned());
    settle(&mut setting);
    assert_eq!(setting.action(), Action::AskFirst, "answered in words");
    setting.case.examinations.push(examined(told));
    assert_eq!(setting.action(), Action::AskFirst, "perhaps before it");
    let mut weighed = Examination::on(days_after(told, 1));
    weighed.weight_kg = Some(71.0);
    setting.case.examinations.push(weighed);
    assert_eq!(setting.action(), Action::AskFirst, "only weighed");
    setting
        .case
        .examinations
        .push(examined(days_after(told, 1)));
    assert_eq!(setting.action(), Action::Advance);
}

// Source: day-gate-ours: from 180 systolic or 100 diastolic; day-gate-practice: under 90. uk-phase-iv: above 180.
#[test]
fn published_cut_offs_judge_a_pressure_told() {
    let told = |systolic: f64, diastolic: f64, set: ScreeningSet| {
        let mut setting = Setting::ready();
        setting.service.screening_set = set;
        last(&mut setting).pressure = Some(Pressure {
            systolic_mmhg: systolic,
            diastolic_mmhg: diastolic,
        });
        setting.action()
    };
    let ours = ScreeningSet::Cautious;
    assert_eq!(told(179.0, 99.0, ours), Action::Advance);
    for (systolic, diastolic) in [(180.0, 80.0), (150.0, 100.0), (89.0, 60.0)] {
        assert_eq!(told(systolic, diastolic, ours), Action::StopAndContact);
    }
    assert_eq!(told(180.0, 100.0, ScreeningSet::UkPhaseIv), Action::Advance);
}

/// The ceiling that guides lies lower, but a peak that was measured once stays what no pulse should pass.
#[test]
fn a_pulse_over_a_peak_measured_once_is_asked_about_where_only_a_guiding_ceiling_is_left() {
    let mut setting = with_pulse(PulseMoment::EndOfStation(2), 108.0);
    setting.assessed.limits.ceiling = Some(Ceiling {
        rate: HeartRate::bpm(90.0),
        kind: CeilingKind::Guiding,
    });
    let over =
        |setting: &Setting| keys(setting).contains(&"review/step-back-over-ceiling:c".to_owned());
    assert!(!over(&setting));
    setting.assessed.limits.never_passed = Some(HeartRate::bpm(94.0));
    assert!(over(&setting));
    assert_eq!(setting.action(), Action::StepBack);
}

#[test]
fn an_open_question_stands_longer_than_a_fortnight() {
    let old = |change: &dyn Fn(&mut DiaryEntry)| {
        let mut setting = Setting::ready();
        setting.stage_since = Some(date(2026, 10, 20));
        let mut one = entry("old", days_after(ON, -20));
        change(&mut one);
        setting.entries.push(one);
        setting.entries.push(entry("between", days_after(ON, -10)));
        setting
    };
    let not_told = |one: &mut DiaryEntry| one.symptoms = None;
    let contradicts = |one: &mut DiaryEntry| one.stations_done = Some(9);
    let fast = |one: &mut DiaryEntry| {
        one.pulses = vec![Pulse {
            at: PulseMoment::Before,
            bpm: 101.0,
            how: None,
        }];
    };
    for change in [&not_told as &dyn Fn(&mut DiaryEntry), &contradicts, &fast] {
        let mut setting = old(change);
        let review = setting.review();
        assert_eq!(review.proposal.action, Action::AskFirst);
        assert_eq!(review.alerts.len(), 1);
        assert_eq!(review.alerts[0].urgency, Urgency::ThisWeek);
        settle(&mut setting);
        assert_eq!(setting.action(), Action::Advance, "answered, and long ago");
    }
}

#[test]
fn effort_on_another_scale_is_not_told() {
    let mut setting = Setting::ready();
    last(&mut setting).effort = Some(Effort {
        scale: EffortScale::SixToTwenty,
        value: 11.0,
    });
    assert_eq!(setting.action(), Action::Hold);
}

#[test]
fn what_is_not_told_to_be_finished_does_not_count() {
    let mut setting = Setting::ready();
    for entry in &mut setting.entries {
        entry.stations_done = None;
    }
    // 39 minutes of a page of 30.
    assert_eq!(setting.action(), Action::Advance);
    last(&mut setting).minutes = None;
    assert_eq!(setting.action(), Action::Hold);
}

#[test]
fn a_day_that_is_not_known_is_early() {
    let mut setting = Setting::ready();
    setting.stage_since = None;
    assert_eq!(setting.action(), Action::Hold);
}

#[test]
fn pain_of_which_the_next_morning_is_not_told_holds_until_it_is() {
    let mut setting = Setting::ready();
    let pain = |during, worse_next_morning| {
        Some(JointPain {
            during,
            worse_next_morning,
        })
    };
    setting.entries[1].joint_pain = pain(Some(2.0), None);
    assert_eq!(setting.action(), Action::Hold);
    assert!(setting.review().proposal.ease.is_empty(), "not sore");
    last(&mut setting).joint_pain = pain(None, Some(false));
    assert_eq!(setting.action(), Action::Advance);
    setting.entries[1].joint_pain = pain(Some(0.0), None);
    last(&mut setting).joint_pain = None;
    assert_eq!(
        setting.action(),
        Action::Advance,
        "no pain, no morning after"
    );
}

#[test]
fn heart_failure_never_asked_is_not_absent() {
    let mut setting = Setting::ready();
    for (entry, kg) in setting.entries.iter_mut().zip([70.0, 70.0, 71.8]) {
        entry.weight_kg = Some(kg);
    }
    assert_eq!(setting.action(), Action::Advance);
    setting.case.history.absent.clear();
    assert_eq!(setting.action(), Action::StopAndContact);
}

#[test]
fn worse_breathlessness_is_red_in_heart_failure() {
    let mut setting = Setting::ready();
    setting.case.usual_symptoms = vec![UsualSymptom {
        kind: SymptomKind::Breathlessness,
        score: None,
    }];
    last(&mut setting).symptoms = Some(vec![symptom(SymptomKind::Breathlessness)]);
    assert_eq!(setting.action(), Action::Hold);
    setting.case.history.absent.clear();
    assert_eq!(setting.action(), Action::StopAndContact, "never asked");
    setting.case.history.present.push(HistoryItem::HeartFailure);
    assert_eq!(setting.action(), Action::StopAndContact);
}

#[test]
fn a_score_without_a_recorded_one_is_not_usual() {
    let mut setting = Setting::ready();
    setting.case.usual_symptoms = vec![UsualSymptom {
        kind: SymptomKind::ChestDiscomfort,
        score: None,
    }];
    let as_usual = DiarySymptom {
        usual: Some(true),
        ..symptom(SymptomKind::ChestDiscomfort)
    };
    last(&mut setting).symptoms = Some(vec![as_usual.clone()]);
    assert_eq!(setting.action(), Action::Advance);
    last(&mut setting).symptoms = Some(vec![DiarySymptom {
        score: Some(9.0),
        ..as_usual
    }]);
    assert_eq!(setting.action(), Action::StopAndContact);
}

#[test]
fn a_symptom_recorded_as_usual_later_stays_what_it_was_when_it_came() {
    let mut setting = Setting::ready();
    let told = DiarySymptom {
        usual: Some(true),
        ..symptom(SymptomKind::ChestDiscomfort)
    };
    last(&mut setting).symptoms = Some(vec![told]);
    setting.heard = setting.review().symptoms;
    setting.case.usual_symptoms = vec![UsualSymptom {
        kind: SymptomKind::ChestDiscomfort,
        score: None,
    }];
    assert_eq!(setting.action(), Action::StopAndContact);
    setting.heard.clear();
    assert_eq!(
        setting.action(),
        Action::Advance,
        "told after it was recorded"
    );
}

#[test]
fn whoever_left_is_still_heard_where_it_is_red() {
    let mut setting = Setting::ready();
    setting.case.status.kind = StatusKind::Discharged;
    last(&mut setting).medicine_change = Some("another water tablet".to_owned());
    assert!(keys(&setting).is_empty());
    last(&mut setting).symptoms = Some(vec![symptom(SymptomKind::ChestDiscomfort)]);
    assert_eq!(
        keys(&setting),
        ["review/red-chest-discomfort:c:chest-discomfort"]
    );
    setting.case.status.kind = StatusKind::Died;
    assert!(keys(&setting).is_empty());
}

fn finding(rule: &'static str, day: Option<Date>) -> Finding {
    Finding {
        rule: RuleId(rule),
        weight: Weight::NotToday,
        text: String::new(),
        values: day
            .map(|day| Named::date("since", day))
            .into_iter()
            .collect(),
        sources: Vec::new(),
        tag: Tag::Ours,
        ask: None,
    }
}

#[test]
fn an_answered_screening_swallows_no_further_cause() {
    let mut setting = Setting::ready();
    setting.assessed.screening.decision = Decision::NotToday;
    let first = finding("day/systolic-high", None);
    let second = finding("screening/medicine", Some(date(2026, 11, 22)));
    let later = finding("screening/medicine", Some(date(2026, 11, 24)));
    setting.assessed.screening.findings = vec![first.clone()];
    settle(&mut setting);
    assert!(keys(&setting).is_empty());
    setting.assessed.screening.findings = vec![first, second.clone()];
    assert_eq!(
        keys(&setting),
        ["review/stop-screening:2026-11-20:screening/medicine@2026-11-22"]
    );
    setting.settled.extend(keys(&setting));
    assert!(keys(&setting).is_empty());
    setting.assessed.screening.findings = vec![second];
    assert!(keys(&setting).is_empty(), "one of them fell away");
    setting.assessed.screening.findings = vec![later];
    assert_eq!(keys(&setting).len(), 1, "the same rule on a later day");
}

#[test]
fn an_alert_of_the_screening_or_of_silence_reaches_the_lead() {
    let mut setting = Setting::ready();
    setting.assessed.screening.decision = Decision::NotToday;
    setting.assessed.screening.findings = vec![finding("day/systolic-high", None)];
    let alert = setting.review().alerts.remove(0);
    assert_eq!(
        alert.since,
        date(2026, 11, 20),
        "the day of the examination"
    );
    assert!(alert.is_with_lead(ON));
    let mut setting = Setting::ready();
    setting.entries.clear();
    setting.contacts.clear();
    setting.assessed.risk.class = RiskClass::High;
    let alert = setting.review().alerts.remove(0);
    assert_eq!(alert.since, date(2026, 11, 12), "the day of the page");
    assert!(alert.is_with_lead(ON), "{alert:?}");
}

#[test]
fn a_reason_in_own_words_for_stopping_early_is_read_by_somebody() {
    let stopped = |why: &str| {
        let mut setting = Setting::ready();
        last(&mut setting).stopped_because = Some(why.to_owned());
        last(&mut setting).note = Some("rang my daughter".to_owned());
        setting
    };
    let setting = stopped("chest pain on the stairs");
    assert_eq!(setting.action(), Action::AskFirst);
    let texts: Vec<String> = setting
        .review()
        .own_words
        .into_iter()
        .map(|(_, text)| text)
        .collect();
    assert_eq!(texts, ["rang my daughter", "chest pain on the stairs"]);
    for ours in [
        "interrupted",
        "went to the way down early",
        "not to the end",
    ] {
        assert_eq!(stopped(ours).action(), Action::Hold, "{ours}");
    }
}

// Source: us-heart-failure-patients: 5 lb within a week.
#[test]
fn weight_gained_between_days_without_a_weight_stops_too() {
    let gained = |days: i32, kg: f64| {
        let mut setting = Setting::ready();
        setting.case.history.absent.clear();
        setting.case.history.present.push(HistoryItem::HeartFailure);
        let mut before = entry("before", days_after(ON, -days));
        before.weight_kg = Some(88.0);
        setting.entries.push(before);
        let mut now = entry("now", ON);
        now.weight_kg = Some(88.0 + kg);
        setting.entries.push(now);
        keys(&setting)
            .iter()
            .any(|key| key.starts_with("review/red-weight-gain"))
    };
    assert!(gained(4, 4.0) && gained(7, 2.3) && gained(3, 1.8));
    assert!(!gained(4, 2.2) && !gained(8, 4.0));
}

//! An alert that was raised stays until somebody writes what was done, whatever the case says later.

use super::stops_test::reviewed;
use super::tests::{answered, entry, fold};
use super::{Channel, Happening};
use crate::assessment::{Case, CaseId, Device, Examination, HistoryItem};
use crate::diary::{DiaryEntry, Pulse, PulseMoment};
use jiff::civil::{Date, date};

const fn day(day: i8) -> Date {
    date(2026, 11, day)
}

fn heard(on: Date, entry: DiaryEntry) -> (Date, Happening) {
    let news = Happening::Diary {
        channel: Channel::Call,
        entries: vec![entry],
    };
    (on, news)
}

fn keys(happened: &[(Date, Happening)], on: Date) -> Vec<String> {
    let alerts = reviewed(&fold(happened, on), on).alerts;
    alerts.into_iter().map(|alert| alert.key).collect()
}

/// Somebody whose device treats from a rate on: the hard ceiling lies 20 under it (source: `service-ours`).
fn treated_from(bpm: f64) -> Happening {
    let mut case = Case::unknown(CaseId("invented-1951".to_owned()));
    case.heart.device = Some(Device {
        lowest_treated_bpm: Some(bpm),
        last_shock: None,
        subcutaneous: None,
    });
    Happening::Case(Box::new(case))
}

#[test]
fn a_pulse_over_the_ceiling_is_asked_about_also_where_the_ceiling_is_raised_later() {
    const KEY: &str = "review/step-back-over-ceiling:a";
    let mut fast = entry("a", day(10));
    fast.pulses = vec![Pulse {
        at: PulseMoment::EndOfStation(2),
        bpm: 155.0,
        how: None,
    }];
    let raised = || vec![(day(1), treated_from(170.0)), heard(day(11), fast.clone())];
    let over = |happened: &[_]| keys(happened, day(20)).iter().any(|key| key == KEY);
    assert!(over(&raised()), "155 against 150");
    let mut higher = raised();
    higher.push((day(12), treated_from(200.0)));
    assert!(over(&higher), "raised and not settled");
    let mut lowered = vec![(day(1), treated_from(200.0)), heard(day(11), fast.clone())];
    assert!(!over(&lowered), "155 against 180");
    lowered.push((day(12), treated_from(170.0)));
    lowered.push((day(13), treated_from(200.0)));
    assert!(over(&lowered), "raised on the day between");
    let mut settled = higher.clone();
    settled.push(answered(day(14), KEY));
    assert!(!over(&settled));
    let never = vec![
        (day(1), treated_from(170.0)),
        (day(2), treated_from(200.0)),
        heard(day(11), fast),
    ];
    assert!(!over(&never), "told only after the device was set anew");
}

/// Source: heart-fail-rev-2023: 1.8 kg or more within 3 days in heart failure.
#[test]
fn a_weight_that_rose_in_heart_failure_is_asked_about_also_where_the_failure_is_written_off_later()
{
    let failing = |answer: fn(&mut Case)| {
        let mut case = Case::unknown(CaseId("invented-1951".to_owned()));
        let mut weighed = Examination::on(day(9));
        weighed.weight_kg = Some(70.0);
        case.examinations.push(weighed);
        answer(&mut case);
        Happening::Case(Box::new(case))
    };
    let present = failing(|case| case.history.present.push(HistoryItem::HeartFailure));
    let absent = failing(|case| case.history.absent.push(HistoryItem::HeartFailure));
    let mut heavier = entry("a", day(11));
    heavier.weight_kg = Some(71.8);
    let rose = |happened: &[_]| {
        let all = keys(happened, day(20));
        all.iter()
            .any(|key| key.starts_with("review/red-weight-gain:"))
    };
    let mut happened = vec![(day(1), present), heard(day(11), heavier.clone())];
    assert!(rose(&happened));
    happened.push((day(12), absent.clone()));
    assert!(rose(&happened), "raised and not settled");
    assert!(!rose(&[(day(1), absent), heard(day(11), heavier)]));
}

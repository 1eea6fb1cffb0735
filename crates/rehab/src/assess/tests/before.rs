//! What was found in the days before holds too: fever and very low sugar.

use super::*;
use crate::calendar::days_after;

/// Examined well on the day and so many days before, the earlier one changed.
fn with_earlier(days_before: i32, change: impl FnOnce(&mut Examination)) -> Assessed {
    changed(|case| {
        let mut earlier = case.examinations[0].clone();
        earlier.date = days_after(ON, -days_before);
        change(&mut earlier);
        case.examinations[0].date = ON;
        case.examinations.insert(0, earlier);
    })
}

// Source: uk-phase-iv (training cards, secondary): 48 hours without fever. Only days are recorded: a fever on the evening
// two days ago may lie under 48 hours back, one three days ago does not.
#[test]
fn published_48_hours_without_fever_hold_to_the_second_day() {
    let fever = |days| {
        with_earlier(days, |one| {
            one.symptoms = Some(vec![ExaminationSymptom::Fever])
        })
        .screening
        .decision
    };
    let measured = |days| {
        with_earlier(days, |one| one.temperature_c = Some(38.2))
            .screening
            .decision
    };
    for days in [1, 2] {
        assert_eq!(fever(days), Decision::NotToday, "{days} days");
        assert_eq!(measured(days), Decision::NotToday, "{days} days");
    }
    assert_eq!(fever(3), Decision::Exercise);
    assert_eq!(measured(3), Decision::Exercise);
}

// Source: ada-2016 and the position of 2019 on low values: none under 2.9 mmol/L within 24 hours.
#[test]
fn published_very_low_sugar_within_a_day_holds_whatever_the_newest_reading_says() {
    let after = |days: i32, earlier: f64| {
        let mut case = fenwick();
        case.history.present.push(HistoryItem::Diabetes);
        let mut first = case.examinations[0].clone();
        first.date = days_after(ON, -days);
        first.glucose_mmol_l = Some(earlier);
        case.examinations[0].date = ON;
        case.examinations[0].glucose_mmol_l = Some(6.0);
        case.examinations.insert(0, first);
        today(&case).screening.decision
    };
    assert_eq!(after(0, 2.8), Decision::NotToday);
    assert_eq!(after(1, 2.8), Decision::NotToday);
    assert_eq!(after(2, 2.8), Decision::Exercise);
    assert_eq!(after(1, 2.9), Decision::Exercise);
}

#[test]
fn a_very_low_reading_between_two_others_is_not_overlooked() {
    let assessed = changed(|case| {
        case.examinations[0].date = ON;
        case.examinations[0].glucose_mmol_l = Some(6.0);
        let mut low = case.examinations[0].clone();
        low.glucose_mmol_l = Some(2.5);
        let mut middling = case.examinations[0].clone();
        middling.glucose_mmol_l = Some(4.5);
        case.examinations.insert(0, middling);
        case.examinations.insert(0, low);
    });
    assert_eq!(assessed.screening.decision, Decision::NotToday);
    assert!(speaks(&assessed, "day/assisted-hypoglycaemia"));
}

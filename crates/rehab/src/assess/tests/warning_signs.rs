//! Signs that were recorded and did nothing: each must hold, caution or ask.

use super::*;
use crate::assessment::{ExerciseTestSymptom, UsualSymptom};
use crate::diary::SymptomKind;

fn decision(change: impl FnOnce(&mut Case)) -> Decision {
    changed(change).screening.decision
}

#[test]
fn swelling_that_no_earlier_examination_shows_holds() {
    let swollen = |case: &mut Case| case.examinations[0].oedema = Some(true);
    let before = |case: &mut Case, oedema| {
        case.examinations.push(Examination {
            oedema,
            ..Examination::on(date(2026, 11, 2))
        });
    };
    assert_eq!(decision(swollen), Decision::NotToday);
    for (earlier, expected) in [
        (None, Decision::NotToday),
        (Some(false), Decision::NotToday),
        (Some(true), Decision::Exercise),
    ] {
        let answer = changed(|case| {
            swollen(case);
            before(case, earlier);
        });
        assert_eq!(answer.screening.decision, expected, "{earlier:?}");
        assert!(speaks(&answer, "day/swelling"));
    }
    assert!(!speaks(&today(&fenwick()), "day/swelling"));
}

#[test]
fn the_standing_pressure_is_held_against_the_cut_offs_too() {
    for (standing, rule) in [
        (pressure(70.0, 40.0), "day/systolic-low"),
        (pressure(200.0, 80.0), "day/systolic-high"),
        (pressure(130.0, 115.0), "day/diastolic-high"),
    ] {
        let answer = changed(|case| case.examinations[0].standing_bp = Some(standing));
        assert_eq!(answer.screening.decision, Decision::NotToday, "{rule}");
        assert!(speaks(&answer, rule), "{rule}");
    }
}

#[test]
fn dizziness_on_standing_without_a_standing_pressure_blocks_signing() {
    let dizzy = changed(|case| {
        case.examinations[0].standing_bp = None;
        case.examinations[0].symptoms = Some(vec![ExaminationSymptom::DizzinessOnStanding]);
    });
    assert_eq!(
        asks(&dizzy, "day/orthostatic-fall"),
        Some(Weight::BlocksSigning)
    );
    let well = changed(|case| case.examinations[0].standing_bp = None);
    assert_eq!(asks(&well, "day/orthostatic-fall"), Some(Weight::FindOut));
}

// Source: Heart Fail Rev 2023, table 1: significant ischaemia at low load (under 2 METs) is absolute.
#[test]
fn published_ischaemia_under_2_mets_in_a_test_is_a_contraindication() {
    let test = |peak_mets, ischaemia| {
        decision(move |case| {
            case.tests.push(exercise_test(ExerciseTest {
                ischaemia_hr_bpm: ischaemia,
                ..clean_test(peak_mets, 100.0)
            }));
        })
    };
    assert_ne!(test(1.9, Some(95.0)), Decision::Exercise);
    assert_eq!(test(1.9, None), Decision::Exercise);
    let angina_at = |symptom_mets| {
        changed(move |case| {
            case.tests.push(exercise_test(ExerciseTest {
                symptoms: Some(vec![ExerciseTestSymptom::Angina]),
                symptom_mets: Some(symptom_mets),
                ..clean_test(6.0, 110.0)
            }));
        })
    };
    let rule = "contraindication/ischaemia-at-low-load";
    assert!(speaks(&angina_at(1.9), rule));
    assert!(!speaks(&angina_at(2.0), rule));
}

#[test]
fn an_inotrope_among_the_medicines_is_inotrope_therapy() {
    let answer = changed(|case| {
        let mut drip = case.medicines[0].clone();
        drip.name = "dobutamine".to_owned();
        case.medicines.push(drip);
    });
    assert_eq!(answer.screening.decision, Decision::NotAtHome);
    assert!(speaks(&answer, "contraindication/inotrope-therapy"));
}

#[test]
fn a_device_that_nobody_named_may_be_a_defibrillator() {
    let answer = changed(|case| {
        case.events[0].kind = EventKind::DeviceImplant;
        case.events[0].procedures.clear();
    });
    assert_eq!(
        asks(&answer, "ceiling/device-rate-known"),
        Some(Weight::BlocksSigning)
    );
    let pacemaker = changed(|case| {
        case.events[0].kind = EventKind::DeviceImplant;
        case.events[0].procedures[0].kind = ProcedureKind::Pacemaker;
    });
    assert_eq!(asks(&pacemaker, "ceiling/device-rate-known"), None);
}

#[test]
fn a_warning_sign_at_an_earlier_examination_waits_for_the_doctor() {
    let told = |symptom, day, agreed| {
        let answer = changed(move |case| {
            case.examinations.push(Examination {
                symptoms: Some(vec![symptom]),
                ..Examination::on(day)
            });
            case.agreement = agreed;
        });
        asks(&answer, "day/earlier-warning-sign")
    };
    let faint = ExaminationSymptom::Faint;
    // The newest examination is of 12 November, the answer for 25 November.
    let blocks = Some(Weight::BlocksSigning);
    assert_eq!(told(faint, date(2026, 11, 11), None), blocks);
    assert_eq!(told(faint, date(2026, 11, 10), None), None);
    assert_eq!(
        told(ExaminationSymptom::VeryTired, date(2026, 11, 11), None),
        None
    );
    let agreement = Agreement {
        doctor: "Dr Odile Marsh".to_owned(),
        date: date(2026, 11, 12),
    };
    assert_eq!(told(faint, date(2026, 11, 11), Some(agreement)), None);
}

#[test]
fn chest_pain_on_exertion_is_usual_only_where_it_is_recorded_as_usual() {
    let angina_once = |case: &mut Case| {
        case.events[0].kind = EventKind::Angina;
        case.examinations[0].symptoms = Some(vec![ExaminationSymptom::ChestPainOnExertion]);
    };
    assert_eq!(decision(angina_once), Decision::NotToday);
    let recorded = decision(|case| {
        angina_once(case);
        case.usual_symptoms.push(UsualSymptom {
            kind: SymptomKind::ChestDiscomfort,
            score: Some(3.0),
        });
    });
    assert_eq!(recorded, Decision::Exercise);
}

#[test]
fn an_opened_breastbone_is_a_caution_for_six_weeks() {
    let opened = |day| {
        let answer = changed(move |case| {
            case.events[0].kind = EventKind::BypassSurgery;
            case.events[0].date = Some(day);
            case.events[0].procedures.clear();
        });
        speaks(&answer, "screening/opened-heart-under-6-weeks")
    };
    assert!(opened(date(2026, 10, 15)));
    assert!(!opened(date(2026, 10, 14)));
}

#[test]
fn a_nitrate_beside_a_medicine_that_is_not_recognised_blocks_signing() {
    let answer = changed(|case| {
        let mut unread = case.medicines[0].clone();
        unread.name = "Blauwert forte".to_owned();
        case.medicines.push(unread);
    });
    let rule = "medicine/nitrate-with-pde5";
    assert_eq!(asks(&answer, rule), Some(Weight::BlocksSigning));
    assert_eq!(asks(&today(&fenwick()), rule), None);
}

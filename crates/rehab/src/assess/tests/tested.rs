//! What exercise and step tests hold: several of one day, a line that ends too early, an ischaemic rate beside a device.

use super::*;
use crate::assessed::RiskClass;
use crate::assessment::{ExerciseTestSymptom, StepStage};

/// A step test whose last stage lies near the predicted peak, and the activity questionnaire, which says more.
fn stepped() -> Vec<Test> {
    let stage = |hr_bpm| StepStage {
        hr_bpm,
        effort: None,
    };
    let taken = |result| Test {
        result,
        ..exercise_test(ExerciseTest::unknown())
    };
    vec![
        taken(TestResult::Step {
            step_height_m: 0.15,
            stages: vec![stage(90.0), stage(100.0), stage(111.0)],
        }),
        taken(TestResult::ActivityStatus {
            yes: vec![1, 2, 3, 4, 5, 6, 7, 8, 9],
        }),
    ]
}

/// By hand: Brawner gives 164 - 0.7 x 75 = 111.5, above the last stage; with a weak ventricle Keteyian gives
/// 119 + 0.5 x 56 - 0.5 x 75 = 109.5, under it.
#[test]
fn a_predicted_peak_under_a_stage_of_the_step_test_never_loosens_the_limits() {
    let with = |fraction: f64| {
        let mut case = fenwick();
        case.examinations[0].resting_hr_bpm = Some(56.0);
        case.heart.ejection_fraction_pct = Some(fraction);
        case.tests = stepped();
        today(&case)
    };
    let method = |assessed: &Assessed| {
        assessed
            .capacity
            .used
            .as_ref()
            .map(|one| one.method.clone())
    };
    let (strong, weak) = (with(52.0), with(30.0));
    assert_eq!(method(&strong).as_deref(), Some("step"));
    assert_eq!(method(&weak).as_deref(), Some("activity-status"));
    assert!(weak.limits.mets.high <= strong.limits.mets.high);
    assert!(weak.limits.mets_station_high <= strong.limits.mets_station_high);
    let held = weak
        .capacity
        .others
        .iter()
        .find(|one| one.method == "step")
        .expect("the step test stays visible");
    assert!(held.cautions.iter().any(|one| one.contains("not used")));
}

#[test]
fn an_ischaemic_rate_stays_a_ceiling_beside_a_defibrillator_without_its_rate() {
    let with = |ischaemia_hr_bpm| {
        changed(|case| {
            case.heart.device = Some(Device {
                lowest_treated_bpm: None,
                last_shock: None,
                subcutaneous: None,
            });
            case.tests.push(exercise_test(ExerciseTest {
                ischaemia_hr_bpm,
                ..clean_test(6.0, 130.0)
            }));
        })
    };
    let known = with(Some(118.0));
    // 118 - 10, the margin below ischaemia.
    assert_eq!(ceiling(&known), Some((108.0, CeilingKind::Hard)));
    assert_eq!(band(&known), None);
    assert!(known.signing_blocked);
    assert_eq!(ceiling(&with(None)), None);
}

/// Two exercise tests of one day, in either order in the file.
fn two_of_one_day(one: &ExerciseTest, other: &ExerciseTest) -> [Assessed; 2] {
    [[one, other], [other, one]].map(|tests| {
        changed(|case| {
            case.tests = tests
                .into_iter()
                .map(|test| exercise_test(test.clone()))
                .collect();
        })
    })
}

#[test]
fn of_two_exercise_tests_of_one_day_the_safer_counts_in_either_order() {
    let (strong, weak) = (clean_test(8.0, 140.0), clean_test(5.5, 118.0));
    for assessed in two_of_one_day(&strong, &weak) {
        let used = assessed.capacity.used.as_ref().expect("both count");
        assert_eq!(used.mets.to_mets(), 5.5);
        assert_eq!(ceiling(&assessed), Some((118.0, CeilingKind::Hard)));
        assert_eq!(
            assessed.limits.peak_hr.map(|peak| peak.to_bpm()),
            Some(118.0)
        );
        assert_eq!(assessed.risk.class, RiskClass::Moderate);
    }
    // The higher peak came with angina: ten below it is still above the other, which counts.
    let angina = ExerciseTest {
        symptoms: Some(vec![ExerciseTestSymptom::Angina]),
        symptom_mets: Some(4.0),
        ..strong
    };
    for assessed in two_of_one_day(&angina, &weak) {
        assert_eq!(assessed.risk.class, RiskClass::High);
        assert!(ceiling(&assessed).is_some_and(|(bpm, _)| bpm <= 118.0));
    }
}

#[test]
fn a_symptom_in_recovery_is_no_symptom_free_peak_and_settles_no_ischaemia() {
    let with = |symptom_in_recovery| {
        changed(|case| {
            case.tests.push(exercise_test(ExerciseTest {
                symptom_in_recovery,
                ..clean_test(6.0, 130.0)
            }));
            let mut earlier = exercise_test(ExerciseTest {
                ischaemia_hr_bpm: Some(112.0),
                ..clean_test(6.0, 128.0)
            });
            earlier.date = Some(date(2026, 9, 10));
            case.tests.push(earlier);
        })
    };
    assert_eq!(
        ceiling(&with(Some(false))),
        Some((130.0, CeilingKind::Hard))
    );
    // 112 - 10: the earlier ischaemic rate stays until a test finds nothing at all.
    assert_eq!(ceiling(&with(Some(true))), Some((102.0, CeilingKind::Hard)));
}

#[test]
fn severely_low_pressure_after_a_test_is_no_symptom_free_peak_and_settles_no_ischaemia() {
    let with = |response, earlier_too: bool| {
        let assessed = changed(|case| {
            case.tests.push(exercise_test(ExerciseTest {
                bp_response: Some(response),
                ..clean_test(6.0, 130.0)
            }));
            let mut earlier = exercise_test(ExerciseTest {
                ischaemia_hr_bpm: Some(112.0),
                ..clean_test(6.0, 128.0)
            });
            earlier.date = Some(date(2026, 9, 10));
            case.tests.extend(earlier_too.then_some(earlier));
        });
        ceiling(&assessed).map(|(bpm, _)| bpm)
    };
    assert_eq!(with(PressureResponse::Normal, false), Some(130.0));
    assert_eq!(with(PressureResponse::FallAfter, false), Some(120.0));
    assert_eq!(with(PressureResponse::Normal, true), Some(130.0));
    assert_eq!(with(PressureResponse::FallAfter, true), Some(102.0));
}

// Source: cole-1999: 12 beats or less in the first minute; its cool-down is not part of the record.
#[test]
fn published_slow_fall_of_the_rate_leaves_low_risk_unproved() {
    let class = |fall| {
        let assessed = changed(|case| {
            case.heart.ejection_fraction_pct = Some(60.0);
            case.tests.push(exercise_test(ExerciseTest {
                hr_recovery_1min_bpm: Some(fall),
                symptom_in_recovery: Some(false),
                chronotropic_incompetence: Some(false),
                ..clean_test(8.0, 140.0)
            }));
        });
        assessed.risk.class
    };
    assert_eq!(class(13.0), RiskClass::Low);
    assert_eq!(class(12.0), RiskClass::Moderate);
}

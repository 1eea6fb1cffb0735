//! Capacity, METs and what heals.

use super::*;

// Worked by hand: 1 + 0.4 x 5 = 3 and 1 + 0.7 x 5 = 4.5; in high risk 1 + 0.6 x 5 = 4.
#[test]
fn worked_mets_by_capacity_and_risk() {
    let test = exercise_test(clean_test(6.0, 131.0));
    let measured = changed(|case| case.tests.push(test.clone()));
    let mets = |assessed: &Assessed| {
        let limits = &assessed.limits;
        let round = |value: f64| libm::round(value * 1000.0) / 1000.0;
        (
            round(limits.mets.low.to_mets()),
            round(limits.mets.high.to_mets()),
            round(limits.mets_station_high.to_mets()),
        )
    };
    assert_eq!(mets(&measured), (3.0, 4.5, 4.5));
    assert!(measured.limits.band_binds_station);
    let high = changed(|case| {
        case.tests.push(test);
        case.heart.ejection_fraction_pct = Some(38.0);
    });
    assert_eq!(mets(&high), (3.0, 4.0, 4.0));
    let none = today(&fenwick());
    assert_eq!(mets(&none), (1.8, 3.0, 3.0));
    assert_eq!(asks(&none, "capacity/order"), Some(Weight::FindOut));
}

// Worked by hand: 4.948 + 0.023 x 352 = 13.044 mL/kg/min, 3.727 METs; 85 per cent of it 3.168; 1 + 0.7 x 2.727 = 2.909.
#[test]
fn worked_capacity_from_a_walk_binds_the_round_and_not_the_station() {
    let assessed = changed(|case| case.tests.push(walk(352.0, Some(30.0))));
    let used = assessed.capacity.used.as_ref().expect("the walk counts");
    let near = |value: f64, expected: f64| libm::fabs(value - expected) < 0.000_5;
    assert!(near(used.mets.to_mets(), 3.727));
    assert!(near(used.error_mets.expect("published"), 1.091));
    assert!(!used.measured);
    let limits = &assessed.limits;
    assert!(near(limits.mets_station_high.to_mets(), 3.168));
    assert!(near(limits.mets.high.to_mets(), 2.909));
    assert!(!limits.band_binds_station);
}

#[test]
fn a_walk_on_another_course_or_with_an_aid_does_not_count() {
    let short = changed(|case| case.tests.push(walk(352.0, Some(20.0))));
    assert!(short.capacity.used.is_none());
    assert_eq!(short.capacity.others.len(), 1);
    let unknown = changed(|case| case.tests.push(walk(352.0, None)));
    assert!(unknown.capacity.used.is_none());
    assert!(asks(&unknown, "function-test/standard").is_some());
    let aided = changed(|case| {
        let mut test = walk(352.0, Some(30.0));
        test.aid = Some(WalkingAid::Stick);
        case.tests.push(test);
    });
    assert!(aided.capacity.used.is_none());
    // What does not count may lower the top, never raise it: 1 + 0.7 x 2.727 is under 3.
    assert!(aided.limits.mets.high.to_mets() < 3.0);
}

#[test]
fn the_order_of_trust_decides_and_the_rest_stays_visible() {
    let assessed = changed(|case| {
        case.tests.push(Test {
            result: TestResult::ActivityStatus {
                yes: vec![1, 2, 3, 4],
            },
            ..walk(0.0, None)
        });
        case.tests.push(walk(352.0, Some(30.0)));
        case.tests.push(exercise_test(clean_test(6.0, 131.0)));
    });
    let used = assessed.capacity.used.expect("measured");
    assert_eq!(used.method, "exercise-test");
    let others: Vec<&str> = assessed
        .capacity
        .others
        .iter()
        .map(|one| one.method.as_str())
        .collect();
    assert_eq!(others, ["six-minute-walk", "activity-status"]);
}

#[test]
fn a_step_test_is_not_used_where_the_pulse_says_nothing() {
    let step = Test {
        result: TestResult::Step {
            step_height_m: 0.15,
            stages: [80.0, 88.0, 95.0]
                .into_iter()
                .map(|hr_bpm| crate::assessment::StepStage {
                    hr_bpm,
                    effort: None,
                })
                .collect(),
        },
        ..walk(0.0, None)
    };
    let sinus = changed(|case| case.tests.push(step.clone()));
    assert_eq!(sinus.capacity.used.expect("it counts").method, "step");
    let fibrillation = changed(|case| {
        case.tests.push(step);
        case.heart.rhythm = Some(Rhythm::AtrialFibrillation);
    });
    assert!(fibrillation.capacity.used.is_none());
}

#[test]
fn the_breastbone_and_the_device_arm_are_spared_until_their_day() {
    use crate::programme::RestrictionReason::{DeviceArm, Sternotomy};
    let holds = |assessed: &Assessed, reason| {
        let found = assessed
            .limits
            .adaptations
            .iter()
            .find(|one| one.reason == reason);
        found.and_then(|one| one.until)
    };
    let bypass = |day| {
        changed(move |case| {
            case.events[0].kind = EventKind::BypassSurgery;
            case.events[0].date = Some(day);
            case.events[0].procedures.clear();
        })
    };
    assert_eq!(
        holds(&bypass(date(2026, 9, 3)), Sternotomy),
        Some(date(2026, 11, 26))
    );
    assert_eq!(holds(&bypass(date(2026, 9, 2)), Sternotomy), None);
    let device = |day| {
        changed(move |case| {
            case.events[0].kind = EventKind::DeviceImplant;
            case.events[0].date = Some(day);
            case.events[0].procedures.clear();
        })
    };
    assert_eq!(
        holds(&device(date(2026, 10, 15)), DeviceArm),
        Some(date(2026, 11, 26))
    );
    assert_eq!(holds(&device(date(2026, 10, 14)), DeviceArm), None);
}

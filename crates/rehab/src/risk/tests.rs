//! The published checks of the risk table, and the laws of classes.

use super::*;
use crate::assessment::{
    Case, CaseId, Event, EventKind, ExerciseTest, History, HistoryItem, PressureResponse, Test,
    TestResult,
};
use crate::service::Service;
use jiff::civil::{Date, date};

const ON: Date = date(2026, 11, 25);

/// A record with an uncomplicated infarction, everything asked and absent, and a clean test of so many METs.
fn clean(ejection_fraction_pct: Option<f64>, peak_mets: Option<f64>) -> Case {
    let mut case = Case::unknown(CaseId("invented-0001".to_owned()));
    case.events.push(Event {
        kind: EventKind::MyocardialInfarction,
        date: Some(date(2026, 8, 30)),
        procedures: Vec::new(),
        complicated: Some(false),
        residual_disease: Some(false),
    });
    case.history = History {
        rest_absent: Some("letter".to_owned()),
        ..History::unasked()
    };
    case.heart.ejection_fraction_pct = ejection_fraction_pct;
    if peak_mets.is_some() {
        case.tests.push(test(ExerciseTest {
            peak_mets,
            ..clean_test()
        }));
    }
    case
}

fn clean_test() -> ExerciseTest {
    ExerciseTest {
        peak_hr_bpm: Some(131.0),
        peak_mets: Some(8.0),
        symptoms: Some(Vec::new()),
        arrhythmia: Some(false),
        st_depression_mm: Some(0.0),
        bp_response: Some(PressureResponse::Normal),
        ..ExerciseTest::unknown()
    }
}

fn test(exercise: ExerciseTest) -> Test {
    Test {
        date: Some(date(2026, 10, 1)),
        place: None,
        aid: None,
        effort: None,
        beta_blocked: None,
        result: TestResult::Exercise(exercise),
    }
}

fn class(case: &Case) -> (RiskClass, bool) {
    let service = Service::cautious();
    let risk = stratify(&Known::new(case, &service, ON)).risk;
    (risk.class, risk.provisional)
}

// Source: register `aacvpr-risk-table` with `thow-2006`: the rule any high, all low, else moderate, worked by hand.
#[test]
fn published_checks_of_the_table() {
    use RiskClass::{High, Low, Moderate};
    assert_eq!(class(&clean(Some(55.0), Some(8.0))), (Low, false));
    assert_eq!(class(&clean(Some(55.0), Some(6.0))), (Moderate, false));
    assert_eq!(class(&clean(Some(45.0), Some(8.0))), (Moderate, false));
    assert_eq!(class(&clean(Some(38.0), Some(9.0))), (High, false));
    let mut depressed = clean(Some(60.0), Some(9.0));
    depressed
        .history
        .present
        .push(HistoryItem::ClinicalDepression);
    assert_eq!(class(&depressed), (High, false));
    assert_eq!(class(&clean(None, None)), (Moderate, true));
}

#[test]
fn both_sides_of_each_boundary() {
    use RiskClass::{High, Low, Moderate};
    assert_eq!(class(&clean(Some(39.9), Some(8.0))).0, High);
    assert_eq!(class(&clean(Some(40.0), Some(8.0))).0, Moderate);
    assert_eq!(class(&clean(Some(49.9), Some(8.0))).0, Moderate);
    assert_eq!(class(&clean(Some(50.0), Some(8.0))).0, Low);
    assert_eq!(class(&clean(Some(55.0), Some(6.9))).0, Moderate);
    assert_eq!(class(&clean(Some(55.0), Some(7.0))).0, Low);
    assert_eq!(class(&clean(Some(55.0), Some(4.9))).0, Moderate);
}

/// One printing of the table sets complex ventricular arrhythmia under moderate as well; taken as printed it would
/// let a person with it pass as moderate.
#[test]
fn complex_arrhythmia_in_the_test_is_high_whatever_else() {
    let mut case = clean(Some(60.0), None);
    case.tests.push(test(ExerciseTest {
        arrhythmia: Some(true),
        ..clean_test()
    }));
    assert_eq!(class(&case).0, RiskClass::High);
}

#[test]
fn each_finding_of_the_test_has_its_class() {
    use RiskClass::{High, Low, Moderate};
    let with = |exercise: ExerciseTest| {
        let mut case = clean(Some(60.0), None);
        case.tests.push(test(exercise));
        class(&case).0
    };
    let angina = Some(vec![crate::assessment::ExerciseTestSymptom::Angina]);
    let symptomatic = |symptom_mets, symptom_in_recovery| ExerciseTest {
        symptoms: angina.clone(),
        symptom_mets,
        symptom_in_recovery,
        ..clean_test()
    };
    assert_eq!(with(clean_test()), Low);
    assert_eq!(with(symptomatic(Some(4.9), Some(false))), High);
    assert_eq!(with(symptomatic(Some(5.0), Some(false))), Moderate);
    assert_eq!(with(symptomatic(Some(7.5), Some(true))), High);
    assert_eq!(with(symptomatic(None, None)), Moderate);
    let st = |mm| ExerciseTest {
        st_depression_mm: Some(mm),
        ..clean_test()
    };
    assert_eq!(with(st(1.9)), Moderate);
    assert_eq!(with(st(2.0)), High);
    let pressure = |response| ExerciseTest {
        bp_response: Some(response),
        ..clean_test()
    };
    assert_eq!(with(pressure(PressureResponse::Flat)), High);
    assert_eq!(with(pressure(PressureResponse::Fall)), High);
    assert_eq!(with(pressure(PressureResponse::FallAfter)), High);
    let slow = ExerciseTest {
        chronotropic_incompetence: Some(true),
        ..clean_test()
    };
    assert_eq!(with(slow), High);
}

// Source: aacvpr-risk-table, abnormal haemodynamics; aacvpr-guidelines (recalled): severe hypotension after exercise.
#[test]
fn published_severely_low_pressure_after_exercise_is_a_criterion_of_high_risk() {
    let mut case = clean(Some(60.0), None);
    case.tests.push(test(ExerciseTest {
        bp_response: Some(PressureResponse::FallAfter),
        ..clean_test()
    }));
    let service = Service::cautious();
    let risk = stratify(&Known::new(&case, &service, ON)).risk;
    assert_eq!(risk.class, RiskClass::High);
    let met = risk.criteria.iter().filter(|one| one.state == Met::Met);
    let met: Vec<&str> = met.map(|one| one.rule.0).collect();
    assert!(met.contains(&"risk/test-haemodynamics"), "{met:?}");
}

#[test]
fn an_estimate_never_proves_low() {
    let mut case = clean(Some(60.0), None);
    case.tests.push(Test {
        result: TestResult::SixMinuteWalk {
            distance_m: 700.0,
            course_m: Some(30.0),
        },
        ..test(clean_test())
    });
    assert_eq!(class(&case), (RiskClass::Moderate, true));
}

#[test]
fn a_test_from_before_the_event_proves_nothing_but_still_speaks_against() {
    let mut case = clean(Some(60.0), Some(9.0));
    case.events[0].date = Some(date(2026, 11, 1));
    assert_eq!(class(&case), (RiskClass::Moderate, true));
    case.tests.push(test(ExerciseTest {
        st_depression_mm: Some(2.5),
        ..clean_test()
    }));
    assert_eq!(class(&case).0, RiskClass::High);
}

/// Taking any one known fact away never gives a lower class.
#[test]
fn not_known_never_counts_for_low() {
    let whole = clean(Some(60.0), Some(9.0));
    assert_eq!(class(&whole).0, RiskClass::Low);
    let mut poorer: Vec<Case> = Vec::new();
    let mut add = |change: &dyn Fn(&mut Case)| {
        let mut case = whole.clone();
        change(&mut case);
        poorer.push(case);
    };
    add(&|case| case.heart.ejection_fraction_pct = None);
    add(&|case| case.tests.clear());
    add(&|case| case.history.rest_absent = None);
    add(&|case| case.events[0].complicated = None);
    let fields: [fn(&mut ExerciseTest); 5] = [
        |test| test.peak_mets = None,
        |test| test.symptoms = None,
        |test| test.arrhythmia = None,
        |test| test.st_depression_mm = None,
        |test| test.bp_response = None,
    ];
    for field in fields {
        add(&|case| {
            if let TestResult::Exercise(exercise) = &mut case.tests[0].result {
                field(exercise);
            }
        });
    }
    for case in poorer {
        assert_eq!(class(&case), (RiskClass::Moderate, true));
    }
}

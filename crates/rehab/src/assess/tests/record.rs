//! What is missing of the person and the home is asked, and what contradicts itself too.

use super::*;
use crate::assessment::{Place, PlaceKind};

/// Texts of the questions of a rule.
fn questions(assessed: &Assessed, rule: &str) -> Vec<String> {
    let found = assessed.to_find_out.iter().filter(|one| one.rule.0 == rule);
    found
        .map(|one| {
            let ask = one.ask.as_ref().expect("a question says whom to ask");
            assert!(!ask.whom.is_empty(), "{one:?}");
            one.text.clone()
        })
        .collect()
}

/// The invented person with everything that this part asks for.
fn whole() -> Case {
    let mut case = fenwick();
    case.person.height_cm = Some(161.0);
    case.person.telephones.push("01632 960001".to_owned());
    case.person.emergency_contact = Some("her neighbour".to_owned());
    case.person.doctor = Some("Dr Lisle".to_owned());
    case.home.places.push(Place {
        name: "armchair".to_owned(),
        kind: PlaceKind::Chair,
        ..place()
    });
    case
}

fn place() -> Place {
    Place {
        name: String::new(),
        kind: PlaceKind::Chair,
        seat_cm: None,
        arms: None,
        height_cm: None,
        rail: None,
        metres_to_next: None,
    }
}

#[test]
fn what_is_missing_is_asked_and_blocks_nothing() {
    let rule = "readiness/record";
    assert_eq!(questions(&today(&whole()), rule), Vec::<String>::new());
    type Missing = (fn(&mut Case), &'static str);
    let missing: [Missing; 9] = [
        (|case| case.person.born = None, "When were they born"),
        (|case| case.person.sex = None, "Which sex"),
        (
            |case| {
                case.person.height_cm = None;
                case.tests.push(walk(380.0, Some(30.0)));
            },
            "How tall",
        ),
        (
            |case| case.examinations[0].weight_kg = None,
            "What do they weigh",
        ),
        (
            |case| case.examinations[0].pulse_regular = None,
            "Is the pulse regular",
        ),
        (|case| case.home.places.clear(), "Which places has the home"),
        (|case| case.person.telephones.clear(), "On which number"),
        (
            |case| case.person.emergency_contact = None,
            "Who is to be told",
        ),
        (|case| case.person.doctor = None, "Who is their doctor"),
    ];
    for (change, words) in missing {
        let mut case = whole();
        change(&mut case);
        let assessed = today(&case);
        let asked = questions(&assessed, rule);
        assert!(
            asked.len() == 1 && asked[0].starts_with(words),
            "{words}: {asked:?}"
        );
        assert!(!assessed.signing_blocked, "{words}");
    }
}

#[test]
fn the_upper_tracking_rate_is_asked_where_a_pacemaker_may_track() {
    let asked = |mode: Option<PacingMode>, upper_tracking_bpm: Option<f64>| {
        let mut case = whole();
        case.heart.pacemaker = Some(Pacemaker {
            mode,
            base_bpm: None,
            upper_tracking_bpm,
            rate_response: None,
            resynchronisation: None,
        });
        questions(&today(&case), "readiness/record").len()
    };
    assert_eq!(asked(Some(PacingMode::Ddd), None), 1);
    assert_eq!(asked(None, None), 1, "a mode that is not known may track");
    assert_eq!(asked(Some(PacingMode::Ddd), Some(130.0)), 0);
    assert_eq!(asked(Some(PacingMode::Vvir), None), 0, "it never tracks");
}

#[test]
fn what_contradicts_itself_is_asked() {
    let rule = "readiness/contradiction";
    assert_eq!(questions(&today(&whole()), rule), Vec::<String>::new());
    type Wrong = (fn(&mut Case), &'static str);
    let wrong: [Wrong; 6] = [
        (
            |case| {
                let mut test = exercise_test(clean_test(6.0, 60.0));
                test.date = Some(date(2026, 11, 1));
                case.tests.push(test);
            },
            "Which is right? The exercise test of 2026-11-01 reached 60",
        ),
        (
            |case| case.person.weight_kg = Some(157.6),
            "Which weight is right: 157.6 kg, or 71.5 kg of 2026-11-12",
        ),
        (
            |case| {
                let mut before = case.examinations[0].clone();
                before.date = date(2026, 11, 1);
                before.weight_kg = Some(35.7);
                case.examinations.insert(0, before);
            },
            "Which weight is right: 35.7 kg of 2026-11-01",
        ),
        (
            |case| {
                let mut test = exercise_test(clean_test(6.0, 130.0));
                test.date = Some(date(2026, 8, 30));
                case.tests.push(test);
            },
            "Was the test of 2026-08-30 taken before or after",
        ),
        (
            |case| case.heart.ejection_fraction_pct = Some(32.0),
            "Is there really no heart failure",
        ),
        (
            |case| {
                let mut medicine = case.medicines[0].clone();
                medicine.name = "insulin glargine".to_owned();
                case.medicines.push(medicine);
            },
            "Is there really no diabetes",
        ),
    ];
    for (change, words) in wrong {
        let mut case = whole();
        change(&mut case);
        let asked = questions(&today(&case), rule);
        assert!(
            asked.len() == 1 && asked[0].starts_with(words),
            "{words}: {asked:?}"
        );
    }
    // From one visit to the next a person gains or loses far less than a third.
    let mut case = whole();
    case.person.weight_kg = Some(80.0);
    assert_eq!(questions(&today(&case), rule), Vec::<String>::new());
}

/// By hand: 2.75 points of the questionnaire give (0.43 x 2.75 + 9.6) / 3.5 = 3.1 METs, less than half of 6.5; with the first nine
/// questions answered yes it gives more.
#[test]
fn capacities_that_lie_far_apart_are_asked() {
    let asked = |yes: Vec<u8>| {
        let mut case = whole();
        case.tests = vec![exercise_test(clean_test(6.5, 130.0))];
        let questions_asked = Test {
            result: TestResult::ActivityStatus { yes },
            ..exercise_test(clean_test(6.5, 130.0))
        };
        case.tests.push(questions_asked);
        questions(&today(&case), "capacity/far-apart")
    };
    let apart = asked(vec![1]);
    assert_eq!(apart.len(), 1, "{apart:?}");
    assert!(
        apart[0].starts_with("Which is right? By the exercise test they can do 6.5 METs"),
        "{apart:?}"
    );
    assert_eq!(asked((1..=9).collect()), Vec::<String>::new());
}

//! First against last: both sides of each smallest change, and nothing claimed where nothing can be.

use super::*;
use crate::assessment::{
    CaseId, Event, EventKind, History, Medicine, TestPlace, TestResult, WalkingAid,
};
use jiff::civil::date;

fn case(failure: Option<bool>) -> Case {
    let mut case = Case::unknown(CaseId("invented-0001".to_owned()));
    case.events.push(Event {
        kind: EventKind::MyocardialInfarction,
        date: Some(date(2026, 8, 30)),
        procedures: Vec::new(),
        complicated: None,
        residual_disease: None,
    });
    case.history = match failure {
        None => History::unasked(),
        Some(present) => {
            let list = vec![HistoryItem::HeartFailure];
            let (present, absent) = if present {
                (list, Vec::new())
            } else {
                (Vec::new(), list)
            };
            History {
                present,
                absent,
                ..History::unasked()
            }
        }
    };
    case.medicines.push(Medicine {
        name: "bisoprolol".to_owned(),
        dose: None,
        since: Some(date(2026, 8, 31)),
        until: None,
        times: None,
        as_needed: None,
    });
    case
}

fn walk(day: Date, distance_m: f64) -> Test {
    Test {
        date: Some(day),
        place: Some(TestPlace::Clinic),
        aid: Some(WalkingAid::None),
        effort: None,
        beta_blocked: Some(true),
        result: TestResult::SixMinuteWalk {
            distance_m,
            course_m: Some(30.0),
        },
    }
}

fn judged(case: &Case) -> Change {
    let mut all = outcome(case, &Service::cautious(), date(2026, 12, 31));
    assert_eq!(all.len(), 1);
    all.remove(0)
}

fn walked(failure: Option<bool>, first: f64, last: f64) -> Verdict {
    let mut case = case(failure);
    case.tests.push(walk(date(2026, 10, 1), first));
    case.tests.push(walk(date(2026, 12, 20), last));
    judged(&case).verdict
}

// Source: gremeaux-2011 25 m in coronary disease; shoemaker-2013 30.1 m and taeger-2014 36 m in heart failure.
#[test]
fn published_smallest_changes_of_the_walk_by_person() {
    assert_eq!(walked(Some(false), 352.0, 376.0), Verdict::Less);
    assert_eq!(walked(Some(false), 352.0, 377.0), Verdict::Better);
    assert_eq!(walked(Some(false), 352.0, 327.0), Verdict::Worse);
    assert_eq!(walked(Some(true), 352.0, 382.0), Verdict::Less);
    assert_eq!(walked(Some(true), 352.0, 384.0), Verdict::SourcesDiffer);
    assert_eq!(walked(Some(true), 352.0, 388.0), Verdict::Better);
    // Not known whether there is heart failure: better only when every source says so.
    assert_eq!(walked(None, 352.0, 384.0), Verdict::SourcesDiffer);
    assert_eq!(walked(None, 352.0, 388.0), Verdict::Better);
}

#[test]
fn a_changed_dose_or_course_ends_the_comparison() {
    let mut changed = case(Some(false));
    changed.tests.push(walk(date(2026, 10, 1), 352.0));
    changed.tests.push(walk(date(2026, 12, 20), 452.0));
    changed.medicines[0].since = Some(date(2026, 11, 1));
    let found = judged(&changed);
    assert_eq!(found.verdict, Verdict::NotComparable);
    assert!(!found.findings.is_empty());
    let mut other = case(Some(false));
    other.tests.push(walk(date(2026, 10, 1), 352.0));
    let mut last = walk(date(2026, 12, 20), 452.0);
    last.aid = Some(WalkingAid::Stick);
    other.tests.push(last);
    assert_eq!(judged(&other).verdict, Verdict::NotComparable);
    let mut unrecorded = case(Some(false));
    let mut first = walk(date(2026, 10, 1), 352.0);
    first.place = None;
    unrecorded.tests.push(first);
    unrecorded.tests.push(walk(date(2026, 12, 20), 452.0));
    assert_eq!(judged(&unrecorded).verdict, Verdict::NotKnown);
}

#[test]
fn the_first_comparable_test_since_the_event_is_the_first() {
    let mut case = case(Some(false));
    case.tests.push(walk(date(2026, 6, 1), 500.0));
    let mut other_course = walk(date(2026, 9, 20), 300.0);
    other_course.result = TestResult::SixMinuteWalk {
        distance_m: 300.0,
        course_m: Some(20.0),
    };
    case.tests.push(other_course);
    case.tests.push(walk(date(2026, 10, 1), 352.0));
    case.tests.push(walk(date(2026, 12, 20), 402.0));
    let found = judged(&case);
    assert_eq!(found.first, (date(2026, 10, 1), 352.0));
    assert_eq!(found.verdict, Verdict::Better);
    assert!(found.text.contains("25 m, coronary disease"));
    assert!(found.sources.iter().any(|one| one.0 == "gremeaux-2011"));
}

#[test]
fn once_is_no_outcome_and_a_test_without_a_smallest_change_gets_no_word() {
    let mut once = case(Some(false));
    once.tests.push(walk(date(2026, 10, 1), 352.0));
    assert_eq!(judged(&once).verdict, Verdict::OnlyOnce);
    let mut up_and_go = case(Some(false));
    for (day, seconds) in [(date(2026, 10, 1), 12.0), (date(2026, 12, 20), 9.0)] {
        up_and_go.tests.push(Test {
            result: TestResult::TimedUpAndGo { seconds },
            ..walk(day, 0.0)
        });
    }
    assert_eq!(judged(&up_and_go).verdict, Verdict::NoSmallestChange);
}

#[test]
fn fewer_points_of_mood_are_better() {
    let mut case = case(Some(false));
    for (day, answers) in [
        (date(2026, 10, 1), vec![2, 2, 2, 2, 2, 1, 0, 0, 0]),
        (date(2026, 12, 20), vec![1, 1, 1, 1, 1, 1, 0, 0, 0]),
    ] {
        case.tests.push(Test {
            result: TestResult::Phq9 { answers },
            ..walk(day, 0.0)
        });
    }
    assert_eq!(judged(&case).verdict, Verdict::Better);
}

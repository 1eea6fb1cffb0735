//! When a test counts: the standard course and aid, and what two tests must share to be compared.

use super::{shuttle_walk, six_minute_walk};
use crate::assessment::{Answered, ExerciseTest, Test, TestResult, WalkingAid};
use crate::evidence::{Answer, Ask, Finding, Input, Rule, RuleId, SourceId, Tag, Value, Weight};

/// Whether two tests can be compared.
#[derive(Clone, Debug, PartialEq)]
pub enum Comparison {
    /// Everything that matters was the same.
    Comparable,
    /// Something differed: the change must not be read as one of the person.
    NotComparable(Vec<Finding>),
    /// Nothing is known to differ, but something that matters was not recorded.
    NotKnown(Vec<Finding>),
}

impl Comparison {
    /// What spoke against it, or is still to find out.
    pub fn findings(&self) -> &[Finding] {
        match self {
            Self::Comparable => &[],
            Self::NotComparable(found) | Self::NotKnown(found) => found,
        }
    }
}

/// Compares the conditions of two tests. `rate_slowing_changed` says whether a rate-slowing medicine began, ended or
/// changed between them; it counts for tests of capacity only.
pub fn comparable(first: &Test, second: &Test, rate_slowing_changed: Answered) -> Comparison {
    let mut differs = Vec::new();
    let mut unknown = Vec::new();
    let (a, b) = (&first.result, &second.result);
    if a.kind() != b.kind() {
        differs.push(differ("kind of test", a.kind(), b.kind()));
        return Comparison::NotComparable(differs);
    }
    let mut note = |what: &str, a: Option<String>, b: Option<String>| match (a, b) {
        (Some(a), Some(b)) if a == b => {}
        (Some(a), Some(b)) => differs.push(differ(what, &a, &b)),
        _ => unknown.push(not_recorded(what)),
    };
    if has_conditions(a) {
        let aid = |test: &Test| test.aid.map(|aid| aid.word().to_owned());
        note("walking aid", aid(first), aid(second));
        let place = |test: &Test| test.place.map(|place| place.word().to_owned());
        note("place", place(first), place(second));
    }
    if let (Some(a), Some(b)) = (apparatus(a), apparatus(b)) {
        note(a.0, a.1, b.1);
    }
    if is_capacity(a) {
        let blocked = |test: &Test| {
            test.beta_blocked
                .map(|yes| if yes { "with" } else { "without" }.to_owned())
        };
        note("beta-blocker", blocked(first), blocked(second));
        match rate_slowing_changed {
            Answered::Absent => {}
            Answered::Present => differs.push(CONDITIONS.finding(
                Weight::Caution,
                "not comparable: a rate-slowing medicine began, ended or changed its dose between the two",
            )),
            Answered::NotKnown => unknown.push(not_recorded("dates of the rate-slowing medicines")),
        }
    }
    if !differs.is_empty() {
        Comparison::NotComparable(differs)
    } else if !unknown.is_empty() {
        Comparison::NotKnown(unknown)
    } else {
        Comparison::Comparable
    }
}

/// Whether a norm or equation may be applied: the standard course and no aid. Empty means it may.
pub fn standard(test: &Test) -> Vec<Finding> {
    let mut found = Vec::new();
    let (course, standard_m) = match &test.result {
        TestResult::SixMinuteWalk { course_m, .. } => (*course_m, six_minute_walk::COURSE_M),
        TestResult::ShuttleWalk { course_m, .. } => (*course_m, shuttle_walk::COURSE_M),
        _ => {
            return if has_conditions(&test.result) {
                aid_used(test)
            } else {
                found
            };
        }
    };
    match course {
        Some(course) if libm::fabs(course - standard_m) < 0.05 => {}
        Some(course) => found.push(STANDARD.finding(
            Weight::Caution,
            format!("walked on a course of {course} m, not {standard_m} m: norms and equations do not apply"),
        )),
        None => {
            let mut finding = STANDARD.finding(
                Weight::FindOut,
                format!("the length of the course is not recorded; norms and equations are for {standard_m} m"),
            );
            finding.ask = Some(Ask {
                whom: "who took the test".to_owned(),
                blocks: "whether its norm and equation apply".to_owned(),
            });
            found.push(finding);
        }
    }
    found.extend(aid_used(test));
    found
}

fn aid_used(test: &Test) -> Vec<Finding> {
    match test.aid {
        Some(WalkingAid::Stick | WalkingAid::Frame) => vec![STANDARD.finding(
            Weight::Caution,
            "taken with a walking aid: norms and equations are for people without one; compare with the same aid only",
        )],
        _ => Vec::new(),
    }
}

fn differ(what: &str, first: &str, second: &str) -> Finding {
    CONDITIONS.finding(
        Weight::Caution,
        format!("not comparable: {what} was {first}, now {second}"),
    )
}

fn not_recorded(what: &str) -> Finding {
    let mut finding = CONDITIONS.finding(
        Weight::FindOut,
        format!("{what} not recorded for both tests"),
    );
    finding.ask = Some(Ask {
        whom: "who took the tests".to_owned(),
        blocks: "whether the two can be compared".to_owned(),
    });
    finding
}

/// Tests whose result depends on pulse and breath: a change of a rate-slowing medicine changes them.
fn is_capacity(result: &TestResult) -> bool {
    matches!(
        result,
        TestResult::Exercise(_)
            | TestResult::TwoMinuteStep { .. }
            | TestResult::SixMinuteWalk { .. }
            | TestResult::ShuttleWalk { .. }
            | TestResult::Step { .. }
            | TestResult::SitToStand1Min { .. }
    )
}

/// Tests that depend on aid and place; questionnaires do not.
fn has_conditions(result: &TestResult) -> bool {
    !matches!(
        result,
        TestResult::Exercise(_)
            | TestResult::ActivityStatus { .. }
            | TestResult::Phq9 { .. }
            | TestResult::Gad7 { .. }
            | TestResult::Who5 { .. }
    )
}

/// The course, step or machine of a test: its name and what was recorded of it.
fn apparatus(result: &TestResult) -> Option<(&'static str, Option<String>)> {
    match result {
        TestResult::SixMinuteWalk { course_m, .. } | TestResult::ShuttleWalk { course_m, .. } => {
            Some(("course", course_m.map(|course| format!("{course} m"))))
        }
        TestResult::Step { step_height_m, .. } => {
            Some(("height of the step", Some(format!("{step_height_m} m"))))
        }
        TestResult::Exercise(ExerciseTest { mode, .. }) => Some(("machine", mode.clone())),
        _ => None,
    }
}

const CONDITIONS: Rule = Rule {
    id: RuleId("function-test/comparable"),
    name: "When two tests can be compared",
    statement: "Same kind, course or step, aid and place; for tests of capacity also the same beta-blocker and no change of a rate-slowing medicine between them. Something different: not comparable. Something not recorded: not known.",
    sources: &[SourceId("holland-2014"), SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::flag("same_course"),
        Input::flag("same_aid"),
        Input::flag("same_place"),
        Input::flag("rate_slowing_changed"),
    ],
    evaluate: |values| {
        let same =
            values.flag("same_course")? && values.flag("same_aid")? && values.flag("same_place")?;
        let comparable = same && !values.flag("rate_slowing_changed")?;
        Ok(Answer::new(
            Value::Flag(comparable),
            "every condition must be the same",
        ))
    },
};

const STANDARD: Rule = Rule {
    id: RuleId("function-test/standard"),
    name: "When a norm or equation applies",
    statement: "Six-minute walk on 30 m, shuttle walk on 10 m, without a walking aid; two six-minute walks at least 30 minutes apart. Otherwise norm and equation do not apply.",
    sources: &[SourceId("holland-2014"), SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::choice("kind", &["six-minute-walk", "shuttle-walk"]),
        Input::number("course_m", "m", 3.0, 60.0),
        Input::choice("aid", &["none", "stick", "frame"]),
    ],
    evaluate: |values| {
        let wanted = match values.text("kind")? {
            "shuttle-walk" => shuttle_walk::COURSE_M,
            _ => six_minute_walk::COURSE_M,
        };
        let course = values.number("course_m")?;
        let applies = libm::fabs(course - wanted) < 0.05 && values.text("aid")? == "none";
        Ok(Answer::new(
            Value::Flag(applies),
            format!(
                "course {course} m against {wanted} m; aid {}",
                values.text("aid")?
            ),
        ))
    },
};

/// The rules of comparing.
pub(super) const RULES: &[Rule] = &[STANDARD, CONDITIONS];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assessment::TestPlace;

    fn walk(distance_m: f64, course_m: Option<f64>) -> Test {
        Test {
            date: None,
            place: Some(TestPlace::Home),
            aid: Some(WalkingAid::None),
            effort: None,
            beta_blocked: Some(true),
            result: TestResult::SixMinuteWalk {
                distance_m,
                course_m,
            },
        }
    }

    #[test]
    fn the_same_conditions_are_comparable() {
        let found = comparable(
            &walk(300.0, Some(30.0)),
            &walk(330.0, Some(30.0)),
            Answered::Absent,
        );
        assert_eq!(found, Comparison::Comparable);
    }

    #[test]
    fn a_changed_course_aid_or_medicine_is_not_comparable() {
        let first = walk(300.0, Some(30.0));
        let is_not = |second: Test, changed| {
            let found = comparable(&first, &second, changed);
            assert!(matches!(found, Comparison::NotComparable(_)), "{second:?}");
        };
        is_not(walk(330.0, Some(20.0)), Answered::Absent);
        is_not(
            Test {
                aid: Some(WalkingAid::Stick),
                ..walk(330.0, Some(30.0))
            },
            Answered::Absent,
        );
        is_not(
            Test {
                place: Some(TestPlace::Hospital),
                ..walk(330.0, Some(30.0))
            },
            Answered::Absent,
        );
        is_not(
            Test {
                beta_blocked: Some(false),
                ..walk(330.0, Some(30.0))
            },
            Answered::Absent,
        );
        is_not(walk(330.0, Some(30.0)), Answered::Present);
        is_not(
            Test {
                result: TestResult::Gait4m { seconds: 4.0 },
                ..first.clone()
            },
            Answered::Absent,
        );
    }

    #[test]
    fn what_is_not_recorded_is_not_known_and_never_comparable() {
        let first = walk(300.0, Some(30.0));
        for second in [
            walk(330.0, None),
            Test {
                aid: None,
                ..walk(330.0, Some(30.0))
            },
            Test {
                beta_blocked: None,
                ..walk(330.0, Some(30.0))
            },
        ] {
            let found = comparable(&first, &second, Answered::Absent);
            assert!(
                matches!(&found, Comparison::NotKnown(asks) if asks.iter().all(|one| one.ask.is_some()))
            );
        }
        let found = comparable(&first, &walk(330.0, Some(30.0)), Answered::NotKnown);
        assert!(matches!(found, Comparison::NotKnown(_)));
    }

    #[test]
    fn a_questionnaire_does_not_ask_for_aid_or_medicine() {
        let mood = |answers: [u8; 9]| Test {
            place: None,
            aid: None,
            beta_blocked: None,
            result: TestResult::Phq9 {
                answers: answers.to_vec(),
            },
            ..walk(0.0, None)
        };
        let found = comparable(&mood([1; 9]), &mood([0; 9]), Answered::Present);
        assert_eq!(found, Comparison::Comparable);
    }

    #[test]
    fn norms_are_for_the_standard_course_without_an_aid() {
        assert!(standard(&walk(300.0, Some(30.0))).is_empty());
        assert_eq!(standard(&walk(300.0, Some(20.0))).len(), 1);
        assert_eq!(standard(&walk(300.0, None))[0].weight, Weight::FindOut);
        let framed = Test {
            aid: Some(WalkingAid::Frame),
            ..walk(300.0, Some(20.0))
        };
        assert_eq!(standard(&framed).len(), 2);
    }
}

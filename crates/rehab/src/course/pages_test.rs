//! Signed pages, and what begins anew on them.

use super::tests::{answered, case, decided, entry, fold};
use super::{Channel, Course, Digests, Happening, Signature, SignedPlan};
use crate::assessment::Pain;
use crate::diary::JointPain;
use crate::programme::{Predicted, Stage};
use crate::review::Action;
use jiff::civil::{Date, date};

const fn day(day: i8) -> Date {
    date(2026, 11, day)
}

fn signed(on: Date, name: &str, numbers: &[u16]) -> (Date, Happening) {
    let stage = |number: &u16| Stage {
        number: *number,
        lever: name.to_owned(),
        sessions_per_week: 3,
        segments: Vec::new(),
        predicted: Predicted {
            peak_hr: None,
            ceiling_probability: None,
        },
        objective: 0,
        bound: 0,
        proven: true,
        because: Vec::new(),
    };
    let plan = SignedPlan {
        stages: numbers.iter().map(stage).collect(),
        by: Signature {
            name: name.to_owned(),
            role: "physiotherapist".to_owned(),
        },
        on,
        valid_until: None,
        digests: Digests {
            case: String::new(),
            service: String::new(),
            exercises: String::new(),
            program: String::new(),
        },
        overrides: Vec::new(),
        effort: None,
    };
    (on, Happening::Signed(Box::new(plan)))
}

fn signers(course: &Course) -> Vec<(u16, &str)> {
    let list = course.signed_stages().map(|stage| {
        let by = course.signature_of(stage.number).expect("it is signed");
        (stage.number, by.by.name.as_str())
    });
    list.collect()
}

#[test]
fn lower_pages_signed_earlier_stay_signed() {
    let mut happened = vec![
        (day(1), case()),
        signed(day(1), "first", &[1, 2, 3]),
        signed(day(9), "second", &[3, 4]),
    ];
    let course = fold(&happened, day(20));
    assert_eq!(
        signers(&course),
        [(1, "first"), (2, "first"), (3, "second"), (4, "second")]
    );
    // Signed again from a lower page on, the further ones are no longer what was looked at.
    happened.push(signed(day(12), "third", &[2]));
    let course = fold(&happened, day(20));
    assert_eq!(signers(&course), [(1, "first"), (2, "third")]);
}

#[test]
fn a_page_stepped_back_to_or_begun_again_begins_anew() {
    let begun = [(day(1), case()), (day(1), Happening::Released { stage: 1 })];
    for (action, anew) in [
        (Action::Hold, false),
        (Action::StepBack, true),
        (Action::ReEnter, true),
    ] {
        let mut happened = begun.to_vec();
        happened.push(decided(day(9), action, Some(1)));
        let since = if anew { day(9) } else { day(1) };
        assert_eq!(
            fold(&happened, day(20)).stage_since,
            Some(since),
            "{action}"
        );
    }
    let mut happened = begun.to_vec();
    happened.push(answered(day(5), "review/red-faint:a:faint"));
    happened.push(decided(day(9), Action::Hold, Some(1)));
    assert_eq!(fold(&happened, day(20)).stage_since, Some(day(9)), "a stop");
    assert_eq!(fold(&happened, day(20)).given.len(), 2);
}

/// Only the exercise is told, not the joint; the next page is composed with its easier way, also when a form is written
/// anew.
#[test]
fn an_exercise_eased_with_a_sore_joint_is_kept_in_the_case() {
    let told = |during, eased: &[&str]| {
        let mut told = entry("a", day(9));
        told.joint_pain = Some(JointPain {
            during: Some(during),
            worse_next_morning: Some(false),
        });
        told.eased = eased.iter().map(|one| (*one).to_owned()).collect();
        let happened = [
            (day(1), case()),
            (
                day(9),
                Happening::Diary {
                    channel: Channel::Page,
                    entries: vec![told],
                },
            ),
            (day(10), case()),
        ];
        fold(&happened, day(20)).case.pains
    };
    let expected = Pain {
        joint: None,
        during: Some(6.0),
        settled_2h: None,
        worse_next_morning: Some(false),
        date: Some(day(9)),
        exercise: Some("step-up".to_owned()),
    };
    assert_eq!(told(6.0, &["step-up"]), [expected]);
    assert!(told(5.0, &["step-up"]).is_empty(), "not sore");
    assert!(told(6.0, &[]).is_empty(), "nothing was eased");
}

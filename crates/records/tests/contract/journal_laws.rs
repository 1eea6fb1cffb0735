//! Laws of the journal under random sequences of what can be done.

use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::TestRunner;
use records::{CaseId, Draft, EntryId, Error};

use crate::common::{Desk, Engine, draft, later, new_case};

/// Random values of a strategy, for tests that wait for a database between them.
fn some<T: std::fmt::Debug>(strategy: impl Strategy<Value = T>, count: usize) -> Vec<T> {
    let mut runner = TestRunner::default();
    (0..count)
        .map(|_| strategy.new_tree(&mut runner).unwrap().current())
        .collect()
}

pub(crate) async fn law_what_is_appended_is_read_back_in_order(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let bodies = proptest::collection::vec(proptest::collection::vec(any::<u8>(), 0..300), 0..12);
    for (number, bodies) in some(bodies, 40).into_iter().enumerate() {
        let case = desk.case(&format!("case-{number}")).await;
        for (second, body) in (0..).zip(&bodies) {
            let draft = Draft {
                body: body.clone(),
                ..draft("note", "")
            };
            desk.store
                .append(case, desk.ada, draft, later(second))
                .await
                .unwrap();
        }
        let entries = desk.store.entries(case, &desk.reading()).await.unwrap();
        assert_eq!(
            entries
                .iter()
                .map(|entry| entry.body.clone())
                .collect::<Vec<_>>(),
            bodies
        );
        assert!(
            entries
                .iter()
                .zip(1..)
                .all(|(entry, position)| entry.position == position)
        );
        assert!(
            entries
                .windows(2)
                .all(|pair| pair[1].hash_before == pair[0].hash)
        );
    }
    assert!(desk.store.verify_sealed().await.unwrap().is_sound());
}

/// What a test does next; the numbers choose among what there is.
#[derive(Clone, Debug)]
enum Step {
    Open,
    Append { case: usize, body: Vec<u8> },
    Correct { case: usize, entry: usize },
    Resend { case: usize, entry: usize },
    Conflict { case: usize },
    Erase { case: usize },
}

fn step() -> impl Strategy<Value = Step> {
    let index = 0..1000_usize;
    prop_oneof![
        2 => Just(Step::Open),
        8 => (index.clone(), proptest::collection::vec(any::<u8>(), 0..60)).prop_map(|(case, body)| Step::Append { case, body }),
        3 => (index.clone(), index.clone()).prop_map(|(case, entry)| Step::Correct { case, entry }),
        2 => (index.clone(), index.clone()).prop_map(|(case, entry)| Step::Resend { case, entry }),
        1 => index.clone().prop_map(|case| Step::Conflict { case }),
        1 => index.prop_map(|case| Step::Erase { case }),
    ]
}

/// What a case should hold by now.
struct Expected {
    case: CaseId,
    drafts: Vec<Draft>,
    erased: bool,
}

/// After any sequence of openings, additions, corrections, repetitions, conflicts and erasures the record holds what a
/// plain list beside it holds, and verifies with and without keys.
pub(crate) async fn law_a_record_stays_sound_whatever_is_done(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let mut cases: Vec<Expected> = Vec::new();
    for step in some(step(), 300) {
        take(&desk, &mut cases, step).await;
    }
    let verification = desk.store.locked().verify().await.unwrap();
    assert_eq!(verification.faults, []);
    assert_eq!(
        verification.erased,
        cases.iter().filter(|case| case.erased).count() as u64
    );
    assert_eq!(verification.head, desk.store.head().await.unwrap());
    assert_eq!(desk.store.verify_sealed().await.unwrap().faults, []);
    for expected in &cases {
        let found = desk.store.entries(expected.case, &desk.reading()).await;
        match found {
            Err(error) => assert!(
                expected.erased && matches!(error, Error::CaseErased),
                "{error}"
            ),
            Ok(entries) => {
                assert!(!expected.erased);
                let ids = |drafts: &[Draft]| {
                    drafts
                        .iter()
                        .map(|draft| draft.id)
                        .collect::<Vec<EntryId>>()
                };
                assert_eq!(
                    entries.iter().map(|entry| entry.id).collect::<Vec<_>>(),
                    ids(&expected.drafts)
                );
                assert!(
                    entries
                        .iter()
                        .zip(&expected.drafts)
                        .all(|(entry, draft)| entry.body == draft.body)
                );
            }
        }
    }
    // The sequence must have met what it is about.
    assert!(cases.iter().any(|case| case.erased) && cases.iter().any(|case| case.drafts.len() > 3));
}

async fn take<E: Engine>(desk: &Desk<E>, cases: &mut Vec<Expected>, step: Step) {
    let count = cases.len();
    let choose = |index: usize| index % count.max(1);
    match step {
        Step::Open => {
            let case = desk
                .store
                .open_case(desk.ada, new_case(&format!("case-{count}")), later(0))
                .await
                .unwrap();
            cases.push(Expected {
                case,
                drafts: Vec::new(),
                erased: false,
            });
        }
        _ if count == 0 => {}
        Step::Append { case, body } => {
            let draft = Draft {
                body,
                ..draft("note", "")
            };
            add(desk, &mut cases[choose(case)], draft).await;
        }
        Step::Correct { case, entry } => {
            let expected = &mut cases[choose(case)];
            let open: Vec<EntryId> = expected
                .drafts
                .iter()
                .map(|draft| draft.id)
                .filter(|id| {
                    expected
                        .drafts
                        .iter()
                        .all(|other| other.supersedes != Some(*id))
                })
                .collect();
            if let Some(id) = open.get(entry % open.len().max(1)) {
                let correction = Draft {
                    supersedes: Some(*id),
                    ..draft("note", "corrected")
                };
                add(desk, expected, correction).await;
            }
        }
        Step::Resend { case, entry } => {
            let expected = &cases[choose(case)];
            let Some(again) = expected.drafts.get(entry % expected.drafts.len().max(1)) else {
                return;
            };
            match desk
                .store
                .append(expected.case, desk.ada, again.clone(), later(9))
                .await
            {
                Ok(appended) => assert!(appended.was_there && !expected.erased),
                Err(error) => assert!(
                    expected.erased && matches!(error, Error::CaseErased),
                    "{error}"
                ),
            }
        }
        Step::Conflict { case } => {
            let late = Draft {
                expected_position: Some(u64::MAX),
                ..draft("note", "late")
            };
            assert!(
                desk.store
                    .append(cases[choose(case)].case, desk.ada, late, later(9))
                    .await
                    .is_err()
            );
        }
        Step::Erase { case } => {
            let expected = &mut cases[choose(case)];
            let on = jiff::civil::date(2026, 12, 1).at(9, 0, 0, 0);
            let erased = desk
                .store
                .erase_case(desk.ada, expected.case, on, later(9))
                .await;
            assert_eq!(erased.is_ok(), !expected.erased);
            expected.erased = true;
        }
    }
}

async fn add<E: Engine>(desk: &Desk<E>, expected: &mut Expected, draft: Draft) {
    match desk
        .store
        .append(expected.case, desk.ada, draft.clone(), later(1))
        .await
    {
        Ok(appended) => {
            assert!(!expected.erased && !appended.was_there);
            expected.drafts.push(draft);
        }
        Err(error) => assert!(
            expected.erased && matches!(error, Error::CaseErased),
            "{error}"
        ),
    }
}

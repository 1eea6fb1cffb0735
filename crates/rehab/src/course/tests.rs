//! Where what happened leaves a person.

use super::{
    Call, Channel, Course, DecisionRefused, Happening, Settled, Taken, Towards, Unfinished,
    WatchedSession,
};
use crate::assessment::{Case, CaseId, StatusKind, Technique, Watched};
use crate::diary::DiaryEntry;
use crate::programme::{Ban, Choices, Pin};
use crate::review::{Action, Contact, ContactKind, Proposal};
use jiff::civil::{Date, date};

pub(super) fn case() -> Happening {
    Happening::Case(Box::new(Case::unknown(CaseId("invented-1951".to_owned()))))
}

pub(super) fn entry(id: &str, date: Date) -> DiaryEntry {
    DiaryEntry {
        id: id.to_owned(),
        date,
        stage: Some(1),
        stations_planned: None,
        stations_done: None,
        effort: None,
        symptoms: Some(Vec::new()),
        pulses: Vec::new(),
        joint_pain: None,
        eased: Vec::new(),
        rested_s: None,
        stopped_because: None,
        medicine_change: None,
        weight_kg: None,
        pressure: None,
        minutes: None,
        note: None,
    }
}

pub(super) fn watched(date: Date) -> WatchedSession {
    WatchedSession {
        date,
        stations: vec![Watched {
            date,
            exercise: "sit-to-stand-slow".to_owned(),
            variant: "hands-on-arms".to_owned(),
            effort: None,
            hr_bpm: Some(88.0),
            bp: None,
            technique: Technique::Good,
            support: None,
            symptoms: None,
        }],
        shown: Vec::new(),
        note: String::new(),
    }
}

pub(super) fn fold(happened: &[(Date, Happening)], on: Date) -> Course {
    Course::fold(
        happened.iter().map(|(date, happening)| (*date, happening)),
        on,
    )
    .expect("a case is written")
}

#[test]
fn what_was_watched_stays_when_the_case_is_written_again() {
    let happened = [
        (date(2026, 11, 1), case()),
        (
            date(2026, 11, 5),
            Happening::Watched(watched(date(2026, 11, 5))),
        ),
        (date(2026, 11, 9), case()),
    ];
    let course = fold(&happened, date(2026, 11, 25));
    assert_eq!(course.case.watched.len(), 1);
    assert_eq!(
        course.contacts,
        [Contact {
            date: date(2026, 11, 5),
            kind: ContactKind::Visit
        }]
    );
    assert!(
        fold(&happened, date(2026, 11, 2)).case.watched.is_empty(),
        "nothing from later days"
    );
}

#[test]
fn a_call_that_reached_nobody_is_not_news() {
    let call = |reached| {
        Happening::Called(Box::new(Call {
            contact: Contact {
                date: date(2026, 11, 20),
                kind: ContactKind::Call,
            },
            reached,
            entries: Vec::new(),
            decided: None,
            note: String::new(),
            next: Some(date(2026, 11, 21)),
            nitrate_until: None,
        }))
    };
    let course = fold(
        &[
            (date(2026, 11, 1), case()),
            (date(2026, 11, 20), call(false)),
        ],
        date(2026, 11, 25),
    );
    assert!(course.contacts.is_empty());
    assert_eq!(course.next_contact, Some(date(2026, 11, 21)));
    let course = fold(
        &[
            (date(2026, 11, 1), case()),
            (date(2026, 11, 20), call(true)),
        ],
        date(2026, 11, 25),
    );
    assert_eq!(course.contacts.len(), 1);
}

#[test]
fn the_same_entry_by_two_ways_is_one_and_status_is_dated() {
    let day = date(2026, 11, 20);
    let diary = |channel| Happening::Diary {
        channel,
        entries: vec![entry("e-1", day)],
    };
    let happened = [
        (date(2026, 11, 1), case()),
        (day, diary(Channel::Call)),
        (day, diary(Channel::Paper)),
        (
            date(2026, 11, 22),
            Happening::Status(StatusKind::InHospital),
        ),
    ];
    let course = fold(&happened, date(2026, 11, 25));
    assert_eq!(course.entries.len(), 1);
    assert_eq!(course.case.status.kind, StatusKind::InHospital);
    assert_eq!(course.case.status.since, Some(date(2026, 11, 22)));
}

fn proposal(action: Action, to_stage: Option<u16>) -> Proposal {
    Proposal {
        action,
        from_stage: 2,
        to_stage,
        ease: Vec::new(),
        watch_first: Vec::new(),
        because: Vec::new(),
    }
}

#[test]
fn towards_caution_is_free_and_towards_risk_needs_reason_and_second_name() {
    let advance = proposal(Action::Advance, Some(3));
    let held = Taken::new(&advance, Action::Hold, Some(2), None, None).expect("caution is free");
    assert_eq!(held.towards, Towards::Caution);
    let stop = proposal(Action::StopAndContact, None);
    let on = |reason: Option<&str>, name: Option<&str>| {
        Taken::new(
            &stop,
            Action::Hold,
            Some(2),
            reason.map(str::to_owned),
            name.map(str::to_owned),
        )
    };
    assert_eq!(on(None, None), Err(DecisionRefused::NeedsReason));
    assert_eq!(
        on(Some("  "), Some("Dr Thorsby")),
        Err(DecisionRefused::NeedsReason)
    );
    assert_eq!(
        on(Some("spoken to the doctor"), None),
        Err(DecisionRefused::NeedsSecondName)
    );
    let taken =
        on(Some("spoken to the doctor"), Some("Dr Thorsby")).expect("reason and name stand");
    assert_eq!(taken.towards, Towards::Risk);
    let hold = proposal(Action::Hold, Some(2));
    let asked = Taken::new(&hold, Action::AskFirst, None, None, None).expect("asking is caution");
    assert_eq!(asked.towards, Towards::Caution);
    assert_eq!(
        Taken::new(
            &hold,
            Action::Advance,
            Some(4),
            Some("x".into()),
            Some("y".into())
        ),
        Err(DecisionRefused::TooFar)
    );
}

pub(super) fn decided(on: Date, action: Action, to_stage: Option<u16>) -> (Date, Happening) {
    let call = Call {
        contact: Contact {
            date: on,
            kind: ContactKind::Call,
        },
        reached: true,
        entries: Vec::new(),
        decided: Some(Taken {
            proposed: Action::AskFirst,
            action,
            to_stage,
            towards: Towards::AsProposed,
            reason: None,
            second_name: None,
        }),
        note: String::new(),
        next: None,
        nitrate_until: None,
    };
    (on, Happening::Called(Box::new(call)))
}

pub(super) fn answered(on: Date, key: &str) -> (Date, Happening) {
    let settled = Settled {
        key: key.to_owned(),
        done: "rang the surgery".to_owned(),
    };
    (on, Happening::Settled(settled))
}

/// An answered red alert, or the decision to stop, stands through every later thing but a decision on a page.
#[test]
fn a_stop_lasts_until_somebody_decides_on_a_page() {
    let day = |day| date(2026, 11, day);
    let end = day(25);
    let begun = [(day(1), case()), (day(2), Happening::Released { stage: 2 })];
    for stop in [
        answered(day(5), "review/red-faint:a:faint"),
        decided(day(5), Action::StopAndContact, None),
    ] {
        let mut happened = begun.to_vec();
        happened.push(stop);
        happened.extend([
            answered(day(6), "review/ask-silence:2026-11-01"),
            decided(day(7), Action::AskFirst, None),
            (day(8), Happening::Released { stage: 3 }),
            (day(9), case()),
            (day(9), Happening::Watched(watched(day(9)))),
            (day(10), Happening::Status(StatusKind::Active)),
        ]);
        assert_eq!(fold(&happened, end).stopped, Some(day(5)));
        happened.push(decided(day(11), Action::ReEnter, Some(1)));
        let course = fold(&happened, end);
        assert_eq!((course.stopped, course.current_stage), (None, Some(1)));
    }
    let silence = [
        begun[0].clone(),
        answered(day(5), "review/ask-silence:2026-11-01"),
    ];
    assert_eq!(fold(&silence, end).stopped, None);
}

/// A begun call waits until somebody was reached; nothing of it counts meanwhile.
#[test]
fn a_begun_call_waits_until_it_is_closed() {
    let day = |day| date(2026, 11, day);
    let begun = Happening::Unfinished(Unfinished {
        follows: "Stop, and contact today.".to_owned(),
        answers: vec![("heart".to_owned(), "chest".to_owned())],
    });
    let mut happened = vec![(day(1), case()), (day(5), begun)];
    let course = fold(&happened, day(25));
    assert_eq!(course.unfinished.as_ref().map(|(on, _)| *on), Some(day(5)));
    let without = Course {
        unfinished: None,
        ..course
    };
    assert_eq!(without, fold(&[(day(1), case())], day(25)));
    let (on, closed) = decided(day(6), Action::AskFirst, None);
    let Happening::Called(mut call) = closed else {
        panic!("a call");
    };
    call.reached = false;
    happened.push((on, Happening::Called(call.clone())));
    assert!(
        fold(&happened, day(25)).unfinished.is_some(),
        "nobody was reached"
    );
    call.reached = true;
    happened.push((on, Happening::Called(call)));
    assert_eq!(fold(&happened, day(25)).unfinished, None);
}

#[test]
fn bans_hold_on_every_page_pins_on_theirs_and_each_page_takes_back_its_own() {
    let day = date(2026, 11, 5);
    let pin = |exercise: &str| Pin {
        station: Some(1),
        exercise: exercise.to_owned(),
        variant: None,
    };
    let chosen = |stage, pins: &[&str], bans: &[&str]| {
        let bans = bans.iter().map(|exercise| Ban {
            exercise: (*exercise).to_owned(),
            variant: None,
        });
        let choices = Choices {
            pins: pins.iter().map(|exercise| pin(exercise)).collect(),
            bans: bans.collect(),
            stage,
            given: Vec::new(),
        };
        (day, Happening::Chosen(choices))
    };
    let mut happened = vec![
        (day, case()),
        chosen(1, &["march", "reach"], &["low-step-ups"]),
        chosen(2, &["side-steps"], &["reach"]),
    ];
    let course = fold(&happened, day);
    let first = course.choices_for(1);
    assert_eq!(
        first.pins,
        [pin("march")],
        "a ban of page B holds on page A"
    );
    assert_eq!(first.bans.len(), 2);
    assert_eq!(course.choices_for(2).pins, [pin("side-steps")]);
    assert!(course.choices_for(3).pins.is_empty());
    assert_eq!(course.choices_for(3).bans.len(), 2);
    happened.push(chosen(2, &[], &[]));
    let course = fold(&happened, day);
    let first = course.choices_for(1);
    assert_eq!(first.pins.len(), 2);
    assert_eq!(first.bans.len(), 1, "only what page B chose is taken back");
}

/// News, readings and time move nobody: the page a person is on changes only where somebody gave or decided one.
#[test]
fn law_nothing_but_a_decision_changes_the_page_or_what_is_signed() {
    let day = |day| date(2026, 11, day);
    let begun = [(day(1), case()), (day(2), Happening::Released { stage: 2 })];
    let undecided = [
        (
            day(3),
            Happening::Diary {
                channel: Channel::File,
                entries: (3..20).map(|n| entry(&n.to_string(), day(3))).collect(),
            },
        ),
        (day(4), Happening::Watched(watched(day(4)))),
        answered(day(5), "review/ask-silence:2026-11-01"),
        decided(day(6), Action::AskFirst, None),
        decided(day(6), Action::StopAndContact, None),
        (day(7), Happening::Chosen(Choices::none())),
        (
            day(7),
            Happening::Unfinished(Unfinished {
                follows: "Move on to page C.".to_owned(),
                answers: vec![("heart".to_owned(), "none".to_owned())],
            }),
        ),
        (day(8), Happening::Status(StatusKind::Paused)),
        (
            day(9),
            Happening::Note("ready for the next page".to_owned()),
        ),
        (day(9), case()),
    ];
    for count in 0..=undecided.len() {
        let mut happened = begun.to_vec();
        happened.extend_from_slice(&undecided[..count]);
        for later in [9, 25] {
            let course = fold(&happened, day(later));
            assert_eq!(course.current_stage, Some(2), "{count}");
            assert_eq!(course.stage_since, Some(day(2)), "{count}");
            assert_eq!(course.signed, None, "{count}");
        }
        happened.push(decided(day(10), Action::Hold, Some(1)));
        assert_eq!(fold(&happened, day(25)).current_stage, Some(1));
    }
}

/// What other entries say is told anew by them: facts written later read the same, and keep nothing of an entry that is
/// struck out.
#[test]
fn facts_written_later_keep_nothing_of_what_other_entries_say() {
    let day = |day| date(2026, 11, day);
    let spray = |found| {
        Happening::Called(Box::new(Call {
            contact: Contact {
                date: day(6),
                kind: ContactKind::Call,
            },
            reached: true,
            entries: Vec::new(),
            decided: None,
            note: String::new(),
            next: None,
            nitrate_until: Some(found),
        }))
    };
    let others = [
        (day(4), Happening::Status(StatusKind::Paused)),
        (day(5), Happening::Watched(watched(day(5)))),
        (day(6), spray(date(2027, 3, 31))),
    ];
    let first = [(day(1), case())];
    let before = fold(&[&first[..], &others[..]].concat(), day(25));
    for (until, kind) in [
        (Some(date(2027, 3, 31)), StatusKind::Paused),
        (None, StatusKind::Paused),
        (Some(date(2026, 12, 31)), before.written.status.kind),
    ] {
        let mut wanted = before.case.clone();
        wanted.person.name = Some("Invented Person".to_owned());
        wanted.nitrate.until = until;
        if kind != wanted.status.kind {
            wanted.status = before.written.status;
        }
        let later: Vec<(Date, Happening)> = before
            .written(&wanted)
            .into_iter()
            .map(|one| (day(8), one))
            .collect();
        let mut after = fold(&[&first[..], &others[..], &later[..]].concat(), day(25)).case;
        assert_eq!(after.status.kind, wanted.status.kind);
        after.status = wanted.status;
        assert_eq!(after, wanted, "it reads as it was written");
    }
    let unchanged = before.written(&before.case);
    let later = [(day(8), unchanged[0].clone())];
    assert_eq!(unchanged.len(), 1);
    let struck = fold(&[&first[..], &later[..]].concat(), day(25));
    let never = fold(&first, day(25));
    assert_eq!(struck.case, never.case);
}

#[test]
fn a_dot_answers_no_alert() {
    for nothing in ["", " ", "...", "ok"] {
        assert!(Settled::new("key", nothing).is_err(), "{nothing:?}");
    }
    assert_eq!(
        Settled::new("key", " Rang her ")
            .map(|one| one.done)
            .as_deref(),
        Ok("Rang her")
    );
}

//! Adding to a journal and reading it back.

use jiff::civil::date;
use records::{CaseId, Digest, Draft, Error, NamedDigest};

use crate::common::{Desk, Engine, draft, entry_id, later, new_case, start, word};

pub(crate) async fn entries_come_back_with_everything_that_was_given(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    let digests = vec![NamedDigest {
        name: word("service"),
        digest: Digest::of(b"settings"),
    }];
    let sign_off = Draft {
        plan_digests: digests.clone(),
        ..draft("sign-off", "the plan")
    };
    let at = date(2026, 10, 30).at(23, 59, 59, 0);
    let note = Draft {
        effective: at,
        body: vec![0, 255, 10],
        ..draft("note", "")
    };
    let first = desk
        .store
        .append(case, desk.ada, sign_off.clone(), start())
        .await
        .unwrap();
    let second = desk
        .store
        .append(case, desk.ada, note.clone(), later(5))
        .await
        .unwrap();
    assert_eq!((first.position, second.position), (1, 2));

    let desk = desk.reopen().await;
    let entries = desk.store.entries(case, &desk.reading()).await.unwrap();
    assert_eq!(entries.len(), 2);
    let [one, two] = &entries[..] else { panic!() };
    assert_eq!(
        (one.id, one.kind.as_str(), &one.body[..]),
        (sign_off.id, "sign-off", &b"the plan"[..])
    );
    assert_eq!(
        (one.case, one.author, one.recorded, one.effective),
        (case, desk.ada, start(), sign_off.effective)
    );
    assert_eq!(one.plan_digests, digests);
    assert_eq!(
        (two.position, two.effective, &two.body[..], two.recorded),
        (2, at, &[0, 255, 10][..], later(5))
    );
    assert_eq!((one.hash, two.hash), (first.hash, second.hash));
    assert_eq!(two.hash_before, one.hash);
    assert_eq!((one.supersedes, one.superseded_by), (None, None));
}

pub(crate) async fn the_same_entry_twice_is_one_entry(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    let diary = draft("diary", "three sessions");
    let first = desk
        .store
        .append(case, desk.ada, diary.clone(), start())
        .await
        .unwrap();
    desk.add(case, "something else").await;
    // Also with a position that was right at the first attempt.
    let again = Draft {
        expected_position: Some(1),
        ..diary
    };
    let second = desk
        .store
        .append(case, desk.ada, again, later(60))
        .await
        .unwrap();
    assert!(!first.was_there && second.was_there);
    assert_eq!(
        (first.position, first.hash, first.recorded),
        (second.position, second.hash, second.recorded)
    );
    assert_eq!(
        desk.bodies(case).await,
        ["three sessions", "something else"]
    );
}

pub(crate) async fn an_id_that_is_used_for_something_else_is_refused(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let (case, other) = (
        desk.case("fenwick-1951").await,
        desk.case("abara-1948").await,
    );
    let diary = draft("diary", "three sessions");
    desk.store
        .append(case, desk.ada, diary.clone(), start())
        .await
        .unwrap();
    let changed = [
        Draft {
            body: b"four sessions".to_vec(),
            ..diary.clone()
        },
        Draft {
            kind: word("note"),
            ..diary.clone()
        },
        Draft {
            effective: date(2026, 11, 3).at(0, 0, 0, 0),
            ..diary.clone()
        },
        Draft {
            plan_digests: vec![NamedDigest {
                name: word("plan"),
                digest: Digest::of(b""),
            }],
            ..diary.clone()
        },
    ];
    for draft in changed {
        let refused = desk
            .store
            .append(case, desk.ada, draft, start())
            .await
            .unwrap_err();
        assert!(
            matches!(refused, Error::EntryIdTaken { id } if id == diary.id),
            "{refused}"
        );
    }
    let refused = desk
        .store
        .append(other, desk.ada, diary, start())
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::EntryIdTaken { .. }), "{refused}");
    assert_eq!(desk.bodies(case).await, ["three sessions"]);
    assert!(desk.bodies(other).await.is_empty());
}

pub(crate) async fn a_correction_supersedes_and_the_old_entry_stays_readable(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    let old = desk.add(case, "pulse 164").await;
    let correction = Draft {
        supersedes: Some(old),
        ..draft("note", "pulse 64")
    };
    let new = desk
        .store
        .append(case, desk.ada, correction, later(60))
        .await
        .unwrap()
        .id;
    let entries = desk.store.entries(case, &desk.reading()).await.unwrap();
    assert_eq!(entries[0].body, b"pulse 164");
    assert_eq!(entries[0].superseded_by, Some(new));
    assert_eq!(
        (entries[1].supersedes, entries[1].superseded_by),
        (Some(old), None)
    );
}

pub(crate) async fn only_an_entry_of_the_same_case_can_be_corrected_and_only_once(
    engine: impl Engine,
) {
    let desk = Desk::open(engine).await;
    let (case, other) = (
        desk.case("fenwick-1951").await,
        desk.case("abara-1948").await,
    );
    let old = desk.add(case, "pulse 164").await;
    let correct = |id| Draft {
        supersedes: Some(id),
        ..draft("note", "pulse 64")
    };
    for (case, id) in [(other, old), (case, entry_id())] {
        let refused = desk
            .store
            .append(case, desk.ada, correct(id), start())
            .await
            .unwrap_err();
        assert!(matches!(refused, Error::SupersedesUnknown), "{refused}");
    }
    let new = desk
        .store
        .append(case, desk.ada, correct(old), start())
        .await
        .unwrap()
        .id;
    let refused = desk
        .store
        .append(case, desk.ada, correct(old), start())
        .await
        .unwrap_err();
    assert!(
        matches!(refused, Error::AlreadySuperseded { by } if by == new),
        "{refused}"
    );
    desk.store
        .append(case, desk.ada, correct(new), start())
        .await
        .unwrap();
    assert_eq!(desk.bodies(case).await.len(), 3);
}

pub(crate) async fn another_position_than_expected_is_a_conflict(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    desk.add(case, "one").await;
    let expecting = |position, text| Draft {
        expected_position: Some(position),
        ..draft("note", text)
    };
    for wrong in [0, 1, 3, u64::MAX] {
        let refused = desk
            .store
            .append(case, desk.ada, expecting(wrong, "two"), start())
            .await
            .unwrap_err();
        assert!(
            matches!(refused, Error::Conflict { expected, found: 2 } if expected == wrong),
            "{refused}"
        );
    }
    desk.store
        .append(case, desk.ada, expecting(2, "two"), start())
        .await
        .unwrap();
    assert_eq!(desk.bodies(case).await, ["one", "two"]);
}

pub(crate) async fn several_entries_are_added_all_or_none(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    let call = draft("call", "the sheet");
    let diary = Draft {
        expected_position: Some(2),
        ..draft("diary", "three sessions")
    };
    let wrong = Draft {
        expected_position: Some(9),
        ..draft("note", "the note")
    };
    let together = vec![call.clone(), diary.clone(), wrong];
    assert!(
        desk.store
            .append_all(case, desk.ada, together, start())
            .await
            .is_err()
    );
    assert!(desk.bodies(case).await.is_empty());
    let head = desk.store.head().await.unwrap();
    let appended = desk
        .store
        .append_all(case, desk.ada, vec![call.clone(), diary], start())
        .await
        .unwrap();
    assert_eq!(
        appended
            .iter()
            .map(|entry| entry.position)
            .collect::<Vec<_>>(),
        [1, 2]
    );
    // The second entry may correct the first one of the same transaction.
    let first = draft("note", "a");
    let second = Draft {
        supersedes: Some(first.id),
        ..draft("note", "b")
    };
    desk.store
        .append_all(case, desk.ada, vec![first, second], start())
        .await
        .unwrap();
    assert_eq!(
        desk.bodies(case).await,
        ["the sheet", "three sessions", "a", "b"]
    );
    assert_eq!(desk.store.head().await.unwrap().entries, head.entries + 4);
    // Nothing to add is no error and changes nothing.
    assert!(
        desk.store
            .append_all(case, desk.ada, vec![], start())
            .await
            .unwrap()
            .is_empty()
    );
}

pub(crate) async fn a_body_that_is_too_long_is_refused(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    let long = Draft {
        body: vec![0; (16 << 20) + 1],
        ..draft("note", "")
    };
    let refused = desk
        .store
        .append(case, desk.ada, long, start())
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::Unsuitable { .. }), "{refused}");
    let longest = Draft {
        body: vec![7; 16 << 20],
        ..draft("note", "")
    };
    desk.store
        .append(case, desk.ada, longest, start())
        .await
        .unwrap();
    let entries = desk.store.entries(case, &desk.reading()).await.unwrap();
    assert!(entries[0].body == vec![7; 16 << 20]);
}

pub(crate) async fn the_journal_of_the_service_is_kept_apart(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let service = CaseId::SERVICE;
    desk.store
        .append(service, desk.ada, draft("settings", "adopted"), start())
        .await
        .unwrap();
    let entries = desk.store.service_entries(desk.ada).await.unwrap();
    assert_eq!(entries[0].body, b"adopted");
    assert!(
        desk.store
            .list_cases(desk.ada, &Default::default())
            .await
            .unwrap()
            .is_empty()
    );
    assert!(matches!(
        desk.store.case(desk.ada, service).await,
        Err(Error::NoSuchCase)
    ));
    assert!(matches!(
        desk.store.entries(service, &desk.reading()).await,
        Err(Error::NoSuchCase)
    ));
    assert!(desk.store.verify_sealed().await.unwrap().is_sound());
}

pub(crate) async fn later_entries_alone_can_be_read(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let first = draft("note", "a");
    let opened = records::NewCase {
        entries: vec![first],
        ..new_case("fenwick-1951")
    };
    let case = desk
        .store
        .open_case(desk.ada, opened, start())
        .await
        .unwrap();
    desk.add(case, "b").await;
    desk.add(case, "c").await;
    for (from, texts) in [
        (1, &["a", "b", "c"][..]),
        (3, &["c"]),
        (4, &[]),
        (u64::MAX, &[]),
    ] {
        let entries = desk
            .store
            .entries_from(case, from, &desk.reading())
            .await
            .unwrap();
        let bodies: Vec<&[u8]> = entries.iter().map(|entry| &entry.body[..]).collect();
        assert_eq!(
            bodies,
            texts.iter().map(|text| text.as_bytes()).collect::<Vec<_>>()
        );
    }
    let nowhere = records::CaseId::generate(start()).unwrap();
    assert!(matches!(
        desk.store.entries(nowhere, &desk.reading()).await,
        Err(Error::NoSuchCase)
    ));
    assert!(matches!(
        desk.store
            .append(nowhere, desk.ada, draft("note", ""), start())
            .await,
        Err(Error::NoSuchCase)
    ));
}

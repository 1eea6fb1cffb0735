//! Several people at once.

use records::{AccessFilter, Draft, Error};

use crate::common::{Desk, Engine, draft, later};

pub(crate) async fn entries_added_at_once_are_all_there_in_order(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let cases = [
        desk.case("fenwick-1951").await,
        desk.case("abara-1948").await,
    ];
    let tasks: Vec<_> = (0..80)
        .map(|number| {
            let (store, ada, case) = (desk.store.clone(), desk.ada, cases[number % 2]);
            tokio::spawn(async move {
                let draft = draft("note", &number.to_string());
                store
                    .append(case, ada, draft, later(0))
                    .await
                    .unwrap()
                    .position
            })
        })
        .collect();
    for task in tasks {
        task.await.unwrap();
    }
    for (remainder, case) in cases.into_iter().enumerate() {
        let mut numbers: Vec<usize> = desk
            .bodies(case)
            .await
            .iter()
            .map(|body| body.parse().unwrap())
            .collect();
        numbers.sort_unstable();
        assert_eq!(
            numbers,
            (0..80)
                .filter(|number| number % 2 == remainder)
                .collect::<Vec<_>>()
        );
    }
    assert!(desk.store.verify_sealed().await.unwrap().is_sound());
}

pub(crate) async fn of_two_who_expect_the_same_position_one_wins(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    for position in 1..=20 {
        let tasks: Vec<_> = (0..4)
            .map(|_| {
                let (store, ada) = (desk.store.clone(), desk.ada);
                let draft = Draft {
                    expected_position: Some(position),
                    ..draft("note", "")
                };
                tokio::spawn(async move { store.append(case, ada, draft, later(0)).await })
            })
            .collect();
        let mut won = 0;
        for task in tasks {
            match task.await.unwrap() {
                Ok(_) => won += 1,
                Err(error) => assert!(matches!(error, Error::Conflict { .. }), "{error}"),
            }
        }
        assert_eq!(won, 1);
    }
}

pub(crate) async fn the_same_entry_sent_at_once_is_one_entry(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    let diary = draft("diary", "three sessions");
    let tasks: Vec<_> = (0..10)
        .map(|_| {
            let (store, ada, diary) = (desk.store.clone(), desk.ada, diary.clone());
            tokio::spawn(async move {
                store
                    .append(case, ada, diary, later(0))
                    .await
                    .unwrap()
                    .was_there
            })
        })
        .collect();
    let mut written = 0;
    for task in tasks {
        written += usize::from(!task.await.unwrap());
    }
    assert_eq!(written, 1);
    assert_eq!(desk.bodies(case).await, ["three sessions"]);
}

pub(crate) async fn readers_see_whole_transactions(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    let writer = {
        let (store, ada) = (desk.store.clone(), desk.ada);
        tokio::spawn(async move {
            for _ in 0..30 {
                let three = vec![draft("call", ""), draft("diary", ""), draft("note", "")];
                store.append_all(case, ada, three, later(0)).await.unwrap();
            }
        })
    };
    loop {
        let done = writer.is_finished();
        let entries = desk.store.entries(case, &desk.reading()).await.unwrap();
        assert_eq!(entries.len() % 3, 0);
        assert!(desk.store.locked().verify().await.unwrap().is_sound());
        if done {
            assert_eq!(entries.len(), 90);
            break;
        }
    }
    writer.await.unwrap();
}

pub(crate) async fn readings_at_once_are_noted_each(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    desk.add(case, "a").await;
    let read = || {
        let (store, reading) = (desk.store.clone(), desk.reading());
        tokio::spawn(async move { store.entries(case, &reading).await.unwrap().len() })
    };
    // Some readers go away in the midst of it; that must not hold up the others.
    let (stay, leave): (Vec<_>, Vec<_>) = (0..120)
        .map(|number| (number % 3 > 0, read()))
        .partition(|(stays, _)| *stays);
    for (_, task) in leave {
        task.abort();
    }
    for (_, task) in stay {
        assert_eq!(task.await.unwrap(), 1);
    }
    let filter = AccessFilter {
        case: Some(case),
        ..Default::default()
    };
    let noted = desk
        .store
        .access_log(desk.ada, &filter)
        .await
        .unwrap()
        .len();
    assert!((80..=120).contains(&noted), "{noted}");
    assert_eq!(desk.bodies(case).await, ["a"]);
}

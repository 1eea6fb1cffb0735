//! The access log, and reading the whole caseload.

use std::collections::BTreeMap;

use jiff::civil::date;
use records::{AccessFilter, AccessRow, CaseId, Entry, Error, Reading, Roles};

use crate::common::{Desk, Engine, later, new_user, reading, start, word};

pub(crate) async fn every_reading_is_noted_and_refused_ones_are_not(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    desk.add(case, "pulse 64").await;
    let clerk = desk
        .store
        .add_user(
            desk.ada,
            &new_user("clerk", Roles::ADMINISTRATOR),
            None,
            start(),
        )
        .await
        .unwrap();
    let log = async |case| {
        let filter = AccessFilter {
            case: Some(case),
            ..Default::default()
        };
        desk.store.access_log(desk.ada, &filter).await.unwrap()
    };
    assert!(log(case).await.is_empty());
    let letter = Reading {
        what: word("letter"),
        at: later(5),
        ..desk.reading()
    };
    desk.store.entries(case, &desk.reading()).await.unwrap();
    desk.store.note_access(case, &letter).await.unwrap();
    desk.store.entries_from(case, 1, &letter).await.unwrap();
    assert!(matches!(
        desk.store.entries(case, &reading(clerk)).await,
        Err(Error::NotAllowed { .. })
    ));
    let words: Vec<String> = log(case)
        .await
        .iter()
        .map(|row| row.what.to_string())
        .collect();
    assert_eq!(words, ["letter", "letter", "case-page"]);
    let AccessRow {
        at, by, case: of, ..
    } = log(case).await[0].clone();
    assert_eq!((at, by, of), (later(5), Some(desk.ada), Some(case)));
    // Reading an erased case is refused, and what was noted before stays.
    desk.store
        .erase_case(desk.ada, case, date(2026, 12, 1).at(9, 0, 0, 0), later(9))
        .await
        .unwrap();
    assert!(desk.store.entries(case, &desk.reading()).await.is_err());
    assert_eq!(log(case).await.len(), 3);
}

pub(crate) async fn readings_of_several_cases_are_noted_together_or_not_at_all(
    engine: impl Engine,
) {
    let desk = Desk::open(engine).await;
    let (one, two) = (
        desk.case("fenwick-1951").await,
        desk.case("abara-1948").await,
    );
    let noted = async |case| {
        let filter = AccessFilter {
            case: Some(case),
            ..Default::default()
        };
        let log = desk.store.access_log(desk.ada, &filter).await.unwrap();
        log.len()
    };
    let reading = desk.reading();
    desk.store.note_accesses(&[], &reading).await.unwrap();
    desk.store
        .note_accesses(&[one, two], &reading)
        .await
        .unwrap();
    assert_eq!((noted(one).await, noted(two).await), (1, 1));
    desk.store
        .erase_case(desk.ada, two, date(2026, 12, 1).at(9, 0, 0, 0), later(9))
        .await
        .unwrap();
    let nobody = CaseId::generate(later(10)).unwrap();
    for (wanted, why) in [
        (two, "erased"),
        (nobody, "not in the record"),
        (CaseId::SERVICE, "not in the record"),
    ] {
        let refused = desk.store.note_accesses(&[one, wanted], &reading).await;
        let refused = refused.unwrap_err().to_string().to_lowercase();
        assert!(refused.contains(why), "{refused}");
    }
    assert_eq!(noted(one).await, 1);
}

pub(crate) async fn the_log_is_filtered(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let (one, two) = (
        desk.case("fenwick-1951").await,
        desk.case("abara-1948").await,
    );
    let ben = desk
        .store
        .add_user(
            desk.ada,
            &new_user("ben", Roles::PRACTITIONER),
            None,
            start(),
        )
        .await
        .unwrap();
    for (case, by, at) in [
        (one, desk.ada, 10),
        (two, desk.ada, 20),
        (one, ben, 30),
        (two, ben, 40),
    ] {
        let reading = Reading {
            at: later(at),
            ..reading(by)
        };
        desk.store.entries(case, &reading).await.unwrap();
    }
    let seconds = async |filter: AccessFilter| -> Vec<i64> {
        let rows = desk.store.access_log(desk.ada, &filter).await.unwrap();
        let of_cases = rows.iter().filter(|row| row.case.is_some());
        of_cases
            .map(|row| row.at.duration_since(start()).as_secs())
            .collect()
    };
    let filter = AccessFilter::default;
    assert_eq!(seconds(filter()).await, [40, 30, 20, 10]);
    assert_eq!(
        seconds(AccessFilter {
            case: Some(one),
            ..filter()
        })
        .await,
        [30, 10]
    );
    assert_eq!(
        seconds(AccessFilter {
            by: Some(ben),
            ..filter()
        })
        .await,
        [40, 30]
    );
    assert_eq!(
        seconds(AccessFilter {
            case: Some(one),
            by: Some(ben),
            ..filter()
        })
        .await,
        [30]
    );
    let between = AccessFilter {
        from: Some(later(20)),
        before: Some(later(40)),
        ..filter()
    };
    assert_eq!(seconds(between).await, [30, 20]);
    assert_eq!(
        seconds(AccessFilter {
            limit: Some(1),
            ..filter()
        })
        .await,
        [40]
    );
}

pub(crate) async fn reading_every_case_gives_what_reading_each_gives(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let mut expected: BTreeMap<CaseId, Vec<Entry>> = BTreeMap::new();
    for number in 0..450 {
        let case = desk.case(&format!("case-{number}")).await;
        for entry in 0..number % 3 {
            desk.add(case, &format!("{number} {entry}")).await;
        }
        if number % 50 == 7 {
            desk.store
                .erase_case(desk.ada, case, date(2026, 12, 1).at(9, 0, 0, 0), later(9))
                .await
                .unwrap();
        } else {
            expected.insert(
                case,
                desk.store.entries(case, &desk.reading()).await.unwrap(),
            );
        }
    }
    let mut found = BTreeMap::new();
    let review = Reading {
        what: word("review"),
        ..desk.reading()
    };
    desk.store
        .read_every_case(&review, |case, entries| {
            found.insert(case, entries.unwrap());
            true
        })
        .await
        .unwrap();
    assert!(found == expected);
    let log = desk
        .store
        .access_log(
            desk.ada,
            &AccessFilter {
                limit: Some(1),
                ..Default::default()
            },
        )
        .await
        .unwrap();
    assert_eq!((log[0].what.as_str(), log[0].case), ("review", None));
    let mut visits = 0;
    desk.store
        .read_every_case(&review, |_, _| {
            visits += 1;
            visits < 5
        })
        .await
        .unwrap();
    assert_eq!(visits, 5);
}

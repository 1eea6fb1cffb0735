//! Opening, finding and listing cases.

use jiff::civil::{Date, date};
use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::TestRunner;
use records::{Attention, CaseFilter, CaseId, CaseListing, Draft, Error, NewCase, Summary};

use crate::common::{Desk, Engine, draft, later, new_case, personal, start, summary, word};

pub(crate) async fn a_case_is_found_by_its_reference(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    let other = desk.case("abara-1948").await;
    let desk = desk.reopen().await;
    let find = async |reference| desk.store.find_case(desk.ada, reference).await.unwrap();
    assert_eq!(find("fenwick-1951").await, Some(case));
    assert_eq!(find("abara-1948").await, Some(other));
    assert_eq!(find("Fenwick-1951").await, None);
    assert_eq!(
        desk.store.reference(desk.ada, case).await.unwrap(),
        "fenwick-1951"
    );
    let listing = desk.store.case(desk.ada, case).await.unwrap();
    assert_eq!(listing.personal, Some(personal("Name of fenwick-1951")));
    assert_eq!(listing.summary, summary("active"));
    assert_eq!(
        (listing.entry_count, listing.opened, listing.erased),
        (0, start(), None)
    );
}

pub(crate) async fn opening_a_case_again_gives_the_same_case(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let new = NewCase {
        entries: vec![draft("referral", "from the ward")],
        ..new_case("fenwick-1951")
    };
    let case = desk
        .store
        .open_case(desk.ada, new.clone(), start())
        .await
        .unwrap();
    assert_eq!(
        desk.store.open_case(desk.ada, new, later(3)).await.unwrap(),
        case
    );
    assert_eq!(desk.bodies(case).await, ["from the ward"]);
    let another = NewCase {
        entries: vec![draft("referral", "from the ward")],
        ..new_case("fenwick-1951")
    };
    for new in [another, new_case("fenwick-1951")] {
        let refused = desk
            .store
            .open_case(desk.ada, new, later(3))
            .await
            .unwrap_err();
        assert!(
            matches!(refused, Error::ReferenceTaken { case: there } if there == case),
            "{refused}"
        );
    }
    assert_eq!(
        desk.store
            .list_cases(desk.ada, &CaseFilter::default())
            .await
            .unwrap()
            .len(),
        1
    );
}

pub(crate) async fn the_summary_moves_with_the_entry(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    let paused = Summary {
        session_count: 3,
        heard_on: Some(date(2026, 11, 8)),
        due_on: None,
        ..summary("paused")
    };
    let call = Draft {
        summary: Some(paused.clone()),
        personal: Some(personal("Orla Fenwick")),
        ..draft("call", "away for a week")
    };
    desk.store
        .append(case, desk.ada, call.clone(), later(60))
        .await
        .unwrap();
    let listing = desk.store.case(desk.ada, case).await.unwrap();
    assert_eq!(
        (listing.summary, listing.personal),
        (paused.clone(), Some(personal("Orla Fenwick")))
    );
    assert_eq!((listing.entry_count, listing.changed), (1, later(60)));
    // An entry without a summary leaves it; a refused one too; a repeated one does not bring an old one back.
    desk.add(case, "a note").await;
    let refused = Draft {
        expected_position: Some(1),
        summary: Some(summary("died")),
        ..draft("note", "")
    };
    assert!(
        desk.store
            .append(case, desk.ada, refused, later(61))
            .await
            .is_err()
    );
    assert_eq!(
        desk.store.case(desk.ada, case).await.unwrap().summary,
        paused
    );
    let active = Draft {
        summary: Some(summary("active")),
        ..draft("note", "back")
    };
    desk.store
        .append(case, desk.ada, active, later(62))
        .await
        .unwrap();
    assert!(
        desk.store
            .append(case, desk.ada, call, later(63))
            .await
            .unwrap()
            .was_there
    );
    assert_eq!(
        desk.store.case(desk.ada, case).await.unwrap().summary,
        summary("active")
    );
}

pub(crate) async fn a_summary_worked_out_from_an_older_journal_is_a_conflict(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    desk.add(case, "a").await;
    let replace = async |count, status| {
        let (summary, personal) = (summary(status), personal("Orla Fenwick"));
        desk.store
            .replace_summary(desk.ada, case, count, &summary, &personal)
            .await
    };
    replace(1, "paused").await.unwrap();
    let refused = replace(0, "died").await.unwrap_err();
    assert!(
        matches!(
            refused,
            Error::Conflict {
                expected: 1,
                found: 2
            }
        ),
        "{refused}"
    );
    let listing = desk.store.case(desk.ada, case).await.unwrap();
    assert_eq!(
        (listing.summary.status, listing.entry_count),
        (word("paused"), 1)
    );
    assert!(desk.store.verify_sealed().await.unwrap().is_sound());
}

pub(crate) async fn a_long_list_comes_in_pages(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let mut opened = Vec::new();
    for number in 0..7 {
        let new = new_case(&format!("case-{number}"));
        opened.push(
            desk.store
                .open_case(desk.ada, new, later(number))
                .await
                .unwrap(),
        );
    }
    let mut seen: Vec<CaseId> = Vec::new();
    loop {
        let filter = CaseFilter {
            limit: Some(3),
            after: seen.last().copied(),
            ..Default::default()
        };
        let page = desk.store.list_cases(desk.ada, &filter).await.unwrap();
        assert!(page.len() <= 3);
        seen.extend(page.iter().map(|listing| listing.case));
        if page.is_empty() {
            break;
        }
    }
    assert_eq!(seen, opened);
}

pub(crate) async fn an_unfit_reference_is_refused(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    for reference in ["", &"x".repeat(201)] {
        let refused = desk
            .store
            .open_case(desk.ada, new_case(reference), start())
            .await
            .unwrap_err();
        assert!(matches!(refused, Error::Unsuitable { .. }), "{refused}");
    }
}

pub(crate) async fn heads_change_with_every_entry(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let mut heads = vec![desk.store.head().await.unwrap()];
    let case = desk.case("fenwick-1951").await;
    heads.push(desk.store.head().await.unwrap());
    for text in ["a", "a", "b"] {
        desk.add(case, text).await;
        let head = desk.store.case_head(case).await.unwrap();
        let last = desk
            .store
            .entries(case, &desk.reading())
            .await
            .unwrap()
            .pop()
            .unwrap();
        assert_eq!((head.entries, head.hash), (last.position, last.hash));
        heads.push(desk.store.head().await.unwrap());
    }
    for (at, head) in heads.iter().enumerate() {
        assert!(
            heads[..at]
                .iter()
                .all(|before| before.digest != head.digest)
        );
    }
    let last = heads.last().unwrap();
    assert_eq!((last.cases, last.entries), (1, 3));
    assert_eq!(
        last.to_string(),
        format!("1 case, 3 entries, {}", last.digest.to_short_text())
    );
}

fn some_date() -> impl Strategy<Value = Option<Date>> {
    proptest::option::of((1..=28_i8).prop_map(|day| date(2026, 11, day)))
}

fn some_summary() -> impl Strategy<Value = Summary> {
    let status = proptest::sample::select(vec!["active", "in-hospital", "hospital", "died"]);
    (status, some_date(), some_date(), 0..3_u32).prop_map(
        |(status, due_on, silent_from, open_alert_count)| Summary {
            due_on,
            silent_from,
            open_alert_count,
            ..summary(status)
        },
    )
}

/// The list that the database gives is the list that plain Rust gives, for random cases and random filters.
pub(crate) async fn law_a_filter_lets_through_what_it_says(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let mut runner = TestRunner::default();
    for number in 0..60 {
        let summary = some_summary().new_tree(&mut runner).unwrap().current();
        let new = NewCase {
            summary,
            ..new_case(&format!("case-{number}"))
        };
        desk.store
            .open_case(desk.ada, new, later(number))
            .await
            .unwrap();
    }
    let all = desk
        .store
        .list_cases(desk.ada, &CaseFilter::default())
        .await
        .unwrap();
    assert_eq!(all.len(), 60);
    let words = proptest::collection::vec(
        proptest::sample::select(vec!["active", "hospital", "in-hospital", "paused"]),
        0..3,
    );
    let filters = (words, some_attention(), proptest::option::of(0..40_u32));
    for _ in 0..90 {
        let (statuses, attention, limit) = filters.new_tree(&mut runner).unwrap().current();
        let filter = CaseFilter {
            statuses: statuses.into_iter().map(word).collect(),
            attention,
            limit,
            ..Default::default()
        };
        let found = desk.store.list_cases(desk.ada, &filter).await.unwrap();
        let found: Vec<CaseId> = found.iter().map(|listing| listing.case).collect();
        assert_eq!(found, expected(&all, &filter), "{filter:?}");
        let count = desk.store.count_cases(desk.ada, &filter).await.unwrap();
        assert_eq!(count, found.len() as u64, "{filter:?}");
        let wanted = [(filter.clone(), None), (filter.clone(), Some(3))];
        let lists = desk.store.lists_of_cases(desk.ada, &wanted).await.unwrap();
        let whole = CaseFilter {
            limit: None,
            ..filter.clone()
        };
        let all_of_it = expected(&all, &whole).len() as u64;
        for ((cases, count), most) in lists.into_iter().zip([u64::MAX, 3]) {
            let listed: Vec<CaseId> = cases.iter().map(|listing| listing.case).collect();
            assert_eq!(listed, found, "{filter:?}");
            assert_eq!(count, all_of_it.min(most), "{filter:?}");
        }
    }
}

fn some_attention() -> impl Strategy<Value = Attention> {
    let day = (1..=28_i8).prop_map(|day| date(2026, 11, day));
    (0..3, day).prop_map(|(which, date)| match which {
        0 => Attention::Any,
        1 => Attention::NeededOn(date),
        _ => Attention::NotNeededOn(date),
    })
}

/// The same list in plain Rust.
fn expected(all: &[CaseListing], filter: &CaseFilter) -> Vec<CaseId> {
    let by = |date: Option<Date>, on: Date| date.is_some_and(|date| date <= on);
    let needs = |summary: &Summary, on: Date| {
        by(summary.due_on, on) || by(summary.silent_from, on) || summary.open_alert_count > 0
    };
    let mut list: Vec<&CaseListing> = all
        .iter()
        .filter(|one| filter.statuses.is_empty() || filter.statuses.contains(&one.summary.status))
        .filter(|one| match filter.attention {
            Attention::Any => true,
            Attention::NeededOn(on) => needs(&one.summary, on),
            Attention::NotNeededOn(on) => !needs(&one.summary, on),
        })
        .collect();
    if let Attention::NeededOn(on) = filter.attention {
        list.sort_by_key(|one| {
            let summary = &one.summary;
            (
                summary.open_alert_count == 0,
                summary.silent_from.map_or(on, |silent| silent.min(on)),
                summary.due_on.unwrap_or(Date::MAX),
            )
        });
    }
    let most = filter.limit.map_or(usize::MAX, |most| most as usize);
    list.into_iter().map(|one| one.case).take(most).collect()
}

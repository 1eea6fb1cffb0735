//! Erasing a case.

use jiff::civil::{DateTime, date};
use records::{CaseFilter, CaseId, Draft, Error};

use crate::common::{Desk, Engine, draft, later, new_case, personal, summary};

fn december() -> DateTime {
    date(2026, 12, 1).at(9, 0, 0, 0)
}

pub(crate) async fn an_erased_case_is_unreadable_and_its_chain_verifies(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let (case, other) = (
        desk.case("fenwick-1951").await,
        desk.case("abara-1948").await,
    );
    desk.add(case, "pulse 64").await;
    desk.add(case, "pulse 66").await;
    desk.add(other, "stays").await;
    let erased = desk
        .store
        .erase_case(desk.ada, case, december(), later(9))
        .await
        .unwrap();
    assert_eq!(erased.entries, 3);
    assert!(erased.log_cleared);

    let desk = desk.reopen().await;
    let is_erased = |error: Error| assert!(matches!(error, Error::CaseErased), "{error}");
    is_erased(desk.store.entries(case, &desk.reading()).await.unwrap_err());
    is_erased(
        desk.store
            .append(case, desk.ada, draft("note", "more"), later(10))
            .await
            .unwrap_err(),
    );
    is_erased(
        desk.store
            .erase_case(desk.ada, case, december(), later(10))
            .await
            .unwrap_err(),
    );
    is_erased(desk.store.reference(desk.ada, case).await.unwrap_err());
    let again = desk
        .store
        .replace_summary(
            desk.ada,
            case,
            3,
            &summary("active"),
            &personal("Orla Fenwick"),
        )
        .await;
    is_erased(again.unwrap_err());
    let verification = desk.store.verify_sealed().await.unwrap();
    assert_eq!(
        (
            verification.faults.len(),
            verification.erased,
            verification.head.entries
        ),
        (0, 1, 4)
    );
    assert!(desk.store.locked().verify().await.unwrap().is_sound());
    assert_eq!(desk.bodies(other).await, ["stays"]);

    assert_eq!(
        desk.store
            .list_cases(desk.ada, &CaseFilter::default())
            .await
            .unwrap()
            .len(),
        1
    );
    let with_erased = CaseFilter {
        with_erased: true,
        ..Default::default()
    };
    let list = desk.store.list_cases(desk.ada, &with_erased).await.unwrap();
    let shell = list.iter().find(|listing| listing.case == case).unwrap();
    assert_eq!(
        (shell.personal.clone(), shell.erased, shell.entry_count),
        (None, Some(later(9)), 3)
    );
    assert_eq!(
        (shell.summary.due_on, shell.summary.status.as_str()),
        (None, "erased")
    );
}

pub(crate) async fn the_reference_of_an_erased_case_can_be_used_again(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    desk.store
        .erase_case(desk.ada, case, december(), later(9))
        .await
        .unwrap();
    assert_eq!(
        desk.store
            .find_case(desk.ada, "fenwick-1951")
            .await
            .unwrap(),
        None
    );
    let new = desk
        .store
        .open_case(desk.ada, new_case("fenwick-1951"), later(10))
        .await
        .unwrap();
    assert_ne!(new, case);
    // An entry of the erased case cannot be corrected from the new one.
    let old = desk.add(new, "a").await;
    desk.store
        .erase_case(desk.ada, new, december(), later(11))
        .await
        .unwrap();
    let newest = desk
        .store
        .open_case(desk.ada, new_case("fenwick-1951"), later(12))
        .await
        .unwrap();
    let correction = Draft {
        supersedes: Some(old),
        ..draft("note", "b")
    };
    let refused = desk
        .store
        .append(newest, desk.ada, correction, later(13))
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::SupersedesUnknown), "{refused}");
}

pub(crate) async fn the_journal_of_the_service_cannot_be_erased(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let refused = desk
        .store
        .erase_case(desk.ada, CaseId::SERVICE, december(), later(9))
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::Unsuitable { .. }), "{refused}");
    let nowhere = CaseId::generate(later(0)).unwrap();
    let refused = desk
        .store
        .erase_case(desk.ada, nowhere, december(), later(9))
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::NoSuchCase), "{refused}");
}

//! A call that was interrupted: the sheet is kept unfinished, counts for nothing, and comes back with its answers.

use crate::call::{all_well, course, hidden};
use crate::fixture::{fenwick, house, session, signed};
use axum::http::StatusCode;
use jiff::civil::date;

#[tokio::test]
async fn an_interrupted_sheet_is_kept_counts_for_nothing_and_comes_back_with_its_answers() {
    let house = house().await;
    let mut past = signed(date(2026, 11, 9));
    past.push(session("fenwick-1951", date(2026, 11, 13), None));
    let id = house.write(fenwick(), past).await;
    let address = format!("/people/{id}/call");
    let page = house.get(&address).await;
    let position = hidden(&page, "position");
    let mut fields = all_well(&position);
    fields.retain(|(name, _)| *name != "heart");
    fields.extend([("heart", "chest"), ("act", "draft")]);
    let before = course(&house, id).await;
    let kept = house.post(&address, &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    let after = course(&house, id).await;
    assert_eq!(after.calls, before.calls);
    assert_eq!(after.entries, before.entries);
    assert_eq!(after.current_stage, before.current_stage);

    let case = house.get(&format!("/people/{id}")).await;
    assert!(case.text.contains("kept as a draft and not signed"));
    assert!(
        case.text.contains("What would follow: Stop"),
        "what was told is not hidden in a draft: {}",
        case.text
    );
    let again = house.get(&address).await;
    assert!(again.text.contains("Kept as a draft on"), "{}", again.text);
    assert!(
        again
            .text
            .contains("value=\"All right. The post office was shut.\"")
    );
    for chosen in [
        "name=\"heart\" value=\"chest\" checked",
        "name=\"effort\" value=\"3\" checked",
        "value=\"2026-11-20\" checked",
    ] {
        assert!(again.text.contains(chosen), "{chosen} in {}", again.text);
    }

    // Kept once more it is one draft; signed, it is none.
    let position = hidden(&again, "position");
    let mut fields = all_well(&position);
    fields.push(("act", "draft"));
    house.post(&address, &fields).await;
    let page = house.get(&address).await;
    assert!(!page.text.contains("value=\"chest\" checked"));
    let position = hidden(&page, "position");
    let fields = all_well(&position);
    let signed = house.sign(&address, &fields).await;
    assert_eq!(signed.status, StatusCode::SEE_OTHER, "{}", signed.text);
    let case = house.get(&format!("/people/{id}")).await;
    assert!(!case.text.contains("kept as a draft and not signed"));
    let page = house.get(&address).await;
    assert!(!page.text.contains("Kept as a draft on"));
}

#[tokio::test]
async fn a_change_of_medicine_alone_drafts_the_letter_to_the_doctor() {
    let house = house().await;
    let mut past = signed(date(2026, 11, 9));
    past.push(session("fenwick-1951", date(2026, 11, 13), None));
    let id = house.write(fenwick(), past).await;
    let address = format!("/people/{id}/call");
    let position = hidden(&house.get(&address).await, "position");
    let mut fields = all_well(&position);
    fields.retain(|(name, _)| *name != "medicines");
    fields.extend([
        ("medicines", "something"),
        ("medicine-change", "ramipril doubled on Monday"),
        ("act", "follow"),
    ]);
    let page = house.post(&address, &fields).await;
    assert!(page.text.contains("name=\"letter\""), "{}", page.text);
    assert!(page.text.contains("Dear Dr"), "{}", page.text);
}

/// What was told stands on the day it was told, not on the day the sheet is signed.
#[tokio::test]
async fn a_red_sign_of_a_draft_is_dated_by_the_day_it_was_told() {
    let house = house().await;
    let told = date(2026, 11, 23);
    let mut past = signed(date(2026, 11, 9));
    past.push(session("fenwick-1951", date(2026, 11, 20), None));
    let answers = [
        ("kind", "call"),
        ("heart", "chest"),
        ("usual-chest", "changed"),
    ];
    let sheet = rehab::course::Unfinished {
        follows: "Stop, and contact today.".to_owned(),
        answers: answers
            .map(|(name, value)| (name.to_owned(), value.to_owned()))
            .to_vec(),
    };
    past.push((told, rehab::course::Happening::Unfinished(sheet)));
    let id = house.write(fenwick(), past).await;
    let today = house.get("/").await.text;
    assert!(
        today.contains("Fenwick") && today.contains("not finished"),
        "{today}"
    );
    let address = format!("/people/{id}/call");
    let open = house.get(&address).await;
    assert!(
        open.text.contains("name=\"spoken\" value=\"2026-11-23\""),
        "{}",
        open.text
    );
    let position = crate::call::hidden(&open, "position");
    let mut fields = answers.to_vec();
    fields.push(("position", &position));
    let signed = house.sign(&address, &fields).await;
    assert_eq!(signed.status, StatusCode::SEE_OTHER, "{}", signed.text);
    let after = crate::call::course(&house, id).await;
    let call = after.calls.last().unwrap();
    assert_eq!(call.contact.date, told);
    let red = call
        .entries
        .iter()
        .find(|one| one.symptoms.as_ref().is_some_and(|all| !all.is_empty()));
    assert_eq!(red.unwrap().date, told);
}

//! A stop stands on every page until somebody decides on a page again.

use crate::call::{all_well, course, hidden};
use axum::http::StatusCode;
use rehab::course::{Happening, Settled};

/// A faint was told, and what was done is written; nobody has decided since.
async fn answered() -> (crate::fixture::House, records::CaseId, String) {
    let mut past = crate::fixture::signed(jiff::civil::date(2026, 11, 9));
    past.push((
        jiff::civil::date(2026, 11, 20),
        Happening::Settled(Settled {
            key: "review/red-faint:a:faint".to_owned(),
            done: "rang the surgery".to_owned(),
        }),
    ));
    let house = crate::fixture::house().await;
    let id = house.write(crate::fixture::fenwick(), past).await;
    (house, id, format!("/people/{id}/call"))
}

#[tokio::test]
async fn a_standing_stop_is_said_everywhere_and_words_do_not_end_it() {
    let (house, id, _) = answered().await;
    let person = format!("/people/{id}");
    for (address, words) in [
        ("/".to_owned(), "nobody has decided on a page again"),
        (person.clone(), "nobody has decided on a page again"),
        (
            format!("{person}/pack"),
            "somebody must decide on a page again",
        ),
    ] {
        let page = house.get(&address).await;
        assert!(page.text.contains(words), "{address}: {}", page.text);
    }
    let key = "review/ask-stopped:2026-11-20";
    let fields = [("key", key), ("done", "all is well again")];
    let page = house.post(&format!("{person}/settle"), &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(course(&house, id).await.stopped.is_some());
}

#[tokio::test]
async fn only_a_decision_with_reason_and_second_name_ends_a_stop() {
    let (house, id, address) = answered().await;
    let position = hidden(&house.get(&address).await, "position");
    let fields = all_well(&position);
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.text);
    assert!(
        course(&house, id).await.stopped.is_some(),
        "good news and the proposal signed: it stands"
    );
    let position = hidden(&house.get(&address).await, "position");
    let mut fields = all_well(&position);
    fields.retain(|(name, _)| *name != "day" && *name != "stage" && *name != "effort");
    fields.push(("decide", "hold"));
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    fields.push(("reason", "Seen by Dr Thorsby, a simple faint in the heat"));
    fields.push(("second-name", "Dr Thorsby"));
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.text);
    assert_eq!(course(&house, id).await.stopped, None);
}

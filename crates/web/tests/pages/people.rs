//! A long list of people: a page at a time, everybody reached, and a name found wherever it stands.

use crate::fixture::{fenwick, house};
use axum::http::StatusCode;

/// More than one page shows by name.
const MANY: usize = 230;

#[tokio::test]
async fn a_long_list_is_shown_a_page_at_a_time_and_a_search_finds_anybody() {
    let house = house().await;
    for number in 0..MANY {
        let mut case = fenwick();
        case.id.0 = format!("invented-{number:04}");
        case.person.name = Some(format!("Invented Person{number:04}"));
        case.person.called = Some(format!("Called{number:04}"));
        house.write(case, Vec::new()).await;
    }
    let mut seen = 0;
    let mut address = "/people".to_owned();
    for _ in 0..MANY {
        let page = house.get(&address).await;
        let here = page.text.matches("<b>Called").count();
        assert!(here > 0 && here <= 50, "{here} on {address}");
        seen += here;
        let Some(at) = page.text.find("/people?after=") else {
            break;
        };
        let rest = &page.text[at..];
        address = rest[..rest.find('"').unwrap()].to_owned();
    }
    assert_eq!(seen, MANY, "everybody is on one of the pages");
    let found = house.get("/people?name=person0229").await;
    assert_eq!(found.text.matches("<b>Called").count(), 1);
    assert!(found.text.contains("Called0229"));
}

/// A refusal stood on a page from which nothing led anywhere but to Today.
#[tokio::test]
async fn a_refusal_has_the_ways_to_everything_else_for_who_is_signed_in() {
    let house = house().await;
    let nobody = "/people/018f0000-0000-7000-8000-000000000000";
    for address in [nobody, "/no-such-page", "/people/nobody"] {
        let page = house.get(address).await;
        assert_eq!(page.status, StatusCode::NOT_FOUND, "{address}");
        assert!(page.text.contains("This page is not here"), "{address}");
        assert!(page.text.contains("aria-label=\"Main\""), "{}", page.text);
        assert!(page.text.contains("href=\"/people\""), "{address}");
        assert_eq!(page.text.matches("<h1").count(), 1, "{address}");
    }
}

//! The case page, alerts, standing, and all that was written.

use crate::fixture::{House, fenwick, house, session, signed, standing};
use axum::http::StatusCode;
use jiff::civil::date;
use records::CaseId;
use rehab::assessment::{HistoryItem, StatusKind};
use rehab::diary::SymptomKind;

async fn with_chest(house: &House) -> CaseId {
    let mut story = signed(date(2026, 11, 9));
    story.push(session(
        "fenwick-1951",
        date(2026, 11, 23),
        Some(SymptomKind::ChestDiscomfort),
    ));
    house.write(fenwick(), story).await
}

fn key_of(text: &str) -> String {
    let start = text.find("name=\"key\" value=\"").unwrap() + 18;
    let end = text[start..].find('"').unwrap();
    text[start..start + end].to_owned()
}

#[tokio::test]
async fn the_chain_leads_forwards_and_each_number_has_its_reason() {
    let house = house().await;
    let id = house.write(fenwick(), signed(date(2026, 11, 12))).await;
    let page = house.get(&format!("/people/{id}")).await;
    assert_eq!(page.status, StatusCode::OK);
    let mut last = 0;
    for link in [
        "Referral",
        "Screening",
        "Capacity",
        "Risk",
        "At home",
        "Limits",
        "Still to find out",
        "Programme",
        "Sign-off",
    ] {
        let at = page
            .text
            .find(&format!("<b>{link}</b>"))
            .unwrap_or_else(|| panic!("{link} is missing"));
        assert!(at > last, "{link} stands too early");
        last = at;
    }
    // The number, the link to its reason, and the reason with its source.
    assert!(
        page.text
            .contains("href=\"#because-limits-hr-high\">97</a>")
    );
    assert!(page.text.contains("id=\"because-limits-hr-high\""));
    assert!(page.text.contains("Brawner"));
    assert!(page.text.contains("Is the spray in date"));
    assert_eq!(
        page.text.matches("class=\"do\"").count(),
        1,
        "one solid block a page"
    );
}

#[tokio::test]
async fn every_number_that_is_underlined_has_its_reason_on_the_page() {
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    let page = house.get(&format!("/people/{id}")).await;
    let asked: Vec<&str> = page
        .text
        .split("class=\"why\" href=\"#")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .collect();
    assert!(asked.len() >= 6, "{asked:?}");
    for id in asked {
        assert!(
            page.text.contains(&format!("id=\"{id}\"")),
            "{id} leads nowhere"
        );
    }
}

#[tokio::test]
async fn an_alert_stays_until_it_is_written_what_was_done() {
    let house = house().await;
    let id = with_chest(&house).await;
    let address = format!("/people/{id}");
    let page = house.get(&address).await;
    assert!(page.text.contains("To answer"));
    let key = key_of(&page.text);
    let empty = house
        .post(
            &format!("{address}/settle"),
            &[("key", &key), ("done", " ")],
        )
        .await;
    assert_eq!(empty.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(empty.text.contains("Nothing is written"));
    let dots = house
        .post(
            &format!("{address}/settle"),
            &[("key", &key), ("done", "...")],
        )
        .await;
    assert_eq!(dots.status, StatusCode::UNPROCESSABLE_ENTITY);
    let done = house
        .post(
            &format!("{address}/settle"),
            &[("key", &key), ("done", "Rang; seen by Dr Sena today")],
        )
        .await;
    assert_eq!(done.status, StatusCode::SEE_OTHER);
    let after = house.get(&address).await;
    assert!(!after.text.contains(&format!("value=\"{key}\"")));
    let written = house.get(&format!("{address}/written")).await;
    assert!(written.text.contains("Rang; seen by Dr Sena today"));
    let again = house
        .post(
            &format!("{address}/settle"),
            &[("key", &key), ("done", "twice")],
        )
        .await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn what_was_struck_out_no_longer_counts_and_stays_readable() {
    let house = house().await;
    let id = with_chest(&house).await;
    let address = format!("/people/{id}");
    let written = house.get(&format!("{address}/written")).await;
    // The diary is the newest entry, so its form comes first.
    let start = written.text.find("name=\"entry\" value=\"").unwrap() + 20;
    let entry = &written.text[start..start + 36];
    let strike = format!("{address}/strike");
    let why = ("why", "Another person's code");
    let alone = house.post(&strike, &[("entry", entry), why]).await;
    assert_eq!(alone.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(alone.text.contains("second person"), "{}", alone.text);
    assert!(
        alone.text.contains("Another person"),
        "nothing typed is lost"
    );
    let own = ("second-name", "Josie Marwood");
    let own = house.post(&strike, &[("entry", entry), why, own]).await;
    assert_eq!(own.status, StatusCode::UNPROCESSABLE_ENTITY);
    let second = ("second-name", "Dr Sena");
    let struck = house.post(&strike, &[("entry", entry), why, second]).await;
    assert_eq!(struck.status, StatusCode::SEE_OTHER, "{}", struck.text);
    let page = house.get(&address).await;
    assert!(
        !page.text.contains("hest discomfort on"),
        "the alert came from the struck entry"
    );
    let written = house.get(&format!("{address}/written")).await;
    assert!(
        written.text.contains("Another person&#39;s code")
            || written.text.contains("Another person's code")
    );
    assert!(written.text.contains("Struck out by entry 5"));
    assert!(written.text.contains("Second name: Dr Sena"));
    let struck = written.text.split("class=\"struck\"").nth(1).unwrap();
    assert!(struck.contains("News by spoken code"), "it stays readable");
    let twice = house
        .post(
            &format!("{address}/strike"),
            &[("entry", entry), ("why", "again")],
        )
        .await;
    assert_eq!(twice.status, StatusCode::UNPROCESSABLE_ENTITY);
}

/// A person is told of a standing by an entry of its own; facts written later must not keep it when it is struck out.
#[tokio::test]
async fn what_was_struck_out_is_not_kept_by_facts_that_were_written_after_it() {
    let house = house().await;
    let id = house.write(fenwick(), signed(date(2026, 11, 9))).await;
    let address = format!("/people/{id}");
    let standing = format!("{address}/standing");
    house.post(&standing, &[("standing", "paused")]).await;
    let person = format!("{address}/facts/person");
    let fields = [
        ("person.telephones", "01632 960 555"),
        ("person.born", "1951-05-17"),
    ];
    let kept = house.send(&person, &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    let written = house.get(&format!("{address}/written")).await.text;
    let entry = written.split("Standing: paused").nth(1).unwrap();
    let start = entry.find("name=\"entry\" value=\"").unwrap() + 20;
    let entry = &entry[start..start + 36];
    let fields = [
        ("entry", entry),
        ("why", "Not so"),
        ("second-name", "Dr Sena"),
    ];
    let struck = house.post(&format!("{address}/strike"), &fields).await;
    assert_eq!(struck.status, StatusCode::SEE_OTHER, "{}", struck.text);
    let now = house.get(&standing).await.text;
    assert!(now.contains("Now: with us"), "{now}");
}

#[tokio::test]
async fn nobody_is_discharged_with_an_alert_that_nobody_answered() {
    let house = house().await;
    let id = with_chest(&house).await;
    let address = format!("/people/{id}/standing");
    for leaves in ["discharged", "declined"] {
        let refused = house.post(&address, &[("standing", leaves)]).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{leaves}");
        assert!(
            refused.text.contains("nobody has answered"),
            "{}",
            refused.text
        );
    }
    let died = house.post(&address, &[("standing", "died")]).await;
    assert_eq!(died.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn who_died_is_due_for_nothing() {
    let house = house().await;
    let id = with_chest(&house).await;
    let address = format!("/people/{id}");
    let change = house
        .post(
            &format!("{address}/standing"),
            &[("standing", "died"), ("why", "")],
        )
        .await;
    assert_eq!(change.status, StatusCode::SEE_OTHER);
    let page = house.get(&address).await;
    assert!(
        page.text
            .contains("Nothing is due, printed or sent any more")
    );
    assert!(!page.text.contains("To answer"));
    assert!(!page.text.contains("Look at the first page and sign"));
    let today = house.get("/").await;
    assert!(!today.text.contains("Mrs Fenwick"), "{}", today.text);
    let listed = house.store.case(house.user, id).await.unwrap();
    assert_eq!(listed.summary.due_on, None);
    assert_eq!(listed.summary.silent_from, None);
    assert_eq!(listed.summary.open_alert_count, 0);
}

#[tokio::test]
async fn an_unknown_standing_changes_nothing() {
    let house = house().await;
    let id = house
        .write(standing(fenwick(), StatusKind::Paused), Vec::new())
        .await;
    let change = house
        .post(&format!("/people/{id}/standing"), &[("standing", "cured")])
        .await;
    assert_eq!(change.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(
        house.store.case(house.user, id).await.unwrap().entry_count,
        1
    );
}

#[tokio::test]
async fn reading_a_case_is_in_the_access_log_and_a_stranger_is_not_found() {
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    house.get(&format!("/people/{id}")).await;
    let log = house
        .store
        .access_log(house.user, &records::AccessFilter::default())
        .await
        .unwrap();
    assert!(
        log.iter()
            .any(|row| row.case == Some(id) && row.what.as_str() == "case-page")
    );
    let stranger = house
        .get("/people/01a21099-ad8d-7eb3-861f-1e39a78d8b38")
        .await;
    assert!(
        stranger.status == StatusCode::NOT_FOUND,
        "{}",
        stranger.status
    );
    assert_eq!(
        house.get("/people/nonsense").await.status,
        StatusCode::NOT_FOUND
    );
}

#[tokio::test]
async fn before_a_page_is_given_the_first_one_is_shown_in_draft() {
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    let page = house.get(&format!("/people/{id}")).await;
    assert!(page.text.contains("Page A, in draft:"), "{}", page.text);
    assert!(page.text.contains("class=\"drafted\""));
    let given = house
        .write(
            crate::fixture::somebody("other-1950", "Ann Other", "Mrs Other"),
            signed(date(2026, 11, 12)),
        )
        .await;
    let page = house.get(&format!("/people/{given}")).await;
    assert!(!page.text.contains("in draft"));
}

#[tokio::test]
async fn a_defibrillator_without_its_rate_never_reads_like_a_free_pulse() {
    let house = house().await;
    let mut case = fenwick();
    case.heart.device = Some(rehab::assessment::Device {
        lowest_treated_bpm: None,
        last_shock: None,
        subcutaneous: None,
    });
    let id = house.write(case, Vec::new()).await;
    let page = house.get(&format!("/people/{id}")).await;
    assert!(
        page.text
            .contains("no ceiling yet: the rate at which the device treats is missing")
    );
    assert!(
        page.text.contains("Sign a page") && !page.text.contains("Look at the first page and sign")
    );
}

/// Two cases open side by side must not be taken for each other.
#[tokio::test]
async fn every_page_of_a_case_bears_name_and_birth_year() {
    let house = house().await;
    let id = house.write(fenwick(), signed(date(2026, 11, 9))).await;
    for page in [
        "",
        "/facts",
        "/facts/medicines",
        "/facts/home",
        "/builder",
        "/sign",
        "/watched",
        "/pack",
        "/call",
        "/call/paper",
        "/inbox",
        "/call?kind=visit",
        "/written",
        "/standing",
    ] {
        let answer = house.get(&format!("/people/{id}{page}")).await;
        assert_eq!(answer.status, StatusCode::OK, "{page}");
        assert!(answer.text.contains("Fenwick"), "{page} has no name");
        assert!(answer.text.contains("1951"), "{page} has no birth year");
    }
}

#[tokio::test]
async fn at_home_is_never_a_yes_while_the_screening_is_against_exercise() {
    let house = house().await;
    let mut case = fenwick();
    case.history.present.push(HistoryItem::UnstableAngina);
    case.history
        .absent
        .retain(|one| *one != HistoryItem::UnstableAngina);
    let id = house.write(case, Vec::new()).await;
    let page = house.get(&format!("/people/{id}")).await;
    let at = page.text.find("<b>At home</b>").unwrap();
    let link = &page.text[at..at + 600];
    assert!(link.contains("Not while the screening holds"), "{link}");
}

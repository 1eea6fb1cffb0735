//! The team's pages: users added, given other roles and ended, and who opened a case.

use crate::fixture::{House, fenwick, house};
use axum::http::StatusCode;

async fn id_of(house: &House, sign_in: &str) -> String {
    let users = house.store.users().await.unwrap();
    let found = users.iter().find(|user| user.sign_in == sign_in);
    found.unwrap().id.to_string()
}

#[tokio::test]
async fn somebody_is_added_given_another_role_and_ended_and_their_name_stays() {
    let house = house().await;
    let mut fields = vec![
        ("full_name", "Tom Aldis, nurse"),
        ("sign_in", "tom"),
        ("passphrase", "short"),
        ("role", "practitioner"),
    ];
    let refused = house.post("/team", &fields).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("value=\"Tom Aldis, nurse\""));
    assert!(!refused.text.contains("value=\"short\""));
    fields[2].1 = "harbour linen seven oak";
    let added = house.post("/team", &fields).await;
    assert_eq!(added.status, StatusCode::SEE_OTHER, "{}", added.text);
    let twice = house.post("/team", &fields).await;
    assert_eq!(twice.status, StatusCode::UNPROCESSABLE_ENTITY);

    let tom = id_of(&house, "tom").await;
    let changed = house
        .post("/team/roles", &[("user", tom.as_str()), ("role", "lead")])
        .await;
    assert_eq!(changed.status, StatusCode::SEE_OTHER, "{}", changed.text);
    assert!(
        house
            .get("/team")
            .await
            .text
            .contains("signs in as tom. Lead.")
    );
    let ended = house.post("/team/end", &[("user", &tom)]).await;
    assert_eq!(ended.status, StatusCode::SEE_OTHER, "{}", ended.text);
    let page = house.get("/team").await;
    assert!(page.text.contains("No longer with us"), "{}", page.text);
    assert!(page.text.contains("Tom Aldis, nurse, until"));
}

#[tokio::test]
async fn the_last_administrator_stays_one_and_cannot_be_ended() {
    let house = house().await;
    let josie = id_of(&house, "josie").await;
    let changed = house
        .post("/team/roles", &[("user", josie.as_str()), ("role", "lead")])
        .await;
    assert_eq!(changed.status, StatusCode::UNPROCESSABLE_ENTITY);
    let ended = house.post("/team/end", &[("user", &josie)]).await;
    assert_eq!(ended.status, StatusCode::UNPROCESSABLE_ENTITY);
    let none = house.post("/team/roles", &[("user", &josie)]).await;
    assert_eq!(none.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn who_is_no_administrator_changes_nobody_and_a_lead_sees_who_opened_a_case() {
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    house.get(&format!("/people/{id}")).await;
    let house = house.seen_by_the_lead().await;
    let page = house.get("/team").await;
    assert!(!page.text.contains("Add to the team"));
    let sent = house
        .post(
            "/team",
            &[
                ("full_name", "Tom Aldis"),
                ("sign_in", "tom"),
                ("passphrase", "harbour linen seven oak"),
                ("role", "administrator"),
            ],
        )
        .await;
    assert_eq!(sent.status, StatusCode::FORBIDDEN, "{}", sent.text);
    let log = house.get(&format!("/people/{id}/access")).await;
    assert!(
        log.text
            .contains("Josie Marwood, physiotherapist: case page."),
        "{}",
        log.text
    );
}

#[tokio::test]
async fn a_field_that_came_twice_is_refused_and_several_roles_are_not() {
    let house = house().await;
    let fields = vec![
        ("full_name", "Tom Aldis, nurse"),
        ("sign_in", "tom"),
        ("passphrase", "harbour linen seven oak"),
        ("role", "practitioner"),
        ("role", "lead"),
    ];
    let users = house.store.users().await.unwrap().len();
    for name in ["full_name", "sign_in", "passphrase"] {
        let mut twice = fields.clone();
        twice.push((name, "another"));
        let refused = house.post("/team", &twice).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        assert!(
            refused.text.contains("came twice"),
            "{name}: {}",
            refused.text
        );
        assert_eq!(house.store.users().await.unwrap().len(), users, "{name}");
    }
    let added = house.post("/team", &fields).await;
    assert_eq!(added.status, StatusCode::SEE_OTHER, "{}", added.text);
    let tom = id_of(&house, "tom").await;
    for (address, name) in [
        ("/team/roles", "user"),
        ("/team/end", "user"),
        ("/team/passphrase", "new"),
    ] {
        let twice = [
            ("user", tom.as_str()),
            ("role", "lead"),
            (name, "x"),
            (name, "y"),
        ];
        let refused = house.post(address, &twice).await;
        assert_eq!(
            refused.status,
            StatusCode::UNPROCESSABLE_ENTITY,
            "{address}"
        );
        assert!(
            refused.text.contains("came twice"),
            "{address}: {}",
            refused.text
        );
    }
}

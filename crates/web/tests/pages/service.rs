//! The service's settings and their adoption.

use crate::fixture::house;
use axum::http::StatusCode;

#[tokio::test]
async fn settings_show_where_they_come_from_and_are_adopted_under_a_name() {
    let house = house().await;
    let page = house.get("/service").await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    assert!(page.text.contains("Not adopted yet"));
    assert!(page.text.contains("Our default.") && page.text.contains("Pernick"));
    assert_eq!(
        page.text.matches("class=\"do\"").count(),
        1,
        "one solid block a page"
    );
    let adopted = house.post("/service/adopt", &[("position", "1")]).await;
    assert_eq!(adopted.status, StatusCode::SEE_OTHER, "{}", adopted.text);
    let page = house.get("/service").await;
    assert!(
        page.text
            .contains("Adopted by Josie Marwood, physiotherapist on 25 November 2026")
    );
    // Settings that changed since the page was opened are not signed.
    let stale = house.post("/service/adopt", &[("position", "1")]).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
}

#[tokio::test]
async fn a_change_ends_the_adoption_and_counts_at_once() {
    let house = house().await;
    house.post("/service/adopt", &[("position", "1")]).await;
    let mut fields = whole(&house.get("/service").await.text);
    for (name, value) in &mut fields {
        match name.as_str() {
            "name" => *value = "Ellerdale home heart team".to_owned(),
            "emergency.number" => *value = "999".to_owned(),
            "emergency.text" => *value = "Ring 999 and sit down.".to_owned(),
            "icd_margin_bpm" => *value = "25".to_owned(),
            _ => {}
        }
    }
    let borrowed: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    let kept = house.post("/service", &borrowed).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    let page = house.get("/service").await;
    assert!(
        page.text.contains("Ellerdale home heart team") && page.text.contains("Not adopted yet")
    );
    let service = newest(&house).await;
    assert_eq!(service.icd_margin_bpm, 25.0);
    assert_eq!(service.emergency.unwrap().number, "999");
    assert_eq!(service.nitrate, None, "empty steps are no protocol");
}

#[tokio::test]
async fn settings_opened_before_somebody_else_wrote_are_not_written_over_theirs() {
    let house = house().await;
    let opened = whole(&house.get("/service").await.text);
    let with = |name: &'static str| {
        let fields = opened.iter().map(move |(key, value)| match key.as_str() {
            "name" => (key.as_str(), name),
            _ => (key.as_str(), value.as_str()),
        });
        fields.collect::<Vec<_>>()
    };
    let first = house.post("/service", &with("Ellerdale")).await;
    assert_eq!(first.status, StatusCode::SEE_OTHER, "{}", first.text);
    let second = house.post("/service", &with("Somewhere else")).await;
    assert_eq!(second.status, StatusCode::CONFLICT);
    assert!(
        second.text.contains("Somewhere else"),
        "nothing typed is lost"
    );
    assert_eq!(newest(&house).await.name, "Ellerdale");
}

#[tokio::test]
async fn a_setting_outside_its_range_is_refused_at_its_field() {
    let house = house().await;
    let mut fields = whole(&house.get("/service").await.text);
    fields
        .iter_mut()
        .find(|(name, _)| name == "icd_margin_bpm")
        .unwrap()
        .1 = "-5".to_owned();
    let borrowed: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    let page = house.post("/service", &borrowed).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("icd_margin_bpm-wrong") && page.text.contains("value=\"-5\""));
}

/// Nobody sees the keys of the file on the page, so that a refusal names the field by its label.
#[tokio::test]
async fn a_refusal_names_the_label_of_the_field_and_no_key() {
    let house = house().await;
    let mut fields = whole(&house.get("/service").await.text);
    for (name, value) in &mut fields {
        match name.as_str() {
            "nitrate.protocol[1].wait_s" => *value = "300".to_owned(),
            "nitrate.protocol[2].text" => *value = "One spray under the tongue".to_owned(),
            "cardiovascular_s.least_s" => *value = "500".to_owned(),
            _ => {}
        }
    }
    let borrowed: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    let page = house.post("/service", &borrowed).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let told: Vec<&str> = page
        .text
        .split("class=\"wrong\"")
        .skip(1)
        .filter_map(|rest| rest.split_once('>')?.1.split_once('<'))
        .map(|(message, _)| message)
        .collect();
    assert!(!told.is_empty(), "{}", page.text);
    for message in &told {
        assert!(!message.contains('_'), "a key is named: {message}");
    }
    let all = told.join(" ");
    assert!(all.contains("Step 1"), "{all}");
}

#[tokio::test]
async fn every_rule_is_listed_with_its_source() {
    let house = house().await;
    let page = house.get("/service/rules").await;
    let count = rehab::rules::rules().count();
    assert!(page.text.contains(&format!("{count} in all")));
    for rule in rehab::rules::rules() {
        assert!(page.text.contains(rule.id.0), "{}", rule.id);
    }
}

async fn newest(house: &crate::fixture::House) -> rehab::service::Service {
    let entries = house.store.service_entries(house.user).await.unwrap();
    formats::service::read("service.json", &entries.last().unwrap().body).unwrap()
}

/// What a browser would send of the settings' form.
pub(crate) fn whole(html: &str) -> Vec<(String, String)> {
    crate::facts::fields_in(html.split("action=\"/service\"").nth(1).unwrap())
}

/// Settings that cannot be read are never replaced by the built-in ones in silence.
#[tokio::test]
async fn settings_that_cannot_be_read_are_told_and_not_replaced() {
    let house = house().await;
    let now = jiff::Timestamp::now();
    let draft = records::Draft::new(
        records::EntryId::generate(now).unwrap(),
        records::Word::new("service").unwrap(),
        crate::fixture::ON.at(8, 0, 0, 0),
        br#"{"name":"Ellerdale","of_a_later_version":1}"#.to_vec(),
    );
    let service = records::CaseId::SERVICE;
    house
        .store
        .append(service, house.user, draft, now)
        .await
        .unwrap();
    let page = house.get("/service").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("cannot be read"), "{}", page.text);
}

/// A field that came twice was refused of a case and taken, the first of the two, of the service and of the team.
#[tokio::test]
async fn a_field_that_came_twice_is_refused_in_settings_and_adoption() {
    let house = house().await;
    let twice = [("position", "1"), ("position", "2")];
    let refused = house.post("/service/adopt", &twice).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("came twice"), "{}", refused.text);
    let fields = whole(&house.get("/service").await.text);
    let borrowed: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    for name in ["name", "icd_margin_bpm", "position"] {
        let (_, value) = borrowed.iter().find(|(known, _)| *known == name).unwrap();
        let mut fields = borrowed.clone();
        fields.push((name, value));
        let refused = house.post("/service", &fields).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        assert!(
            refused.text.contains("came twice"),
            "{name}: {}",
            refused.text
        );
    }
    assert!(
        house
            .store
            .service_entries(house.user)
            .await
            .unwrap()
            .is_empty()
    );
}

//! Today and People.

use crate::fixture::{fenwick, house, session, signed, somebody, standing};
use axum::http::StatusCode;
use jiff::civil::date;
use rehab::assessment::StatusKind;
use rehab::course::Happening;
use rehab::diary::SymptomKind;

#[tokio::test]
async fn an_empty_record_says_how_to_begin() {
    let house = house().await;
    let page = house.get("/").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("Wednesday 25 November"));
    assert!(page.text.contains("Nobody is in the record yet"));
}

#[tokio::test]
async fn chest_discomfort_comes_first_and_silence_second() {
    let house = house().await;
    let mut silent = signed(date(2026, 11, 2));
    silent.push(session("fenwick-1951", date(2026, 11, 6), None));
    house.write(fenwick(), silent).await;
    let mut chest = signed(date(2026, 11, 9));
    chest.push(session(
        "abiola-1950",
        date(2026, 11, 23),
        Some(SymptomKind::ChestDiscomfort),
    ));
    house
        .write(somebody("abiola-1950", "Tunde Abiola", "Mr Abiola"), chest)
        .await;
    let mut well = signed(date(2026, 11, 20));
    well.push(session("alder-1949", date(2026, 11, 24), None));
    house
        .write(somebody("alder-1949", "Jon Alder", "Mr Alder"), well)
        .await;
    let page = house.get("/").await;
    assert!(
        page.text.contains("One person needs your voice first"),
        "{}",
        page.text
    );
    let chest = page.text.find("chest discomfort on Monday").unwrap();
    let silence = page.text.find("has been silent for nineteen days").unwrap();
    let agreed = page.text.find("As agreed").unwrap();
    assert!(chest < silence && silence < agreed);
    assert_eq!(
        page.text.matches("class=\"do\"").count(),
        1,
        "one solid block a page"
    );
    assert!(page.text[agreed..].contains("Mr Alder"));
}

#[tokio::test]
async fn the_dead_and_the_discharged_are_never_on_todays_list() {
    let house = house().await;
    for kind in [
        StatusKind::Died,
        StatusKind::Discharged,
        StatusKind::Declined,
    ] {
        let case = standing(
            somebody(&format!("person-{kind}"), "Ann Other", kind.word()),
            kind,
        );
        let mut story = signed(date(2026, 10, 1));
        story.push(session("x", date(2026, 10, 5), Some(SymptomKind::Faint)));
        story.push((date(2026, 10, 6), rehab::course::Happening::Status(kind)));
        house.write(case, story).await;
    }
    let page = house.get("/").await;
    assert!(
        page.text.contains("Nobody is in the programme now"),
        "{}",
        page.text
    );
    let people = house.get("/people").await;
    for kind in ["died", "discharged", "declined"] {
        assert!(people.text.contains(kind));
    }
}

#[tokio::test]
async fn somebody_new_without_a_page_is_not_forgotten() {
    let house = house().await;
    house.write(fenwick(), Vec::new()).await;
    let page = house.get("/").await;
    assert!(page.text.contains("To begin"), "{}", page.text);
    assert!(page.text.contains("heart attack on 30 August"));
}

#[tokio::test]
async fn people_are_found_by_a_part_of_the_name() {
    let house = house().await;
    house.write(fenwick(), Vec::new()).await;
    house
        .write(
            somebody("abiola-1950", "Tunde Abiola", "Mr Abiola"),
            Vec::new(),
        )
        .await;
    let page = house.get("/people?name=abio").await;
    assert!(page.text.contains("Mr Abiola") && !page.text.contains("Mrs Fenwick"));
    let nobody = house.get("/people?name=zzz&status=").await;
    assert!(nobody.text.contains("Nobody of that name"));
}

/// What nobody answered in the service's time comes first for a lead who sees nobody themselves, and says so to all.
#[tokio::test]
async fn an_unanswered_alert_goes_to_the_lead_after_the_set_time() {
    let house = house().await;
    let mut past = signed(date(2026, 11, 9));
    let felt = Some(SymptomKind::ChestDiscomfort);
    past.push(session("fenwick-1951", date(2026, 11, 24), felt));
    house.write(fenwick(), past).await;
    let mut new = signed(date(2026, 11, 9));
    new.push(session("alder-1949", date(2026, 11, 25), felt));
    let alder = somebody("alder-1949", "Jon Alder", "Mr Alder");
    house.write(alder, new).await;
    let all = house.get("/").await.text;
    assert_eq!(all.matches("with the lead too since").count(), 1, "{all}");
    assert!(!all.contains("With you as the lead"));
    let house = house.seen_by_the_lead().await;
    let lead = house.get("/").await.text;
    let (mine, first) = (
        lead.find("With you as the lead").unwrap(),
        lead.find(">First<").unwrap(),
    );
    let (late, early) = (
        lead.find("Mrs Fenwick").unwrap(),
        lead.find("Mr Alder").unwrap(),
    );
    assert!(mine < late && late < first && first < early);
}

#[tokio::test]
async fn a_call_begun_and_not_finished_stands_on_today_until_it_is_closed() {
    use crate::call::{all_well, hidden};
    let house = house().await;
    let mut well = signed(date(2026, 11, 20));
    well.push(session("alder-1949", date(2026, 11, 24), None));
    let id = house
        .write(somebody("alder-1949", "Jon Alder", "Mr Alder"), well)
        .await;
    let before = house.get("/").await;
    assert!(!before.text.contains("Begun and not finished"));
    let address = format!("/people/{id}/call");
    let position = hidden(&house.get(&address).await, "position");
    let mut fields = all_well(&position);
    fields.retain(|(name, _)| *name != "heart");
    fields.extend([("heart", "chest"), ("act", "draft")]);
    house.post(&address, &fields).await;
    let today = house.get("/").await;
    assert!(
        today.text.contains("Begun and not finished"),
        "{}",
        today.text
    );
    assert!(today.text.contains("nothing told in it counts yet"));
    assert!(
        today.text.contains("What would follow: Stop"),
        "{}",
        today.text
    );
    assert!(today.text.contains("Finish the sheet"));
    let position = hidden(&house.get(&address).await, "position");
    let closed = house.sign(&address, &all_well(&position)).await;
    assert_eq!(closed.status, StatusCode::SEE_OTHER, "{}", closed.text);
    let today = house.get("/").await;
    assert!(
        !today.text.contains("Begun and not finished"),
        "{}",
        today.text
    );
}

/// The most urgent are opened; the others are named, and counted to the last.
#[tokio::test]
async fn a_long_list_opens_the_most_urgent_and_shows_more_when_asked() {
    let house = house().await;
    for number in 0..70 {
        let id = format!("person-{number:04}");
        let called = format!("Mr N{number:04}.");
        house
            .write(somebody(&id, "Invented Person", &called), Vec::new())
            .await;
    }
    // Written in last, and first on the list.
    let mut chest = signed(date(2026, 11, 9));
    let felt = Some(SymptomKind::ChestDiscomfort);
    chest.push(session("abiola-1950", date(2026, 11, 23), felt));
    house
        .write(somebody("abiola-1950", "Tunde Abiola", "Mr Abiola"), chest)
        .await;
    let opened = |text: &str| text.matches("<article").count();
    let page = house.get("/").await.text;
    assert_eq!(opened(&page), 14);
    assert!(page.find("Mr Abiola").unwrap() < page.find("Mr N0000.").unwrap());
    assert!(
        page.contains("Then seventy people") || page.contains("Then 70 people"),
        "{page}"
    );
    assert!(
        page.contains("And 57 more") || page.contains("And fifty-seven more"),
        "{page}"
    );
    assert!(
        page.contains("Mr N0052.") && !page.contains("Mr N0053."),
        "{page}"
    );
    let more = house.get("/?shown=28").await.text;
    assert_eq!(opened(&more), 28);
    assert!(page.contains("href=\"/?shown=28\""), "{page}");
    let most = house.get("/?shown=4000000000").await.text;
    assert_eq!(opened(&most), 71);
    assert!(!most.contains("Show more"));
}

#[tokio::test]
async fn the_head_counts_the_pages_that_wait_for_a_name() {
    let house = house().await;
    let answered = crate::programme::answered();
    house.write(answered, Vec::new()).await;
    // Not known before somebody looked, and never guessed.
    let people = house.get("/people").await.text;
    assert!(people.contains(">For your name<"), "{people}");
    house.get("/").await;
    let people = house.get("/people").await.text;
    assert!(people.contains(">For your name (1)<"), "{people}");
}

#[tokio::test]
async fn where_everybody_left_the_record_is_not_said_to_be_empty() {
    let house = house().await;
    let left = standing(fenwick(), StatusKind::Discharged);
    house.write(left, Vec::new()).await;
    let page = house.get("/").await.text;
    assert!(!page.contains("Nobody is in the record yet"), "{page}");
    assert!(page.contains("Nobody is in the programme now"), "{page}");
}

/// Fourteen are opened at first, and everybody with an alert before the list is cut.
#[tokio::test]
async fn a_fresh_red_alert_is_not_cut_off_by_many_older_ones() {
    let house = house().await;
    for number in 0..17 {
        let name = format!("Person {number:02}");
        let case = somebody(&format!("person-number-{number:02}"), &name, &name);
        let mut past = signed(date(2026, 11, 2));
        let silent = date(2026, 11, if number == 16 { 24 } else { 3 });
        let felt = (number == 16).then_some(SymptomKind::ChestDiscomfort);
        past.push(session(&case.id.0, silent, felt));
        house.write(case, past).await;
    }
    let page = house.get("/").await.text;
    let first = page
        .find("One person needs your voice first")
        .unwrap_or(usize::MAX);
    assert!(first < usize::MAX, "{page}");
    assert!(page.contains("Person 16") && page.contains("hest discomfort"));
}

/// What was said of somebody is said again without opening the case, until anything is written in it.
#[tokio::test]
async fn what_is_said_again_is_noted_again_and_never_older_than_the_case() {
    let house = house().await;
    let mut silent = signed(date(2026, 11, 2));
    silent.push(session("fenwick-1951", date(2026, 11, 6), None));
    let id = house.write(fenwick(), silent).await;
    let noted = async || {
        let filter = records::AccessFilter {
            case: Some(id),
            ..Default::default()
        };
        let log = house.store.access_log(house.user, &filter).await.unwrap();
        log.iter()
            .filter(|row| row.what.as_str() == "today")
            .count()
    };
    let first = house.get("/").await.text;
    assert!(
        first.contains("has been silent for nineteen days"),
        "{first}"
    );
    let again = house.get("/").await.text;
    assert_eq!(first, again);
    assert_eq!(noted().await, 2);
    let felt = Some(SymptomKind::ChestDiscomfort);
    let (_, told) = session("fenwick-1951", date(2026, 11, 24), felt);
    house.add(id, "fenwick-1951", &told).await;
    let news = house.get("/").await.text;
    assert!(news.contains("chest discomfort yesterday"), "{news}");
    assert!(!news.contains("has been silent"), "{news}");
    assert_eq!(noted().await, 3);
}

/// Settings that are read otherwise bring other alerts: whoever they concern stands under today at once.
#[tokio::test]
async fn alerts_that_settings_bring_are_under_today() {
    let house = house().await;
    let mut case = fenwick();
    case.heart.device = Some(rehab::assessment::Device {
        lowest_treated_bpm: Some(170.0),
        last_shock: None,
        subcutaneous: None,
    });
    let mut past = signed(date(2026, 11, 9));
    let (day, mut news) = session("fenwick-1951", date(2026, 11, 24), None);
    if let Happening::Diary { entries, .. } = &mut news {
        entries[0].pulses.push(rehab::diary::Pulse {
            at: rehab::diary::PulseMoment::EndOfStation(1),
            bpm: 145.0,
            how: None,
        });
    }
    past.push((day, news));
    let id = house.write(case, past).await;
    let alerts = || async {
        let one = house.store.case(house.user, id).await.unwrap();
        one.summary.open_alert_count
    };
    let before = alerts().await;
    let mut fields = crate::service::whole(&house.get("/service").await.text);
    for (name, value) in &mut fields {
        if name == "icd_margin_bpm" {
            *value = "40".to_owned();
        }
    }
    let fields: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    let kept = house.post("/service", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    assert!(alerts().await > before);
}

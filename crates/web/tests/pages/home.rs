//! Watched, then given: what a page waits for before it may be done alone, and what comes back.

use crate::fixture::{House, ON, fenwick, house, signed};
use axum::http::StatusCode;
use jiff::civil::{Date, date};
use rehab::course::{Course, Happening};
use rehab::programme::VariantRef;

/// The page with an exercise that exists, to be watched first.
fn real(on: Date) -> Vec<(Date, Happening)> {
    let mut past = signed(on);
    for (_, happening) in &mut past {
        if let Happening::Signed(plan) = happening {
            for segment in plan.stages.iter_mut().flat_map(|one| &mut one.segments) {
                segment.doing = Some(VariantRef {
                    exercise: "seated-march".to_owned(),
                    variant: "slow".to_owned(),
                });
                segment.to_watch = true;
            }
        }
    }
    past
}

/// Settings with what no pack is made without: emergency words and how the team is reached.
async fn with_service(house: &House) {
    let mut service = rehab::service::Service::cautious();
    service.name = "Ellerdale home heart team".to_owned();
    service.emergency = Some(rehab::service::Emergency {
        number: "999".to_owned(),
        text: "Ring 999 and sit down.".to_owned(),
    });
    service.contact = Some(rehab::service::Contact {
        name: "Ellerdale home heart team".to_owned(),
        telephone: "01632 960 117".to_owned(),
        hours: "Weekdays, nine to five".to_owned(),
        out_of_hours: None,
    });
    let now = jiff::Timestamp::now();
    let body = formats::service::write(&service, formats::tree::Notation::Json);
    let draft = records::Draft::new(
        records::EntryId::generate(now).unwrap(),
        records::Word::new("service").unwrap(),
        ON.at(8, 0, 0, 0),
        body.into_bytes(),
    );
    house
        .store
        .append(records::CaseId::SERVICE, house.user, draft, now)
        .await
        .unwrap();
}

async fn begun() -> (House, records::CaseId) {
    let house = house().await;
    with_service(&house).await;
    let id = house.write(fenwick(), real(date(2026, 11, 20))).await;
    (house, id)
}

async fn course(house: &House, id: records::CaseId) -> Course {
    let reading = records::Reading {
        by: house.user,
        what: records::Word::new("test").unwrap(),
        at: jiff::Timestamp::now(),
    };
    let entries = house.store.entries(id, &reading).await.unwrap();
    let happened: Vec<(Date, Happening)> = entries
        .iter()
        .map(|entry| {
            let one = formats::journal::read_body(entry.kind.as_str(), &entry.body).unwrap();
            (entry.effective.date(), one)
        })
        .collect();
    Course::fold(happened.iter().map(|(date, one)| (*date, one)), ON).unwrap()
}

fn position(text: &str) -> String {
    let mark = "name=\"position\" value=\"";
    let at = text.find(mark).unwrap() + mark.len();
    text[at..].split('"').next().unwrap().to_owned()
}

async fn watch(house: &House, id: records::CaseId) {
    let address = format!("/people/{id}/watched");
    let page = house.get(&address).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    let position = position(&page.text);
    let fields = [
        ("position", position.as_str()),
        ("stage", "1"),
        ("technique-1", "good"),
        ("felt", "none"),
        ("shown", "stops-when-unwell"),
        ("note", "Kept her back straight"),
    ];
    let sent = house.post(&address, &fields).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
}

#[tokio::test]
async fn a_page_that_nobody_watched_is_not_given_and_says_what_it_waits_for() {
    let (house, id) = begun().await;
    let pack = house.get(&format!("/people/{id}/pack")).await;
    assert_eq!(pack.status, StatusCode::OK);
    assert!(
        pack.text.contains("is not to be given yet"),
        "{}",
        pack.text
    );
    assert!(pack.text.contains("to be watched first"));
    assert!(pack.text.contains("To be watched and found good"));
    for what in ["page", "print"] {
        let refused = house.get(&format!("/people/{id}/pack/{what}")).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{what}");
        assert!(refused.text.contains("not given yet"));
    }
}

#[tokio::test]
async fn a_draft_is_always_marked_as_one() {
    let (house, id) = begun().await;
    let words = formats::words("en-GB").unwrap();
    let mark = words.get("page.draft");
    for what in ["draft", "draft-print"] {
        let draft = house.get(&format!("/people/{id}/pack/{what}")).await;
        assert_eq!(draft.status, StatusCode::OK, "{what}: {}", draft.text);
        assert!(draft.text.contains(mark), "{what}");
    }
}

#[tokio::test]
async fn after_the_watched_sessions_the_signed_page_is_given() {
    let (house, id) = begun().await;
    watch(&house, id).await;
    let after = course(&house, id).await;
    assert_eq!(after.watched.len(), 1);
    assert_eq!(after.case.watched.len(), 1);
    let mut past = real(date(2026, 11, 20));
    for (day, happening) in &mut past {
        *day = date(2026, 11, 18);
        if let Happening::Signed(plan) = happening {
            plan.on = *day;
        }
    }
    for day in [18, 19, 20] {
        let mut session = after.watched[0].clone();
        session.date = date(2026, 11, day);
        for one in &mut session.stations {
            one.date = session.date;
        }
        past.push((session.date, Happening::Watched(session)));
    }
    let mut other = fenwick();
    other.id.0 = "fenwick-again".to_owned();
    let id = house.write(other, past).await;
    let pack = house.get(&format!("/people/{id}/pack")).await;
    assert!(pack.text.contains("may be done alone"), "{}", pack.text);
    let page = house.get(&format!("/people/{id}/pack/page")).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    let words = formats::words("en-GB").unwrap();
    assert!(!page.text.contains(words.get("page.draft")));
    assert!(page.text.contains("Josie Marwood"));
}

/// A hard ceiling of the pulse where no pulse can be predicted.
fn shocks_at_190_in_fibrillation(case: &mut rehab::assessment::Case) {
    case.heart.rhythm = Some(rehab::assessment::Rhythm::AtrialFibrillation);
    case.heart.device = Some(rehab::assessment::Device {
        lowest_treated_bpm: Some(190.0),
        last_shock: None,
        subcutaneous: None,
    });
}

#[tokio::test]
async fn a_signed_page_that_passes_the_limits_of_today_waits_for_a_new_signature() {
    type Change = fn(&mut rehab::assessment::Case, &mut rehab::programme::Stage);
    let changes: [(&str, Change, &str); 9] = [
        ("nothing", |_, _| {}, ""),
        (
            "harder",
            |_, stage| stage.segments.iter_mut().for_each(|one| one.mets = 9.0),
            "METs on average",
        ),
        (
            "unknown-way",
            |_, stage| {
                for doing in stage
                    .segments
                    .iter_mut()
                    .filter_map(|one| one.doing.as_mut())
                {
                    doing.variant = "as it was once".to_owned();
                }
            },
            "no longer among the exercises",
        ),
        (
            "place-gone",
            |_, stage| {
                for one in &mut stage.segments {
                    one.place_name = "the old conservatory".to_owned();
                }
            },
            "is no place of the home any more",
        ),
        (
            "device",
            |case, _| {
                case.heart.device = Some(rehab::assessment::Device {
                    lowest_treated_bpm: Some(112.0),
                    last_shock: None,
                    subcutaneous: None,
                });
            },
            "too close to the hard limit",
        ),
        (
            "no-prediction",
            |case, _| shocks_at_190_in_fibrillation(case),
            "no pulse can be predicted any more",
        ),
        (
            "by-effort",
            |case, stage| {
                shocks_at_190_in_fibrillation(case);
                stage.predicted.peak_hr = None;
            },
            "",
        ),
        (
            "not-for-them",
            |case, _| {
                case.watched.push(rehab::assessment::Watched {
                    date: date(2026, 11, 21),
                    exercise: "seated-march".to_owned(),
                    variant: "slow".to_owned(),
                    effort: None,
                    hr_bpm: None,
                    bp: None,
                    technique: rehab::assessment::Technique::NotForThem,
                    support: None,
                    symptoms: None,
                });
            },
            "not to be for them",
        ),
        (
            "event",
            |case, _| {
                let mut newer = case.events[0].clone();
                newer.date = Some(date(2026, 11, 22));
                newer.procedures.clear();
                case.events.push(newer);
            },
            "after the signature",
        ),
    ];
    let house = house().await;
    with_service(&house).await;
    for (name, change, why) in changes {
        let mut case = fenwick();
        case.id.0 = format!("fenwick-{name}");
        let mut past = real(date(2026, 11, 20));
        if let Happening::Signed(plan) = &mut past[0].1 {
            for stage in &mut plan.stages {
                change(&mut case, stage);
            }
        }
        let id = house.write(case, past).await;
        let pack = house.get(&format!("/people/{id}/pack")).await;
        let anew = pack.text.contains("is to be signed anew");
        assert_eq!(anew, !why.is_empty(), "{name}: {}", pack.text);
        assert!(pack.text.contains(why), "{name}: {}", pack.text);
    }
}

/// Each page is judged by its own signature: a newer one for later pages makes nothing of an older page good.
#[tokio::test]
async fn an_earlier_page_is_judged_by_the_signature_it_stands_under() {
    let house = house().await;
    with_service(&house).await;
    for (above, waits) in [(0.0, false), (2.0, true)] {
        let mut case = fenwick();
        case.id.0 = format!("fenwick-effort-{above}");
        let limits = rehab::assess(&case, &rehab::service::Service::cautious(), ON).limits;
        let agreed = |above| {
            let mut band = limits.effort;
            band.high += above;
            rehab::course::AgreedEffort {
                scale: limits.effort_scale,
                band,
            }
        };
        let mut past = real(date(2026, 11, 18));
        let mut newer = past[0].clone();
        if let Happening::Signed(plan) = &mut past[0].1 {
            plan.effort = Some(agreed(above));
        }
        newer.0 = date(2026, 11, 20);
        if let Happening::Signed(plan) = &mut newer.1 {
            plan.on = newer.0;
            plan.stages.remove(0);
            plan.effort = Some(agreed(0.0));
        }
        past.push(newer);
        let id = house.write(case, past).await;
        let pack = house.get(&format!("/people/{id}/pack?stage=1")).await;
        let says = pack.text.contains("the effort agreed with it is above");
        assert_eq!(says, waits, "{above}: {}", pack.text);
    }
}

#[tokio::test]
async fn what_was_measured_in_a_watched_session_is_kept_for_the_review() {
    let (house, id) = begun().await;
    let address = format!("/people/{id}/watched");
    let position = position(&house.get(&address).await.text);
    let fields = [
        ("position", position.as_str()),
        ("stage", "1"),
        ("technique-1", "good"),
        ("effort-1", "9"),
        ("pulse-1", "176"),
        ("felt", "none"),
    ];
    let sent = house.post(&address, &fields).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let entries = course(&house, id).await.entries;
    assert_eq!(entries.len(), 1);
    assert_eq!(entries[0].effort.unwrap().value, 9.0);
    assert_eq!(entries[0].pulses[0].bpm, 176.0);
    assert!(!entries[0].is_session());
    // Good as it looked, it is watched again first, and somebody is asked.
    let pack = house.get(&format!("/people/{id}/pack")).await;
    let says = |words: &str| assert!(pack.text.contains(words), "{words}: {}", pack.text);
    says("last time effort 9, above the agreed");
    let person = house.get(&format!("/people/{id}")).await;
    assert!(
        person.text.contains("not in order: effort 9"),
        "{}",
        person.text
    );
}

#[tokio::test]
async fn a_watched_session_with_a_symptom_that_stops_holds_the_day_and_does_not_count() {
    let (house, id) = begun().await;
    let address = format!("/people/{id}/watched");
    let position = position(&house.get(&address).await.text);
    let fields = [
        ("position", position.as_str()),
        ("stage", "1"),
        ("technique-1", "good"),
        ("felt", "chest"),
    ];
    let sent = house.post(&address, &fields).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let case = course(&house, id).await.case;
    let assessed = rehab::assess(&case, &rehab::service::Service::cautious(), ON);
    assert_eq!(assessed.eligibility.watched_done, 0);
    assert_eq!(
        assessed.screening.decision,
        rehab::assessed::Decision::NotToday
    );
    let person = house.get(&format!("/people/{id}")).await;
    assert!(
        person.text.contains("In the session watched"),
        "{}",
        person.text
    );
}

/// A page of warm-up and way down alone had no field for what was measured, and the list of all that was written told a
/// watched session as a number of stations.
#[tokio::test]
async fn a_page_without_a_round_is_measured_in_its_warm_up_and_what_was_taken_can_be_read_again() {
    let house = house().await;
    with_service(&house).await;
    let mut past = real(date(2026, 11, 20));
    for (_, happening) in &mut past {
        if let Happening::Signed(plan) = happening {
            for stage in &mut plan.stages {
                let around = |one: &rehab::programme::Segment| {
                    one.phase != rehab::programme::Phase::Conditioning
                };
                stage.segments.retain(around);
            }
        }
    }
    let id = house.write(fenwick(), past).await;
    let address = format!("/people/{id}/watched");
    let position = position(&house.get(&address).await.text);
    let fields = [
        ("position", position.as_str()),
        ("stage", "1"),
        ("technique-1", "good"),
        ("effort-1", "3"),
        ("pulse-1", "96"),
        ("pressure-1", "128/74"),
        ("support-1", "one-hand"),
        ("felt", "none"),
    ];
    let form = house.get(&address).await.text;
    for (field, _) in &fields[2..7] {
        assert!(form.contains(&format!("name=\"{field}\"")), "{field}");
    }
    let sent = house.post(&address, &fields).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let written = house.get(&format!("/people/{id}/written")).await.text;
    for words in [
        "good, effort 3, pulse 96, pressure 128/74, one hand",
        "Felt: none.",
    ] {
        assert!(written.contains(words), "{words}: {written}");
    }
}

#[tokio::test]
async fn what_was_watched_before_a_newer_event_does_not_count() {
    let (house, first) = begun().await;
    watch(&house, first).await;
    let mut station = course(&house, first).await.case.watched[0].clone();
    station.date = date(2026, 11, 10);
    let mut past = real(date(2026, 11, 20));
    for (_, happening) in &mut past {
        if let Happening::Signed(plan) = happening {
            for segment in plan.stages.iter_mut().flat_map(|one| &mut one.segments) {
                segment.to_watch = false;
            }
        }
    }
    for (name, event, waits) in [("fenwick-known", 5, false), ("fenwick-newer", 15, true)] {
        let mut case = fenwick();
        case.id.0 = name.to_owned();
        case.watched = vec![station.clone()];
        let mut newer = case.events[0].clone();
        newer.date = Some(date(2026, 11, event));
        newer.procedures.clear();
        case.events.push(newer);
        let id = house.write(case, past.clone()).await;
        let pack = house.get(&format!("/people/{id}/pack")).await;
        assert_eq!(
            pack.text.contains("To be watched and found good"),
            waits,
            "{name}: {}",
            pack.text
        );
    }
}

#[tokio::test]
async fn what_was_taken_without_saying_how_it_looked_comes_back() {
    let (house, id) = begun().await;
    let address = format!("/people/{id}/watched");
    let position = position(&house.get(&address).await.text);
    let fields = [
        ("position", position.as_str()),
        ("stage", "1"),
        ("pulse-1", "88"),
        ("pressure-1", "74/128"),
        ("note", "Tired today"),
    ];
    let sent = house.post(&address, &fields).await;
    assert_eq!(sent.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(sent.text.contains("the wrong way round"), "{}", sent.text);
    assert!(sent.text.contains("say how it looked too"));
    assert!(sent.text.contains("Tired today"));
    assert!(course(&house, id).await.watched.is_empty());
}

#[tokio::test]
async fn without_a_signed_page_there_is_nothing_to_watch_or_give() {
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    for what in ["watched", "pack"] {
        let page = house.get(&format!("/people/{id}/{what}")).await;
        assert_eq!(page.status, StatusCode::OK);
        assert!(page.text.contains("See what can be signed"), "{what}");
    }
}

const NEWS: &str = r#"{"case":"fenwick-1951","entries":[{"id":"s-1","date":"2026-11-24","stage":1,"stations_planned":10,"stations_done":10,"effort":{"scale":"0-10","value":3},"symptoms":[{"kind":"chest-discomfort","usual":false}],"minutes":38}]}"#;

/// Keeps news that was looked at just now.
async fn keep_news(
    house: &House,
    id: records::CaseId,
    fields: &[(&str, &str)],
) -> crate::fixture::Page {
    let position = position(&house.get(&format!("/people/{id}/facts/wishes")).await.text);
    let mut fields = fields.to_vec();
    fields.push(("position", &position));
    house
        .post(&format!("/people/{id}/inbox/keep"), &fields)
        .await
}

#[tokio::test]
async fn news_is_looked_at_before_it_is_kept_and_kept_once() {
    let (house, id) = begun().await;
    let address = format!("/people/{id}/inbox");
    let came = house.upload(&address, "diary.json", NEWS.as_bytes()).await;
    assert_eq!(came.status, StatusCode::OK, "{}", came.text);
    assert!(
        came.text.contains("Stop, and contact today"),
        "{}",
        came.text
    );
    assert!(course(&house, id).await.entries.is_empty());
    for _ in 0..2 {
        let kept = keep_news(&house, id, &[("diary", NEWS)]).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    }
    assert_eq!(course(&house, id).await.entries.len(), 1);
    let before = [("diary", NEWS), ("position", "1")];
    let stale = house.post(&format!("{address}/keep"), &before).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
}

#[tokio::test]
async fn an_entry_that_tells_more_is_joined_with_what_was_kept() {
    let (house, id) = begun().await;
    let address = format!("/people/{id}/inbox");
    let first = r#"{"case":"fenwick-1951","entries":[{"id":"s-1","date":"2026-11-23","stage":1,"minutes":38,"symptoms":[],"joint_pain":{"during":3}}]}"#;
    let second = r#"{"case":"fenwick-1951","entries":[{"id":"s-1","date":"2026-11-23","stage":1,"minutes":38,"symptoms":[],"joint_pain":{"during":3,"next_morning":"worse"}},{"id":"s-2","date":"2026-11-24","stage":1,"minutes":30,"symptoms":[]}]}"#;
    for text in [first, second] {
        let came = house.upload(&address, "diary.json", text.as_bytes()).await;
        assert_eq!(came.status, StatusCode::OK, "{}", came.text);
        let kept = keep_news(&house, id, &[("diary", text)]).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    }
    let entries = course(&house, id).await.entries;
    assert_eq!(entries.len(), 2);
    let joint = entries[0].joint_pain.unwrap();
    assert_eq!(joint.worse_next_morning, Some(true));
}

#[tokio::test]
async fn an_entry_that_contradicts_is_shown_with_both_texts_and_kept_beside_the_other() {
    let (house, id) = begun().await;
    let address = format!("/people/{id}/inbox");
    let of = |symptoms: &str, more: &str| {
        format!(
            r#"{{"case":"fenwick-1951","entries":[{{"id":"s-1","date":"2026-11-23","minutes":38,"symptoms":[{symptoms}]}}{more}]}}"#
        )
    };
    let usual = r#"{"kind":"chest-discomfort","usual":true}"#;
    let changed = r#"{"kind":"chest-discomfort","usual":false}"#;
    let first = of(usual, "");
    let second = of(
        changed,
        r#",{"id":"s-2","date":"2026-11-24","symptoms":[]}"#,
    );
    keep_news(&house, id, &[("diary", &first)]).await;

    let came = house.upload(&address, "d.json", second.as_bytes()).await;
    assert_eq!(came.status, StatusCode::OK, "{}", came.text);
    assert!(came.text.contains("chest discomfort as usual"));
    assert!(came.text.contains("chest discomfort, not as usual"));
    assert!(
        came.text
            .contains("name=\"also\" value=\"s-1, told anew 2\" checked")
    );
    assert!(came.text.contains("Stop, and contact today"));

    let left_out = keep_news(&house, id, &[("diary", &second)]).await;
    assert_eq!(left_out.status, StatusCode::SEE_OTHER);
    assert_eq!(course(&house, id).await.entries.len(), 2);
    let fields = [("diary", second.as_str()), ("also", "s-1, told anew 2")];
    for _ in 0..2 {
        keep_news(&house, id, &fields).await;
        assert_eq!(course(&house, id).await.entries.len(), 3);
    }
}

#[tokio::test]
async fn another_persons_news_a_day_to_come_and_a_torn_file_are_refused() {
    let (house, id) = begun().await;
    let address = format!("/people/{id}/inbox");
    let others = NEWS.replace("fenwick-1951", "somebody-else");
    let ahead = NEWS.replace("2026-11-24", "2026-12-24");
    for text in [others.as_str(), ahead.as_str(), &NEWS[..80]] {
        for (what, page) in [
            (
                "look",
                house.upload(&address, "diary.json", text.as_bytes()).await,
            ),
            ("keep", keep_news(&house, id, &[("diary", text)]).await),
        ] {
            assert_eq!(
                page.status,
                StatusCode::UNPROCESSABLE_ENTITY,
                "{what} {text}"
            );
        }
    }
    assert!(course(&house, id).await.entries.is_empty());
}

/// Three sessions watched on one day counted as one without a word.
#[tokio::test]
async fn several_sessions_watched_on_one_day_are_said_to_count_once() {
    let (house, id) = begun().await;
    let address = format!("/people/{id}/watched");
    let page = house.get(&address).await;
    assert!(
        page.text
            .contains("A day counts as one session, however many")
    );
    assert!(page.text.contains(">effort, 0 to 10<"), "{}", page.text);
    watch(&house, id).await;
    watch(&house, id).await;
    let page = house.get(&address).await;
    assert!(
        page.text.contains("Two sessions are kept today already."),
        "{}",
        page.text
    );
    let case = house.get(&format!("/people/{id}")).await;
    assert!(
        case.text.contains("2 sessions, which count as one"),
        "{}",
        case.text
    );
}

//! From the draft to the signature, hill by hill.

use crate::fixture::{House, ON, fenwick, house};
use axum::http::StatusCode;
use jiff::civil::Date;
use rehab::assessment::Case;
use rehab::course::{Course, Happening};
use rehab::programme::{Ban, Choices};

pub(crate) async fn course(house: &House, id: records::CaseId) -> Course {
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

/// Mrs Fenwick with everything answered that signing waits for.
pub(crate) fn answered() -> Case {
    let mut case = fenwick();
    case.nitrate.in_date = Some(true);
    case
}

pub(crate) fn value_of(text: &str, name: &str) -> String {
    let mark = format!("name=\"{name}\" value=\"");
    let at = text
        .find(&mark)
        .unwrap_or_else(|| panic!("{name} in {text}"))
        + mark.len();
    text[at..].split('"').next().unwrap().to_owned()
}

async fn begun(case: Case) -> (House, records::CaseId) {
    let house = house().await;
    let id = house.write(case, Vec::new()).await;
    (house, id)
}

#[tokio::test]
async fn what_signing_waits_for_is_said_and_nothing_is_signed() {
    let (house, id) = begun(fenwick()).await;
    let address = format!("/people/{id}/sign");
    let page = house.get(&address).await;
    assert!(page.text.contains("Signing waits for"), "{}", page.text);
    assert!(page.text.contains("aria-disabled"));
    let position = course(&house, id).await.calls.len() + 2;
    let sent = house
        .post(
            &address,
            &[("position", &position.to_string()), ("act", "sign")],
        )
        .await;
    assert_eq!(sent.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(course(&house, id).await.signed.is_none());
}

#[tokio::test]
async fn the_signature_keeps_the_plan_with_its_digests_and_gives_the_first_page_only() {
    let (house, id) = begun(answered()).await;
    let address = format!("/people/{id}/sign");
    let page = house.get(&address).await;
    let position = value_of(&page.text, "position");
    let unseen = [("position", position.as_str()), ("act", "sign")];
    let refused = house.post(&address, &unseen).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        refused.text.contains("has changed since"),
        "{}",
        refused.text
    );
    let seen = value_of(&page.text, "seen");
    let fields = [unseen[0], unseen[1], ("seen", seen.as_str())];
    let sent = house.post(&address, &fields).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let course = course(&house, id).await;
    let plan = course.signed.clone().unwrap();
    assert_eq!(plan.by.name, "Josie Marwood");
    assert_eq!(plan.by.role, "physiotherapist");
    for digest in [
        &plan.digests.case,
        &plan.digests.service,
        &plan.digests.exercises,
    ] {
        assert_eq!(digest.len(), 64, "{digest}");
    }
    assert_eq!(course.current_stage, Some(1));
    assert!(plan.stages.len() > 1);
    let page = house.get(&address).await;
    assert!(
        page.text.contains("is signed and not yet given"),
        "{}",
        page.text
    );
    let position = value_of(&page.text, "position");
    let given = house
        .post(&address, &[("position", &position), ("act", "give")])
        .await;
    assert_eq!(given.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(given.text.contains("at a contact"), "{}", given.text);
}

#[tokio::test]
async fn a_hill_is_a_link_and_three_other_ways_stand_beside_it() {
    let (house, id) = begun(answered()).await;
    let address = format!("/people/{id}/builder");
    let page = house.get(&format!("{address}?stage=4")).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(
        page.text.contains("?stage=4&amp;turn=2#choose"),
        "{}",
        page.text
    );
    assert!(page.text.contains("Nothing in it passes a limit."));
    let chosen = house.get(&format!("{address}?stage=4&turn=2")).await;
    let offers = chosen.text.matches("name=\"doing\"").count();
    assert!((1..=3).contains(&offers), "{offers}");
    assert_eq!(chosen.text.matches("class=\"do\"").count(), 1);
}

/// Where fewer than three other ways fit it was not said why.
#[tokio::test]
async fn where_fewer_than_three_other_ways_fit_it_is_said_why() {
    let (house, id) = begun(answered()).await;
    let address = format!("/people/{id}/builder");
    let choose = async |turn: &str, act: &str| {
        let page = house.get(&format!("{address}?stage=4&turn={turn}")).await;
        let position = value_of(&page.text, "position");
        let fields = [
            ("position", position.as_str()),
            ("stage", "4"),
            ("turn", turn),
            ("act", act),
        ];
        house.post(&address, &fields).await.status == StatusCode::SEE_OTHER
    };
    let mut few = 0;
    // Each ban leaves less to choose from, until the page itself cannot be made any more.
    for _ in 0..25 {
        let chosen = house.get(&format!("{address}?stage=4&turn=1")).await;
        if !chosen.text.contains("What else could turn 1 be?") {
            break;
        }
        let offers = chosen.text.matches("name=\"doing\"").count();
        let said = chosen.text.contains("class=\"quiet few\"");
        assert_eq!(said, offers < 3, "{offers}: {}", chosen.text);
        if said {
            few += 1;
            assert!(
                chosen.text.contains("closed to this person"),
                "{}",
                chosen.text
            );
        }
        if !choose("1", "never").await {
            break;
        }
    }
    assert!(few > 0, "the bans never left fewer than three");
}

#[tokio::test]
async fn put_in_never_and_take_back_change_the_next_draft() {
    let (house, id) = begun(answered()).await;
    let address = format!("/people/{id}/builder");
    let chosen = house.get(&format!("{address}?stage=4&turn=2")).await;
    let doing = value_of(&chosen.text, "doing");
    let position = value_of(&chosen.text, "position");
    let put = house
        .post(
            &address,
            &[
                ("position", &position),
                ("stage", "4"),
                ("turn", "2"),
                ("doing", &doing),
                ("act", "put"),
            ],
        )
        .await;
    assert_eq!(put.status, StatusCode::SEE_OTHER, "{}", put.text);
    let kept = course(&house, id).await.chosen_for(4);
    let (exercise, _) = doing.split_once('/').unwrap();
    assert!(
        kept.pins.iter().any(|pin| pin.exercise == exercise),
        "{kept:?}"
    );
    let again = house.get(&format!("{address}?stage=4&turn=2")).await;
    let position = value_of(&again.text, "position");
    let never = house
        .post(
            &address,
            &[
                ("position", &position),
                ("stage", "4"),
                ("turn", "2"),
                ("act", "never"),
            ],
        )
        .await;
    assert_eq!(never.status, StatusCode::SEE_OTHER, "{}", never.text);
    let kept = course(&house, id).await.chosen_for(4);
    assert!(
        kept.bans.iter().any(|ban| ban.exercise == exercise),
        "{kept:?}"
    );
    let position = {
        let page = house.get(&format!("{address}?stage=4")).await;
        value_of(&page.text, "position")
    };
    let clear = [
        ("position", position.as_str()),
        ("stage", "4"),
        ("act", "clear"),
    ];
    house.post(&address, &clear).await;
    assert!(course(&house, id).await.choices_for(4).bans.is_empty());
}

#[tokio::test]
async fn a_way_that_was_not_offered_is_never_put_in() {
    let (house, id) = begun(answered()).await;
    let address = format!("/people/{id}/builder");
    let chosen = house.get(&format!("{address}?stage=4&turn=2")).await;
    let position = value_of(&chosen.text, "position");
    let put = house
        .post(
            &address,
            &[
                ("position", &position),
                ("stage", "4"),
                ("turn", "2"),
                ("doing", "high-step-ups/free"),
                ("act", "put"),
            ],
        )
        .await;
    assert_eq!(put.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(course(&house, id).await.chosen.is_empty());
}

/// Two pages with choices of their own: what is chosen for page B is not lost by page D, and each takes back its own.
#[tokio::test]
async fn taking_back_on_one_page_leaves_what_was_chosen_for_another() {
    let (house, id) = begun(answered()).await;
    let address = format!("/people/{id}/builder");
    let choose = async |stage: &str, act: &str| {
        let page = house.get(&format!("{address}?stage={stage}&turn=1")).await;
        let position = value_of(&page.text, "position");
        let fields = [
            ("position", position.as_str()),
            ("stage", stage),
            ("turn", "1"),
            ("act", act),
        ];
        let sent = house.post(&address, &fields).await;
        assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    };
    choose("4", "never").await;
    choose("5", "never").await;
    let both = course(&house, id).await;
    assert_eq!(both.choices_for(1).bans.len(), 2, "{:?}", both.chosen);
    choose("5", "clear").await;
    let kept = course(&house, id).await;
    assert_eq!(kept.choices_for(5).bans, both.chosen_for(4).bans);
    let page = house.get(&format!("{address}?stage=5")).await;
    assert!(!page.text.contains("Take back what was chosen"));
    let page = house.get(&format!("{address}?stage=4")).await;
    assert!(page.text.contains("Take back what was chosen for page D"));
}

/// Signing the next page leaves the one at home as it was signed, although its draft would be another today.
#[tokio::test]
async fn signing_again_keeps_the_page_at_home_as_it_was_signed() {
    let (house, id) = begun(answered()).await;
    let address = format!("/people/{id}/sign");
    let sign = || async {
        let page = house.get(&address).await.text;
        let seen = value_of(&page, "seen");
        house
            .send(&address, &[("act", "sign"), ("seen", &seen)])
            .await
    };
    let first = sign().await;
    assert_eq!(first.status, StatusCode::SEE_OTHER, "{}", first.text);
    let before = course(&house, id).await;
    let wishes = format!("/people/{id}/facts/wishes");
    let other = [("wishes.sessions_per_week", "2")];
    let kept = house.send(&wishes, &other).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    let again = sign().await;
    assert_eq!(again.status, StatusCode::SEE_OTHER, "{}", again.text);
    let after = course(&house, id).await;
    let (was, is) = (before.signed.unwrap(), after.signed.clone().unwrap());
    assert_ne!(
        was.stages[1], is.stages[1],
        "the next page follows the wish"
    );
    assert_eq!(was.stages[0], is.stages[0], "the one at home stays");
    assert_eq!(after.at_home.as_ref(), after.stage());
}

/// Towards caution is free: what is ruled out on the page at home is gone once it is signed again.
#[tokio::test]
async fn a_turn_ruled_out_on_the_page_at_home_is_gone_with_the_next_signature() {
    let (house, id) = begun(answered()).await;
    let address = format!("/people/{id}/sign");
    let sign = || async {
        let page = house.get(&address).await.text;
        let seen = value_of(&page, "seen");
        house
            .send(&address, &[("act", "sign"), ("seen", &seen)])
            .await
    };
    let first = sign().await;
    assert_eq!(first.status, StatusCode::SEE_OTHER, "{}", first.text);
    let before = course(&house, id).await;
    let page = before.stage().unwrap().clone();
    let warming = page.segments.iter().find_map(|one| one.doing.clone());
    let exercise = warming.expect("the page has exercises").exercise;
    let ruled_out = Choices {
        pins: Vec::new(),
        bans: vec![Ban {
            exercise: exercise.clone(),
            variant: None,
        }],
        stage: page.number,
        given: Vec::new(),
    };
    house
        .add(id, "fenwick-1951", &Happening::Chosen(ruled_out))
        .await;
    let again = sign().await;
    assert_eq!(again.status, StatusCode::SEE_OTHER, "{}", again.text);
    let after = course(&house, id).await;
    let doing = |stage: &rehab::programme::Stage| {
        let mut all = stage.segments.iter().filter_map(|one| one.doing.as_ref());
        all.any(|one| one.exercise == exercise)
    };
    assert!(doing(&page) && !doing(after.stage().unwrap()));
}

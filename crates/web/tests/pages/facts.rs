//! Somebody new by form and by file, and the widening of a case.

use crate::fixture::{FENWICK, House, Page, fenwick, house};
use axum::http::StatusCode;
use rehab::assessment::{Answered, Case, HistoryItem};

const STARTER: [(&str, &str); 18] = [
    ("person.name", "Orla Fenwick"),
    ("person.called", "Mrs Fenwick"),
    ("person.born", "1951-05-17"),
    ("person.sex", "female"),
    ("person.telephones", "01632 960 128"),
    ("event[1].kind", "myocardial-infarction"),
    ("event[1].date", "2026-08-30"),
    ("event[1].procedures", "stent"),
    ("heart.rhythm", "sinus"),
    (
        "medicine",
        "bisoprolol 2.5 mg since 2026-08-31\naspirin 75 mg",
    ),
    ("nitrate.prescribed", "yes"),
    ("nitrate.in_date", "yes"),
    ("function.aid", "none"),
    ("function.falls_12_months", "0"),
    ("home.place", "armchair"),
    ("home.place", "worktop"),
    ("home.telephone", "yes"),
    ("home.alone_when_exercising", "yes"),
];

const EXAMINATION: [(&str, &str); 8] = [
    ("examination[today].resting_bp_mmhg", "128/74"),
    ("examination[today].standing_bp_mmhg", "122/72"),
    ("examination[today].resting_hr_bpm", "64"),
    ("examination[today].pulse_regular", "yes"),
    ("examination[today].spo2_pct", "97"),
    ("examination[today].weight_kg", "71.5"),
    ("examination[today].nyha", "1"),
    ("examination[today].symptoms", "none"),
];

const HISTORY: [(&str, &str); 2] = [
    ("history.knee-osteoarthritis", "present"),
    ("history.rest_absent", "letter of 1 October and by asking"),
];

pub(crate) async fn begun(house: &House) -> String {
    let page = house.post("/people/new", &STARTER).await;
    assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.text);
    page.to.unwrap()
}

pub(crate) async fn case_of(house: &House, address: &str) -> Case {
    let id = records::CaseId::parse(address.trim_start_matches("/people/")).unwrap();
    let reading = records::Reading {
        by: house.user,
        what: records::Word::new("test").unwrap(),
        at: jiff::Timestamp::now(),
    };
    let entries = house.store.entries(id, &reading).await.unwrap();
    let newest = entries
        .iter()
        .rev()
        .find(|entry| entry.kind.as_str() == "case")
        .unwrap();
    match formats::journal::read_body("case", &newest.body).unwrap() {
        rehab::course::Happening::Case(case) => *case,
        _ => panic!("a case was asked for"),
    }
}

async fn kept(house: &House, address: &str, fields: &[(&str, &str)]) {
    let page = house.send(address, fields).await;
    assert_eq!(
        page.status,
        StatusCode::SEE_OTHER,
        "{address}: {}",
        wrongs(&page)
    );
}

fn wrongs(page: &Page) -> String {
    page.text
        .split("class=\"wrong\"")
        .skip(1)
        .map(|rest| rest.chars().take(200).collect::<String>())
        .collect()
}

#[tokio::test]
async fn a_starter_makes_a_case_and_says_what_is_missing() {
    let house = house().await;
    let address = begun(&house).await;
    let page = house.get(&address).await;
    assert!(page.text.contains("Mrs Fenwick"));
    assert!(page.text.contains("Nobody has examined"), "{}", page.text);
    assert!(page.text.contains("Present or absent?"));
    let case = case_of(&house, &address).await;
    assert_eq!(case.medicines.len(), 2);
    assert_eq!(case.medicines[0].dose.as_deref(), Some("2.5 mg"));
    assert_eq!(case.home.places.len(), 2);
    assert_eq!(case.home.places[0].arms, Some(true));
    assert_eq!(case.nitrate.in_date, Some(true));
    assert!(
        house.get("/").await.text.contains("Mrs Fenwick"),
        "who is new stands under today"
    );
}

#[tokio::test]
async fn an_empty_form_is_a_case_of_which_nothing_is_known() {
    let house = house().await;
    let page = house.post("/people/new", &[]).await;
    assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.text);
    let case = house.get(&page.to.unwrap()).await;
    assert_eq!(case.status, StatusCode::OK);
    assert!(case.text.contains("Name not known"));
}

#[tokio::test]
async fn a_refused_form_comes_back_whole_with_the_reason_at_its_field() {
    let house = house().await;
    for (name, value, why) in [
        ("person.born", "2031-01-01", "born"),
        ("event[1].date", "2026-12-24", "2026"),
        ("function.falls_12_months", "often", "write figures only"),
        ("heart.device.lowest_treated_bpm", "9", "9"),
        ("person.sex", "other", "known"),
    ] {
        let mut fields = STARTER.to_vec();
        fields.retain(|(known, _)| *known != name);
        fields.push((name, value));
        let page = house.post("/people/new", &fields).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        assert!(wrongs(&page).contains(why), "{name}: {}", wrongs(&page));
        let id = name.replace(['.', '[', ']'], "-");
        assert!(
            page.text.contains(&format!("{id}-wrong")),
            "{name} is told at its field"
        );
        assert!(
            page.text.contains("value=\"Orla Fenwick\""),
            "nothing typed is lost"
        );
        assert!(page.text.contains("aspirin 75 mg"), "nothing typed is lost");
        assert!(
            page.text.contains("value=\"worktop\" checked"),
            "nothing ticked is lost"
        );
    }
    let list = house
        .store
        .list_cases(house.user, &records::CaseFilter::default())
        .await
        .unwrap();
    assert!(list.is_empty(), "a refused form keeps nothing");
}

#[tokio::test]
async fn swapped_pressures_and_a_height_in_metres_are_refused() {
    let house = house().await;
    let address = begun(&house).await;
    let swapped = house
        .send(
            &format!("{address}/facts/examination"),
            &[("examination[today].resting_bp_mmhg", "74/128")],
        )
        .await;
    assert_eq!(swapped.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        swapped
            .text
            .contains("examination-today--resting_bp_mmhg-wrong"),
        "{}",
        wrongs(&swapped)
    );
    assert!(swapped.text.contains("value=\"74/128\""));
    let height = house
        .send(
            &format!("{address}/facts/person"),
            &[("person.height_cm", "1.61")],
        )
        .await;
    assert_eq!(height.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(height.text.contains("person-height_cm-wrong"));
}

#[tokio::test]
async fn the_same_person_twice_is_told_and_not_overwritten() {
    let house = house().await;
    begun(&house).await;
    let again = house.post("/people/new", &STARTER).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(again.text.contains("is in the record"));
}

/// Inputs from referral to a first page that can be signed, as they are counted in DESIGN: fields filled and ticks set.
#[tokio::test]
async fn from_referral_to_a_page_that_can_be_signed_takes_at_most_sixty_inputs() {
    let house = house().await;
    let address = begun(&house).await;
    kept(
        &house,
        &format!("{address}/facts/examination"),
        &EXAMINATION,
    )
    .await;
    kept(&house, &format!("{address}/facts/history"), &HISTORY).await;
    let person = [
        ("person.name", "Orla Fenwick"),
        ("person.called", "Mrs Fenwick"),
        ("person.born", "1951-05-17"),
        ("person.sex", "female"),
        ("person.telephones", "01632 960 128"),
        ("person.height_cm", "161"),
    ];
    kept(&house, &format!("{address}/facts/person"), &person).await;
    let tests = [
        ("test[step].count", "61"),
        ("test[up-and-go].seconds", "9.5"),
    ];
    kept(&house, &format!("{address}/facts/tests"), &tests).await;
    let page = house.get(&address).await;
    assert!(page.text.contains("Exercise: yes"), "{}", page.text);
    assert!(
        page.text.contains("A first page can be signed"),
        "{}",
        page.text
    );
    // Height is the only new answer of the person's section: the others stand in the form already.
    let inputs = STARTER.len() + EXAMINATION.len() + HISTORY.len() + 1 + tests.len();
    let sign_off = 2;
    assert!(inputs + sign_off <= 60, "{inputs}");
    println!("inputs from referral to a page that can be signed: {inputs}");
}

/// One line answers all that is left, and one item that was not asked stays open against it.
#[tokio::test]
async fn an_item_that_was_not_asked_stays_open_while_one_line_answers_all_others() {
    let house = house().await;
    let mut case = fenwick();
    case.history = rehab::assessment::History::unasked();
    let id = house.write(case, Vec::new()).await;
    let (address, form) = (
        format!("/people/{id}"),
        format!("/people/{id}/facts/history"),
    );
    let sent = [
        ("history.rest_absent", "letter of 1 October and by asking"),
        ("history.endocarditis", "not-asked"),
        ("history.vertigo", "absent"),
        ("history.diabetes", "present"),
    ];
    kept(&house, &form, &sent).await;
    let after = case_of(&house, &address).await;
    let answer = |item| after.history.answer(item);
    assert_eq!(answer(HistoryItem::Endocarditis), Answered::NotKnown);
    assert_eq!(answer(HistoryItem::Vertigo), Answered::Absent);
    assert_eq!(answer(HistoryItem::Diabetes), Answered::Present);
    assert_eq!(answer(HistoryItem::UnstableAngina), Answered::Absent);
    let assessed = rehab::assess(
        &after,
        &rehab::service::Service::cautious(),
        crate::fixture::ON,
    );
    assert!(assessed.signing_blocked);
    let page = house.get(&form).await;
    for (name, value) in &sent[1..] {
        let tag = format!("name=\"{name}\" value=\"{value}\" checked");
        assert!(page.text.contains(&tag), "{tag}");
    }
    // Answered later, it stands in one list only, and everything else stays as it was.
    let mut fields = fields_of(&page.text);
    fields.retain(|(name, _)| name != "history.endocarditis");
    fields.push(("history.endocarditis".to_owned(), "absent".to_owned()));
    let fields: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    kept(&house, &form, &fields).await;
    let later = case_of(&house, &address).await;
    assert!(later.history.not_asked.is_empty());
    assert_eq!(
        later.history.absent,
        [HistoryItem::Vertigo, HistoryItem::Endocarditis]
    );
    assert_eq!(later.history.present, after.history.present);
}

/// Every item has its three answers, and what keeps from signing while it is open stands first.
#[tokio::test]
async fn the_history_asks_every_item_and_absolute_contraindications_first() {
    use rehab::screening::{Strength, strength_of};
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    let page = house.get(&format!("/people/{id}/facts/history")).await;
    let places: Vec<(usize, bool)> = HistoryItem::ALL
        .iter()
        .map(|item| {
            for answer in ["present", "absent", "not-asked"] {
                let field = format!("name=\"history.{item}\" value=\"{answer}\"");
                assert_eq!(page.text.matches(&field).count(), 1, "{field}");
            }
            let at = page.text.find(&format!("name=\"history.{item}\"")).unwrap();
            (at, strength_of(*item) == Some(Strength::Absolute))
        })
        .collect();
    let last_absolute = places.iter().filter(|one| one.1).map(|one| one.0).max();
    let first_other = places.iter().filter(|one| !one.1).map(|one| one.0).min();
    assert!(last_absolute < first_other);
}

#[tokio::test]
async fn widening_a_case_takes_nothing_away() {
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    let address = format!("/people/{id}");
    for section in [
        "history",
        "medicines",
        "tests",
        "home",
        "wishes",
        "function",
        "heart",
        "events",
        "person",
        "examination",
    ] {
        let form = house.get(&format!("{address}/facts/{section}")).await;
        assert_eq!(form.status, StatusCode::OK, "{section}");
        let fields = fields_of(&form.text);
        let borrowed: Vec<(&str, &str)> = fields
            .iter()
            .map(|(name, value)| (name.as_str(), value.as_str()))
            .collect();
        kept(&house, &format!("{address}/facts/{section}"), &borrowed).await;
        let after = case_of(&house, &address).await;
        assert_eq!(
            after,
            fenwick(),
            "{section} changed something that was not touched"
        );
    }
    assert_eq!(
        house.store.case(house.user, id).await.unwrap().entry_count,
        1,
        "no change, no entry"
    );
}

/// What a browser would send of a form that is sent as it came.
fn fields_of(html: &str) -> Vec<(String, String)> {
    fields_in(
        html.split("<form method=\"post\" action=\"/people/")
            .nth(1)
            .unwrap(),
    )
}

/// The fields of a form, from its beginning on.
pub(crate) fn fields_in(form: &str) -> Vec<(String, String)> {
    let form = form.split("</form>").next().unwrap();
    let attribute = |tag: &str, name: &str| {
        let start = tag.find(&format!(" {name}=\""))? + name.len() + 3;
        Some(tag[start..].split('"').next()?.to_owned())
    };
    let mut fields = Vec::new();
    for tag in form.split('<').skip(1) {
        let name = attribute(tag, "name");
        match (tag.split([' ', '>']).next().unwrap(), name) {
            ("input", Some(name)) => {
                let ticked = tag.contains("type=\"checkbox\"") || tag.contains("type=\"radio\"");
                if !ticked || tag.contains(" checked") {
                    fields.push((name, attribute(tag, "value").unwrap_or_default()));
                }
            }
            ("textarea", Some(name)) => {
                fields.push((name, tag.split('>').nth(1).unwrap().to_owned()))
            }
            ("select", Some(name)) => fields.push((name, String::new())),
            ("option", _) if tag.contains(" selected") => {
                fields.last_mut().unwrap().1 = attribute(tag, "value").unwrap();
            }
            _ => {}
        }
    }
    fields
}

#[tokio::test]
async fn an_emptied_row_is_taken_out_and_a_problem_after_it_is_told_at_its_own_row() {
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    let address = format!("/people/{id}/facts/home");
    let wrong = house
        .send(
            &address,
            &[
                ("home.place[2].name", "stair"),
                ("home.place[2].kind", "step"),
                ("home.place[2].height_cm", "900"),
            ],
        )
        .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        wrong.text.contains("home-place-2--height_cm-wrong"),
        "{}",
        wrongs(&wrong)
    );
    kept(
        &house,
        &address,
        &[
            ("home.place[2].name", "stair"),
            ("home.place[2].kind", "step"),
        ],
    )
    .await;
    let case = case_of(&house, &format!("/people/{id}")).await;
    assert_eq!(case.home.places.len(), 1);
    assert_eq!(case.home.places[0].name, "stair");
}

#[tokio::test]
async fn a_form_opened_before_somebody_else_wrote_is_not_written_over_it() {
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    let address = format!("/people/{id}/facts/person");
    let opened = fields_of(&house.get(&address).await.text);
    let mut mine: Vec<(&str, &str)> = opened
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    kept(&house, &address, &[("person.telephones", "01632 960 555")]).await;
    for (name, value) in &mut mine {
        if *name == "person.called" {
            *value = "Orla";
        }
    }
    let stale = house.post(&address, &mine).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    assert!(
        stale.text.contains("value=\"Orla\""),
        "nothing typed is lost"
    );
    let case = case_of(&house, &format!("/people/{id}")).await;
    assert_eq!(case.person.telephones, ["01632 960 555"]);
    let without = house.post(&address, &[("person.called", "Orla")]).await;
    assert_eq!(without.status, StatusCode::CONFLICT);
}

#[tokio::test]
async fn two_procedures_of_one_kind_both_stay_when_the_event_is_written_again() {
    let house = house().await;
    let mut case = fenwick();
    let mut second = case.events[0].procedures[0].clone();
    second.date = Some(jiff::civil::date(2026, 9, 20));
    case.events[0].procedures.push(second);
    let id = house.write(case.clone(), Vec::new()).await;
    let address = format!("/people/{id}/facts/events");
    let fields = fields_of(&house.get(&address).await.text);
    let mut fields: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    fields.push(("event[1].procedures", "pacemaker"));
    kept(&house, &address, &fields).await;
    let after = case_of(&house, &format!("/people/{id}")).await;
    let procedures = &after.events[0].procedures;
    assert_eq!(procedures[..2], case.events[0].procedures[..]);
    assert_eq!(procedures.len(), 3);
}

#[tokio::test]
async fn what_was_done_gets_its_day_and_its_way_in_and_keeps_them_when_another_is_taken_away() {
    let house = house().await;
    let mut case = fenwick();
    let valve = rehab::assessment::Procedure {
        kind: rehab::assessment::ProcedureKind::Valve,
        date: None,
        access: None,
    };
    case.events[0].procedures.insert(0, valve);
    let id = house.write(case, Vec::new()).await;
    let address = format!("/people/{id}/facts/events");
    let mut fields = fields_of(&house.get(&address).await.text);
    fields.retain(|(name, value)| {
        let replaced = ["procedures[2].date", "procedures[2].access"];
        !replaced.iter().any(|end| name.ends_with(end)) && value != "valve"
    });
    let mut fields: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    fields.push(("event[1].procedures[2].date", "2026-08-31"));
    fields.push(("event[1].procedures[2].access", "wrist"));
    kept(&house, &address, &fields).await;
    let after = case_of(&house, &format!("/people/{id}")).await;
    let [stent] = &after.events[0].procedures[..] else {
        panic!("{:?}", after.events[0].procedures)
    };
    assert_eq!(stent.kind, rehab::assessment::ProcedureKind::Stent);
    assert_eq!(stent.date, Some(jiff::civil::date(2026, 8, 31)));
    assert_eq!(stent.access.as_deref(), Some("wrist"));
}

/// What was examined before a medicine was taken away or changed does not count any more.
#[tokio::test]
async fn a_medicine_taken_away_or_changed_voids_the_examination() {
    let house = house().await;
    for (name, lines) in [
        ("fenwick-without", ""),
        ("fenwick-other-dose", "bisoprolol 5 mg since 2026-11-24"),
    ] {
        let mut case = fenwick();
        case.id.0 = name.to_owned();
        let id = house.write(case, Vec::new()).await;
        let before = house.get(&format!("/people/{id}")).await;
        assert!(before.text.contains("Exercise: yes"), "{}", before.text);
        let address = format!("/people/{id}/facts/medicines");
        let silent = house
            .send(&address, &[("medicine", "bisoprolol 5 mg")])
            .await;
        assert_eq!(silent.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(
            wrongs(&silent).contains("since when"),
            "{}",
            wrongs(&silent)
        );
        kept(&house, &address, &[("medicine", lines)]).await;
        let after = house.get(&format!("/people/{id}")).await;
        assert!(!after.text.contains("Exercise: yes"), "{name}");
    }
}

#[tokio::test]
async fn a_case_file_is_shown_first_and_kept_when_asked() {
    let house = house().await;
    let shown = house
        .upload("/people/new/file", "fenwick.toml", FENWICK.as_bytes())
        .await;
    assert_eq!(shown.status, StatusCode::OK, "{}", shown.text);
    assert!(shown.text.contains("What the file says") && shown.text.contains("Orla Fenwick"));
    let count = |house: &House| {
        let (store, user) = (house.store.clone(), house.user);
        async move {
            store
                .list_cases(user, &records::CaseFilter::default())
                .await
                .unwrap()
                .len()
        }
    };
    assert_eq!(count(&house).await, 0, "nothing is kept by looking");
    let json = formats::case::write(&fenwick(), formats::tree::Notation::Json);
    let kept = house.post("/people/new/keep", &[("case", &json)]).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER);
    assert_eq!(case_of(&house, &kept.to.unwrap()).await, fenwick());
    let twice = house.post("/people/new/keep", &[("case", &json)]).await;
    assert_eq!(twice.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(count(&house).await, 1);
}

#[tokio::test]
async fn a_bundle_lists_what_was_not_understood() {
    let house = house().await;
    let bundle = r#"{"resourceType":"Bundle","type":"collection","entry":[
        {"resource":{"resourceType":"Patient","id":"p1","name":[{"family":"Lindqvist","given":["Aron"]}],"gender":"male","birthDate":"1946-02-03"}},
        {"resource":{"resourceType":"Observation","id":"o1","status":"final","subject":{"reference":"Patient/p1"},"code":{"text":"Something of the house"},"valueString":"x"}}]}"#;
    let shown = house
        .upload("/people/new/file", "bundle.json", bundle.as_bytes())
        .await;
    assert_eq!(shown.status, StatusCode::OK, "{}", shown.text);
    assert!(shown.text.contains("Aron Lindqvist"));
    assert!(shown.text.contains("Not taken") && shown.text.contains("Observation, entry 2"));
}

#[tokio::test]
async fn truncated_and_hostile_files_are_refused_with_their_line() {
    let house = house().await;
    for (name, bytes) in [
        ("cut.toml", &FENWICK.as_bytes()[..400]),
        ("cut.json", b"{\"person\": {\"name\": \"Or".as_slice()),
        ("deep.json", &[b'['; 100_000]),
        ("nul.toml", b"id = \"a\0b\""),
        ("unknown.toml", b"[person]\nnmae = \"x\"\n"),
    ] {
        let page = house.upload("/people/new/file", name, bytes).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        assert!(page.text.contains("Nothing was kept"), "{name}");
    }
    let list = house
        .store
        .list_cases(house.user, &records::CaseFilter::default())
        .await
        .unwrap();
    assert!(list.is_empty());
}

#[tokio::test]
async fn a_day_ahead_is_refused_in_words_of_a_page_and_a_field_sent_twice_is_told() {
    let house = house().await;
    let mut fields: Vec<(&str, &str)> = STARTER
        .into_iter()
        .filter(|(name, _)| *name != "event[1].date")
        .collect();
    fields.push(("event[1].date", "2027-08-30"));
    let page = house.post("/people/new", &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        page.text.contains("the day of the program"),
        "{}",
        page.text
    );
    assert!(!page.text.contains("--on"));

    let mut fields = STARTER.to_vec();
    fields.push(("person.born", "1961-05-17"));
    let page = house.post("/people/new", &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("this came twice"), "{}", page.text);

    let mut fields = STARTER.to_vec();
    fields[0].1 = "Orla\u{202e}Fenwick";
    let page = house.post("/people/new", &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        page.text.contains("signs that nobody sees"),
        "{}",
        page.text
    );
}

/// What a bundle left to be asked was shown once and then gone; an answer could not be given at all.
#[tokio::test]
async fn what_the_file_asks_is_kept_with_the_case_until_it_is_answered() {
    let house = house().await;
    let bundle = r#"{"resourceType":"Bundle","type":"collection","entry":[
        {"resource":{"resourceType":"Patient","id":"p1","name":[{"family":"Lindqvist","given":["Aron"]}],"gender":"male","birthDate":"1946-02-03"}},
        {"resource":{"resourceType":"AllergyIntolerance","id":"a1","patient":{"reference":"Patient/p1"},"code":{"text":"nitroglycerin"}}},
        {"resource":{"resourceType":"Observation","id":"o1","status":"final","subject":{"reference":"Patient/p1"},"code":{"text":"Something of the house"},"valueString":"x"}}]}"#;
    let shown = house
        .upload("/people/new/file", "bundle.json", bundle.as_bytes())
        .await;
    let value = |name: &str| {
        let mark = format!("name=\"{name}\" value=\"");
        let at = shown.text.find(&mark).expect(name) + mark.len();
        let text = shown.text[at..].split('"').next().unwrap();
        text.replace("&amp;", "&")
    };
    let (standing, allergy) = (value("asked-0"), value("asked-1"));
    assert!(allergy.contains("allergy to 'nitroglycerin'"), "{allergy}");
    assert!(shown.text.contains("name=\"answer-1\""));
    let mut case = fenwick();
    case.nitrate = rehab::assessment::Nitrate::unasked();
    let json = formats::case::write(&case, formats::tree::Notation::Json);
    let left = value("not-taken");
    let fields = [
        ("case", json.as_str()),
        ("asked-0", &standing),
        ("answer-0", "Taken on today"),
        ("asked-1", &allergy),
        ("answer-1", ""),
        ("not-taken", &left),
    ];
    let kept = house.post("/people/new/keep", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    let address = kept.to.unwrap();
    let written = house.get(&format!("{address}/written")).await.text;
    assert!(written.contains("Taken on today"), "{written}");
    assert!(written.contains("Something of the house"), "{written}");
    let page = house.get(&address).await.text;
    assert!(
        page.contains(&format!("From the file: {allergy}")),
        "{page}"
    );
    assert!(!page.contains(&format!("From the file: {standing}")));

    let note = format!("{address}/note");
    let answer = [
        ("of", allergy.as_str()),
        ("note", "A rash in 1998; the doctor says none"),
    ];
    let sent = house.post(&note, &answer).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let page = house.get(&address).await.text;
    assert!(!page.contains("From the file:"), "{page}");
    let written = house.get(&format!("{address}/written")).await.text;
    assert!(written.contains("A rash in 1998"), "{written}");
    let again = house.post(&note, &answer).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
}

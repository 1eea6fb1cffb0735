//! The call sheet: asked, followed, signed.

use crate::fixture::{ON, Page, fenwick, house, session, signed};
use axum::http::StatusCode;
use jiff::civil::date;
use rehab::course::{Course, Happening};
use rehab::diary::{PulseMoment, SymptomKind};

pub(crate) async fn course(house: &crate::fixture::House, id: records::CaseId) -> Course {
    let happened = happened(house, id).await;
    Course::fold(happened.iter().map(|(date, one)| (*date, one)), ON).unwrap()
}

async fn happened(
    house: &crate::fixture::House,
    id: records::CaseId,
) -> Vec<(jiff::civil::Date, Happening)> {
    let reading = records::Reading {
        by: house.user,
        what: records::Word::new("test").unwrap(),
        at: jiff::Timestamp::now(),
    };
    let entries = house.store.entries(id, &reading).await.unwrap();
    entries
        .iter()
        .map(|entry| {
            let one = formats::journal::read_body(entry.kind.as_str(), &entry.body).unwrap();
            (entry.effective.date(), one)
        })
        .collect()
}

/// The hidden fields of a page, so that a form is sent as a browser would.
pub(crate) fn hidden(page: &Page, name: &str) -> String {
    let mark = format!("name=\"{name}\" value=\"");
    let at = page.text.find(&mark).unwrap() + mark.len();
    let end = page.text[at..].find('"').unwrap();
    page.text[at..at + end].to_owned()
}

pub(crate) fn all_well(position: &str) -> Vec<(&str, &str)> {
    vec![
        ("kind", "call"),
        ("position", position),
        ("open", "All right. The post office was shut."),
        ("day", "2026-11-20"),
        ("day", "2026-11-23"),
        ("day", "2026-11-25"),
        ("stage", "1"),
        ("effort", "3"),
        ("heart", "none"),
        ("spray", "not-used"),
        ("spray-date", "03 2027"),
        ("medicines", "nothing"),
        ("falls", "no"),
        ("joint-during", "4"),
        ("joint-morning", "usual"),
    ]
}

async fn silent() -> (crate::fixture::House, records::CaseId, String) {
    let house = house().await;
    let mut past = signed(date(2026, 11, 9));
    past.push(session("fenwick-1951", date(2026, 11, 13), None));
    let id = house.write(fenwick(), past).await;
    (house, id, format!("/people/{id}/call"))
}

#[tokio::test]
async fn the_sheet_asks_in_the_order_of_talk_and_says_what_is_not_asked() {
    let (house, _, address) = silent().await;
    let page = house.get(&address).await;
    assert_eq!(page.status, StatusCode::OK);
    let order = [
        "How have you been since we last spoke?",
        "Which days did you do your page?",
        "how hard was it, from nought to ten?",
        "Did you feel anything in your chest",
        "Has anything changed in your tablets?",
        "Not asked: no heart failure is recorded.",
        "Have you fallen, or nearly?",
        "How were your joints",
        "What follows",
    ];
    let places: Vec<usize> = order
        .iter()
        .map(|words| page.text.find(words).unwrap_or_else(|| panic!("{words}")))
        .collect();
    assert!(places.is_sorted(), "{places:?}");
    assert_eq!(
        page.text.matches("class=\"do\"").count(),
        0,
        "nothing to sign before the first answer"
    );
}

#[tokio::test]
async fn good_news_changes_what_follows_from_asking_first_to_moving_on() {
    let (house, _, address) = silent().await;
    let page = house.get(&address).await;
    assert!(page.text.contains("Nothing was asked yet."));
    // The session of the 13th says nothing of symptoms; of today nothing is claimed before anything was asked.
    let claims = |text: &str| {
        text.matches("does not say whether there were symptoms")
            .count()
    };
    let before = claims(&page.text);
    let asked = house
        .post(
            &address,
            &[
                ("kind", "call"),
                ("effort", "3"),
                ("day", "2026-11-23"),
                ("act", "follow"),
            ],
        )
        .await;
    assert!(
        claims(&asked.text) > before,
        "once sessions are told, what was not asked holds"
    );
    let position = hidden(&page, "position");
    let mut fields = all_well(&position);
    fields.push(("act", "follow"));
    let page = house.post(&address, &fields).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("Move on to page B."), "{}", page.text);
    assert!(
        page.text
            .contains("3 sessions in 12 days, from page A. Asked for: 5."),
        "{}",
        page.text
    );
    assert!(
        page.text
            .contains("Spray not used. Spray in date to March 2027.")
    );
    assert!(
        page.text
            .contains("value=\"All right. The post office was shut.\"")
    );
}

#[tokio::test]
async fn signing_keeps_answers_decision_and_next_day_in_one_entry_and_gives_the_page() {
    let (house, id, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    let fields = all_well(&position);
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.text);
    let course = course(&house, id).await;
    assert_eq!(course.current_stage, Some(2));
    let call = course.calls.last().unwrap();
    assert!(call.note.contains("All right. The post office was shut."));
    assert!(call.next.is_some_and(|next| next > ON));
    let spray = course.case.nitrate;
    assert_eq!(spray.is_in_date(ON), Some(true));
    let until = spray.until.expect("the day that was read from it is kept");
    assert_eq!(
        spray.is_in_date(until.tomorrow().unwrap()),
        Some(false),
        "it runs out by itself"
    );
    assert_eq!(
        course.entries.iter().filter(|one| one.is_session()).count(),
        4
    );
    let called = happened(&house, id).await;
    let count = called
        .iter()
        .filter(|(_, one)| matches!(one, Happening::Called(_)))
        .count();
    assert_eq!(count, 1);
}

#[tokio::test]
async fn a_red_sign_stops_and_its_answer_never_softens_the_decision_of_the_same_call() {
    let (house, id, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    let mut fields: Vec<(&str, &str)> = all_well(&position)
        .into_iter()
        .filter(|(name, _)| *name != "heart")
        .collect();
    fields.push(("heart", "chest"));
    fields.push(("act", "follow"));
    let page = house.post(&address, &fields).await;
    assert!(
        page.text.contains("Stop, and contact today"),
        "{}",
        page.text
    );
    let mark = "name=\"done:";
    let at = page.text.find(mark).unwrap() + "name=\"".len();
    let end = page.text[at..].find('"').unwrap();
    let key = page.text[at..at + end].to_owned();
    fields.pop();
    fields.push((&key, "Dr Sena rang back and sees her at four"));
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.text);
    let course = course(&house, id).await;
    let taken = course.calls.last().unwrap().decided.clone().unwrap();
    assert_eq!(taken.action, rehab::review::Action::StopAndContact);
    assert_eq!(course.settled.len(), 1);
    assert_eq!(course.current_stage, Some(1));
}

#[tokio::test]
async fn towards_risk_needs_reason_and_another_name() {
    let (house, _, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    let mut fields = all_well(&position);
    fields.retain(|(name, _)| *name != "joint-morning");
    fields.push(("joint-morning", "worse"));
    fields.push(("decide", "advance"));
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("write the reason"), "{}", page.text);
    fields.push(("reason", "The knee was knocked on the door"));
    fields.push(("second-name", "Josie Marwood"));
    let page = house.sign(&address, &fields).await;
    assert!(
        page.text.contains("must be another person"),
        "{}",
        page.text
    );
    fields.retain(|(name, _)| *name != "second-name");
    fields.push(("second-name", "Dr Thorsby"));
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.text);
}

#[tokio::test]
async fn towards_caution_is_free() {
    let (house, id, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    let mut fields = all_well(&position);
    fields.push(("decide", "hold"));
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.text);
    assert_eq!(course(&house, id).await.current_stage, Some(1));
}

#[tokio::test]
async fn an_impossible_answer_comes_back_with_everything_that_was_typed() {
    let (house, id, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    let mut fields = all_well(&position);
    fields.retain(|(name, _)| *name != "joint-during");
    fields.push(("joint-during", "44"));
    fields.push(("joint-said", "left one, after the stair"));
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        page.text.contains("44 of 10 is not possible"),
        "{}",
        page.text
    );
    assert!(page.text.contains("left one, after the stair"));
    assert!(page.text.contains("Keep as a draft"));
    assert!(course(&house, id).await.calls.is_empty());
}

#[tokio::test]
async fn none_and_a_sign_together_are_refused() {
    let (house, _, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    let mut fields = all_well(&position);
    fields.push(("heart", "faint"));
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("is marked and a sign too"));
}

#[tokio::test]
async fn a_try_without_an_answer_is_kept_and_is_no_news() {
    let (house, id, address) = silent().await;
    let before = course(&house, id).await.contacts.len();
    let page = house
        .post(&address, &[("kind", "call"), ("act", "no-answer")])
        .await;
    assert_eq!(page.status, StatusCode::SEE_OTHER);
    let after = course(&house, id).await;
    assert_eq!(after.calls.len(), 1);
    assert!(!after.calls[0].reached);
    assert_eq!(after.contacts.len(), before);
    assert!(house.get(&address).await.text.contains("second try"));
}

#[tokio::test]
async fn a_sheet_opened_before_somebody_else_wrote_is_not_signed_unseen() {
    let (house, id, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    house
        .post(&address, &[("kind", "call"), ("act", "no-answer")])
        .await;
    let fields = all_well(&position);
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("Somebody has written in this case"));
    assert!(
        course(&house, id)
            .await
            .calls
            .iter()
            .all(|call| !call.reached)
    );
}

#[tokio::test]
async fn without_a_page_a_call_gives_none() {
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    let address = format!("/people/{id}/call");
    let page = house.get(&address).await;
    assert!(page.text.contains("Not asked: no page has been given yet."));
    let position = hidden(&page, "position");
    let page = house
        .sign(
            &address,
            &[
                ("kind", "call"),
                ("position", &position),
                ("heart", "none"),
                ("act", "sign"),
            ],
        )
        .await;
    assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.text);
    assert_eq!(course(&house, id).await.current_stage, None);
}

#[tokio::test]
async fn what_was_said_last_time_stands_beside_the_question_and_on_paper() {
    let house = house().await;
    let mut past = signed(date(2026, 11, 9));
    past.push(session(
        "fenwick-1951",
        date(2026, 11, 23),
        Some(SymptomKind::Palpitations),
    ));
    let id = house.write(fenwick(), past).await;
    let page = house.get(&format!("/people/{id}/call")).await;
    assert!(page.text.contains("palpitations."), "{}", page.text);
    assert!(page.text.contains("what was done, in words"));
    let paper = house.get(&format!("/people/{id}/call/paper")).await;
    assert_eq!(paper.status, StatusCode::OK);
    assert!(paper.text.contains("Blank sheet"));
    assert!(paper.text.contains("Last time: palpitations."));
}

/// A pulse is asked of whoever counts one; one that has not come back at the end holds the page and is asked about.
#[tokio::test]
async fn a_pulse_told_on_the_telephone_is_reviewed_like_any_other() {
    let ask = "when you had slowed down?";
    let (other, _, address) = silent().await;
    assert!(!other.get(&address).await.text.contains(ask));
    let house = house().await;
    let mut case = fenwick();
    case.wishes.pulse_counting = Some(true);
    let mut past = signed(date(2026, 11, 9));
    past.push(session("fenwick-1951", date(2026, 11, 13), None));
    let id = house.write(case, past).await;
    let address = format!("/people/{id}/call");
    let page = house.get(&address).await;
    assert!(page.text.contains(ask), "{}", page.text);
    let paper = house.get(&format!("{address}/paper")).await;
    assert!(paper.text.contains(ask), "{}", paper.text);
    let position = hidden(&page, "position");
    let mut fields = all_well(&position);
    fields.extend([("pulse-before", "66"), ("pulse-after", "77")]);
    let mut wrong = fields.clone();
    wrong.extend([("pulse-before", "6"), ("act", "follow")]);
    wrong.retain(|one| *one != ("pulse-before", "66"));
    let page = house.post(&address, &wrong).await;
    assert!(page.text.contains("Nothing is proposed yet"));
    let mut follow = fields.clone();
    follow.push(("act", "follow"));
    let page = house.post(&address, &follow).await;
    assert!(page.text.contains("Stay on page A"), "{}", page.text);
    assert!(page.text.contains("Do the whole of the last part"));
    let signed = house.sign(&address, &fields).await;
    assert_eq!(signed.status, StatusCode::SEE_OTHER, "{}", signed.text);
    let course = course(&house, id).await;
    let told = course.entries.iter().filter(|one| !one.pulses.is_empty());
    let told: Vec<_> = told.collect();
    let [last] = told.as_slice() else {
        panic!("one session tells pulses: {told:?}")
    };
    assert_eq!(last.date, date(2026, 11, 25));
    let pulses = last.pulses.iter().map(|pulse| (pulse.at, pulse.bpm));
    let both = [
        (PulseMoment::Before, 66.0),
        (PulseMoment::AfterCoolDown, 77.0),
    ];
    assert!(pulses.eq(both), "{:?}", last.pulses);
}

/// Sleep and mood are asked face to face only, in our own words, and are kept as they were told.
#[tokio::test]
async fn sleep_and_mood_are_asked_at_a_visit_and_never_on_the_telephone() {
    let (house, id, address) = silent().await;
    let call = house.get(&format!("{address}?kind=call")).await;
    let asked = [
        "How have you been sleeping?",
        "Have you been low, or worried?",
    ];
    assert!(asked.iter().all(|ask| !call.text.contains(ask)));
    let visit = house.get(&format!("{address}?kind=visit")).await;
    assert!(
        asked.iter().all(|ask| visit.text.contains(ask)),
        "{}",
        visit.text
    );
    let paper = house.get(&format!("{address}/paper?kind=visit")).await;
    assert!(
        asked.iter().all(|ask| paper.text.contains(ask)),
        "{}",
        paper.text
    );
    assert!(
        !visit.text.contains("stand under"),
        "nothing low was told yet"
    );

    let position = hidden(&visit, "position");
    let mut fields = all_well(&position);
    fields[0] = ("kind", "visit");
    fields.extend([
        ("sleep", "usual"),
        ("mood", "worse"),
        ("mood-said", "Cries in the evenings"),
        ("act", "follow"),
    ]);
    let follows = house.post(&address, &fields).await;
    assert!(
        follows
            .text
            .contains("Sleeps as usual. Low or worried. Cries in the evenings."),
        "{}",
        follows.text
    );
    assert!(follows.text.contains("The mood questions stand under"));
    let at = fields.len() - 1;
    fields[at] = ("act", "sign");
    let signed = house.sign(&address, &fields).await;
    assert_eq!(signed.status, StatusCode::SEE_OTHER, "{}", signed.text);
    let course = course(&house, id).await;
    let told = course
        .entries
        .iter()
        .filter_map(|entry| entry.note.as_deref());
    assert!(
        told.into_iter()
            .any(|note| note.contains("Cries in the evenings")),
        "{:?}",
        course.entries
    );
}

/// "As proposed" is signed as it was seen: what came between changes it, and then it is looked at first.
#[tokio::test]
async fn what_is_proposed_is_not_signed_unseen() {
    let (house, id, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    let mut fields = all_well(&position);
    fields.push(("act", "sign"));
    for seen in ["", "hold 1", "advance 3"] {
        let mut fields = fields.clone();
        fields.push(("seen", seen));
        let page = house.post(&address, &fields).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{seen}");
        assert!(page.text.contains("Look at it, then sign"), "{}", page.text);
    }
    assert!(course(&house, id).await.calls.is_empty());
    let signed = house.sign(&address, &fields).await;
    assert_eq!(signed.status, StatusCode::SEE_OTHER, "{}", signed.text);
}

/// An answer to an alert says something on the sheet too.
#[tokio::test]
async fn a_dot_answers_no_alert_on_the_sheet() {
    let house = house().await;
    let mut past = signed(date(2026, 11, 9));
    let felt = Some(SymptomKind::ChestDiscomfort);
    past.push(session("fenwick-1951", date(2026, 11, 23), felt));
    let id = house.write(fenwick(), past).await;
    let address = format!("/people/{id}/call");
    let page = house.get(&address).await;
    let position = hidden(&page, "position");
    let start = page.text.find("name=\"done:").unwrap() + 6;
    let name = page.text[start..].split('"').next().unwrap().to_owned();
    let mut fields = all_well(&position);
    fields.push((&name, "."));
    let refused = house.sign(&address, &fields).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        refused.text.contains("ends only with what was done"),
        "{}",
        refused.text
    );
    assert!(course(&house, id).await.settled.is_empty());
}

#[tokio::test]
async fn nothing_is_proposed_while_an_answer_cannot_be_read() {
    let (house, _, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    for (name, value, said) in [
        ("joint-during", "11", "11 of 10 is not possible"),
        ("day", "2027-01-01", "is not a day up to"),
        ("weight", "heavy", "is not a number"),
    ] {
        let mut fields = all_well(&position);
        fields.retain(|(known, _)| *known != name || name == "day");
        fields.extend([(name, value), ("act", "follow")]);
        let page = house.post(&address, &fields).await;
        assert!(page.text.contains("Nothing is proposed yet"), "{name}");
        assert!(page.text.contains(said), "{name}: {}", page.text);
        assert!(!page.text.contains("name=\"seen\""), "{name}");
        assert!(!page.text.contains("Proposed was"), "{name}");
    }
    let mut fields = all_well(&position);
    fields.push(("act", "follow"));
    let page = house.post(&address, &fields).await;
    assert!(page.text.contains("name=\"seen\""), "{}", page.text);
}

#[tokio::test]
async fn nobody_is_rung_up_for_the_diary_of_somebody_who_has_died() {
    let (house, id, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    let standing = format!("/people/{id}/standing");
    house
        .post(&standing, &[("standing", "died"), ("why", "")])
        .await;
    for page in ["", "?kind=visit", "/paper"] {
        let page = house.get(&format!("{address}{page}")).await;
        assert!(page.text.contains("has died"), "{}", page.text);
        assert!(!page.text.contains("How have you been"));
    }
    for act in ["sign", "no-answer", "draft", "follow"] {
        let mut fields = all_well(&position);
        fields.push(("act", act));
        let refused = house.post(&address, &fields).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{act}");
    }
    let course = course(&house, id).await;
    assert!(course.calls.is_empty() && course.unfinished.is_none());
    let note = [("note", "His daughter rang; she is looked after.")];
    let kept = house.post(&format!("/people/{id}/note"), &note).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn a_field_that_came_twice_is_refused_and_several_ticks_are_not() {
    let (house, id, address) = silent().await;
    let position = hidden(&house.get(&address).await, "position");
    let mut fields = all_well(&position);
    fields.push(("effort", "9"));
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("came twice"), "{}", page.text);
    assert!(course(&house, id).await.calls.is_empty());
    let signed = house.sign(&address, &all_well(&position)).await;
    assert_eq!(signed.status, StatusCode::SEE_OTHER, "{}", signed.text);
}

#[tokio::test]
async fn a_form_without_its_position_is_not_taken_for_an_older_one() {
    let (house, id, address) = silent().await;
    let fields: Vec<(&str, &str)> = all_well("")
        .into_iter()
        .filter(|(name, _)| *name != "position")
        .collect();
    let page = house.sign(&address, &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        page.text.contains("did not say on which state"),
        "{}",
        page.text
    );
    assert!(!page.text.to_lowercase().contains("somebody has written"));
    let page = house
        .post(&format!("/people/{id}/sign"), &[("act", "sign")])
        .await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("did not say on which state"));
    assert!(!page.text.contains("Somebody has written"));
}

#[tokio::test]
async fn the_page_for_a_diary_file_is_found_from_case_and_call_sheet() {
    let (house, id, address) = silent().await;
    for page in [format!("/people/{id}"), address] {
        let text = house.get(&page).await.text;
        let end = text.find(">Read a diary file<").expect("a link");
        let start = text[..end].rfind("href=\"").unwrap() + "href=\"".len();
        let to = text[start..end].trim_end_matches('"');
        let opened = house.get(to).await;
        assert_eq!(opened.status, StatusCode::OK, "{to}");
        assert!(opened.text.contains("Diary file"), "{to}");
    }
}

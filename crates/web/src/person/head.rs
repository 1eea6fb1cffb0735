//! The head of the case page: who this is, in one breath.

use crate::address;
use crate::casefile::CaseFile;
use crate::layout::row;
use crate::phrases::{self, full_day, sentence};
use maud::{Markup, html};
use rehab::assessment::{Answered, HistoryItem, StatusKind};

pub(super) fn head(file: &CaseFile) -> Markup {
    let text = html! {
        h1.title { (file.called()) }
        p.lead { (said(file)) }
        @if let Some(stands) = stands(file) { p.stands { (stands) } }
    };
    row(&html! {}, &text, &contacts(file))
}

fn said(file: &CaseFile) -> String {
    let case = &file.course.case;
    let person = &case.person;
    let mut who = vec![
        person
            .name
            .clone()
            .unwrap_or_else(|| "Name not known".to_owned()),
    ];
    match (person.born, person.age_years(file.on)) {
        (Some(born), Some(age)) => who.push(format!("born {}, {age}", full_day(born))),
        _ => who.push("day of birth not known".to_owned()),
    }
    let mut sentences = vec![format!("{}.", who.join(", "))];
    sentences.extend(event(file));
    let sore: Vec<String> = sore(file);
    if !sore.is_empty() {
        sentences.push(format!("{}.", sentence(&phrases::list(&sore))));
    }
    if case.home.alone_when_exercising == Some(true) {
        sentences.push("Alone when exercising.".to_owned());
    }
    if let Some(goal) = &case.wishes.goal {
        sentences.push(format!(
            "Wants: {}.",
            phrases::begun(goal.trim_end_matches('.'))
        ));
    }
    sentences.join(" ")
}

fn event(file: &CaseFile) -> Option<String> {
    let newest = file
        .course
        .case
        .events
        .iter()
        .max_by_key(|event| event.date)?;
    let mut what = vec![phrases::event(newest.kind).to_owned()];
    for one in &newest.procedures {
        let done = phrases::procedure(one.kind).to_owned();
        if !what.contains(&done) {
            what.push(done);
        }
    }
    let when = newest.date.map_or_else(
        || ", day not known".to_owned(),
        |date| format!(" on {}", phrases::calendar_day(date, file.on)),
    );
    Some(format!("{}{when}.", sentence(&phrases::list(&what))))
}

/// What changes a programme and stands in the history.
fn sore(file: &CaseFile) -> Vec<String> {
    const TOLD: [HistoryItem; 10] = [
        HistoryItem::HeartFailure,
        HistoryItem::Diabetes,
        HistoryItem::KneeOsteoarthritis,
        HistoryItem::HipOsteoarthritis,
        HistoryItem::HipReplacement,
        HistoryItem::ShoulderPain,
        HistoryItem::BackPain,
        HistoryItem::PoorBalance,
        HistoryItem::Stroke,
        HistoryItem::LowVision,
    ];
    let history = &file.course.case.history;
    TOLD.iter()
        .filter(|item| history.answer(**item) == Answered::Present)
        .map(|item| item.word().replace('-', " "))
        .collect()
}

/// Where the case stands, when that is not simply "active".
fn stands(file: &CaseFile) -> Option<String> {
    let status = file.course.case.status;
    let since = status.since.map_or_else(String::new, |date| {
        format!(" since {}", phrases::calendar_day(date, file.on))
    });
    let said = match status.kind {
        StatusKind::Active => return None,
        StatusKind::Died => format!(
            "Died{}. Nothing is due, printed or sent any more.",
            since.replace(" since", " on")
        ),
        StatusKind::InHospital => {
            format!("In hospital{since}. No exercise at home; a new assessment comes first.")
        }
        StatusKind::Paused => format!("Paused{since}."),
        StatusKind::Discharged => format!("Discharged{}.", since.replace(" since", " on")),
        StatusKind::Declined => "Declined. Nothing is due.".to_owned(),
        StatusKind::Referred => "Referred, not yet seen.".to_owned(),
        StatusKind::WaitingForClearance => format!("Waiting for clearance{since}."),
    };
    Some(said)
}

fn contacts(file: &CaseFile) -> Markup {
    let person = &file.course.case.person;
    html! {
        p {
            @for number in &person.telephones { (number) br; }
            @if let Some(other) = &person.emergency_contact { (other) br; }
            @if let Some(doctor) = &person.doctor { "Doctor: " (doctor) br; }
        }
        p.ways {
            a href=(address::of_case(file.id, "call")) { "Call sheet" } " "
            a href=(address::of_case(file.id, "inbox")) { "Read a diary file" } " "
            a href=(address::of_case(file.id, "builder")) { "Builder" } " "
            a href=(address::of_case(file.id, "facts")) { "Facts" } " "
            a href=(address::of_case(file.id, "standing")) { "Standing" } " "
            a href=(address::of_case(file.id, "written")) { "All that was written" }
        }
    }
}

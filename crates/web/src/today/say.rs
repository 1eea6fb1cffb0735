//! What is said of one person today: who, what, why, since when.

use super::needy::{Group, Needy};
use crate::address;
use crate::casefile::{self, CaseFile, SCREENING, SILENCE, open_alerts};
use crate::phrases::{self, days_in_words, on_day, sentence};
use maud::{Markup, html};
use rehab::assessed::{Decision, RiskClass};
use rehab::assessment::StatusKind;
use rehab::calendar::days_between;
use rehab::review::{Action, Alert, Review, SymptomClass};

/// A case that was opened for the page.
pub(super) struct Opened {
    pub(super) file: CaseFile,
    pub(super) review: Review,
}

/// The sentences about an alert, and what follows from it.
pub(super) fn alert(opened: &Opened) -> Markup {
    let (file, review) = (&opened.file, &opened.review);
    let alerts = open_alerts(&file.course, review);
    let told = each_once(&alerts);
    let called = file.called();
    let stop = review.proposal.action == Action::StopAndContact;
    html! {
        p {
            @if let Some(first) = told.first() { (of_alert(opened, first)) }
            @for more in told.iter().skip(1).take(2) {
                " " (sentence(&plain(opened, more))) "."
            }
            @if told.len() > 3 { " " (sentence(&phrases::counted(told.len() - 3, "more thing", "more things"))) " to answer." }
            @if let Some(begun) = begun(file) { " " (sentence(&begun)) }
            @if stop { " " b { "No exercise until somebody of the team has spoken with " (called) "." } }
        }
    }
}

/// What was told more than once in the same words is said once, with the day it was told first.
fn each_once<'a>(alerts: &[&'a Alert]) -> Vec<&'a Alert> {
    let words = |alert: &Alert| {
        let told = alert.text.split_once(": ").map(|(_, told)| told.to_owned());
        told.map(|told| (alert.rule, told))
    };
    let mut once: Vec<&Alert> = Vec::new();
    for alert in alerts {
        let again = |one: &&Alert| words(one).is_some() && words(one) == words(alert);
        if !once.iter().any(again) {
            once.push(alert);
        }
    }
    once
}

/// For the margin: that nobody has written what was done, and since when the oldest of the alerts is the lead's too.
pub(super) fn unanswered(opened: &Opened) -> Option<String> {
    let on = opened.file.on;
    let alerts = open_alerts(&opened.file.course, &opened.review);
    if alerts.is_empty() {
        return None;
    }
    let since = alerts
        .iter()
        .filter(|alert| alert.is_with_lead(on))
        .map(|alert| alert.to_lead_on)
        .min();
    Some(match since {
        Some(since) => format!(
            "Nobody has written what was done, so it is with the lead too since {}.",
            on_day(since, on).trim_start_matches("on ")
        ),
        None => "Nobody has written yet what was done.".to_owned(),
    })
}

fn of_alert(opened: &Opened, alert: &Alert) -> Markup {
    let file = &opened.file;
    let who = who(file);
    if alert.rule == SILENCE {
        return match opened.review.silence.days {
            Some(days) => {
                html! { (who) " has been silent for " (phrases::counted(usize::try_from(days).unwrap_or(0), "day", "days")) ". Longer than agreed; no news is never good news." }
            }
            None => {
                html! { (who) " has a page since " (file.course.stage_since.map_or_else(String::new, |date| phrases::day(date, file.on))) " and has not been heard from." }
            }
        };
    }
    html! { (who) ": " (plain(opened, alert)) "." }
}

/// An alert in words, without its full stop.
fn plain(opened: &Opened, alert: &Alert) -> String {
    let on = opened.file.on;
    if alert.rule == SCREENING {
        return screening(&opened.file).to_owned();
    }
    let told = opened.review.symptoms.iter().find(|one| {
        one.rule == alert.rule && one.date == alert.since && alert.key.contains(&one.entry)
    });
    match told {
        Some(one) => {
            let what = one.kind.word().replace('-', " ");
            let how = match one.class {
                SymptomClass::Red => "told with that day's session",
                _ => "more than is usual",
            };
            format!("{what} {}, {how}", on_day(one.date, on))
        }
        None => days_in_words(&alert.text, on),
    }
}

fn screening(file: &CaseFile) -> &'static str {
    match file.assessed.screening.decision {
        Decision::NotAtHome => "as it stands, not at home; the reasons stand under screening",
        Decision::NotToday | Decision::Exercise => {
            "the screening says not today; the reasons stand under it"
        }
    }
}

/// The sentences about a call or visit that was begun.
pub(super) fn unfinished(opened: &Opened) -> Markup {
    if !open_alerts(&opened.file.course, &opened.review).is_empty() {
        return alert(opened);
    }
    let begun = begun(&opened.file).unwrap_or_default();
    html! { p { (who(&opened.file)) ": " (begun) } }
}

/// What a begun call would come to, and that nothing of it counts yet.
fn begun(file: &CaseFile) -> Option<String> {
    let (date, sheet) = casefile::unfinished(&file.course)?;
    let when = on_day(*date, file.on);
    Some(format!(
        "a call or visit was begun {when} and is not finished; nothing told in it counts yet. What would follow: {}",
        sheet.follows
    ))
}

/// The sentences about somebody whose call or visit is due.
pub(super) fn due(opened: &Opened) -> Markup {
    let (file, review) = (&opened.file, &opened.review);
    let due = file.course.next_contact.filter(|date| *date < file.on);
    html! {
        p {
            (who(file)) " " (standing(opened))
            @if let Some(date) = due { " The call or visit was agreed for " (phrases::day(date, file.on)) "." }
            @if let Some(text) = examination(file) { " " (text) }
            @if review.proposal.action == Action::Advance && !review.proposal.watch_first.is_empty() {
                " Watch what is new before it is given."
            }
        }
    }
}

fn standing(opened: &Opened) -> String {
    let (file, proposal) = (&opened.file, &opened.review.proposal);
    let page = phrases::page_of(proposal.from_stage);
    let why = proposal
        .because
        .first()
        .map(|because| days_in_words(&because.text, file.on));
    let why = why.map_or_else(String::new, |why| format!(": {why}"));
    match proposal.action {
        Action::Advance => format!(
            "is ready for {}{why}.",
            phrases::page_of(proposal.from_stage + 1)
        ),
        Action::Hold => format!("stays on {page}{why}."),
        Action::StepBack => format!("should go one page back{why}."),
        Action::ReEnter => format!("comes back in gently{why}."),
        Action::AskFirst => format!("is to be asked first{why}."),
        Action::StopAndContact => format!("does not exercise until spoken to{why}."),
    }
}

/// When the examination runs out, if that is soon.
fn examination(file: &CaseFile) -> Option<String> {
    let until = file.assessed.screening.valid_until?;
    let days = days_between(file.on, until);
    match days {
        ..0 => Some(format!(
            "The examination ran out {}.",
            on_day(until, file.on)
        )),
        0..=3 => Some(format!(
            "The examination counts until {}.",
            phrases::day(until, file.on)
        )),
        _ => None,
    }
}

/// The sentences about somebody without a page.
pub(super) fn begin(opened: &Opened) -> Markup {
    let file = &opened.file;
    let assessed = &file.assessed;
    let blocking = assessed
        .to_find_out
        .iter()
        .filter(|one| one.weight == rehab::evidence::Weight::BlocksSigning)
        .count();
    let event = file
        .course
        .case
        .events
        .iter()
        .max_by_key(|event| event.date);
    html! {
        p {
            (who(file))
            @if let Some(event) = event {
                ", " (phrases::event(event.kind))
                @if let Some(date) = event.date { " " (on_day(date, file.on)) }
                "."
            } @else { "." }
            @match (file.course.case.status.kind, assessed.screening.decision) {
                (StatusKind::InHospital, _) => " In hospital; nothing goes on until home again.",
                (StatusKind::Paused, _) => " Paused.",
                (_, Decision::NotAtHome) => " Not at home as it stands: see why under screening.",
                (_, Decision::NotToday) => " Not today: see why under screening, and agree when to look again.",
                (_, Decision::Exercise) if file.course.signed.is_some() => " A page is signed and not yet given.",
                (_, Decision::Exercise) if blocking > 0 => {
                    " " (sentence(&phrases::counted(blocking, "answer is", "answers are"))) " missing before a page can be signed."
                }
                (_, Decision::Exercise) => " A first page can be signed.",
            }
            @if assessed.risk.class == RiskClass::High && assessed.eligibility.agreed.is_none() {
                " High risk: the doctor's agreement is not recorded."
            }
        }
    }
}

/// How the person is called: the way to the case.
fn who(file: &CaseFile) -> Markup {
    html! { a.name href=(address::case(file.id)) { b { (file.called()) } } }
}

/// Where the person's next step is done, and its words.
pub(super) fn step(needy: &Needy, kind: Step) -> (String, String) {
    let called = &needy.called;
    let sheet = || address::of_case(needy.id, "call");
    match kind {
        Step::Ring => {
            let number = needy.number.iter().map(|number| format!(", {number}"));
            (
                sheet(),
                format!("Ring {called}{}", number.collect::<String>()),
            )
        }
        Step::Sheet => (sheet(), "Open the call sheet".to_owned()),
        Step::Finish => (sheet(), "Finish the sheet".to_owned()),
        Step::Case => (address::case(needy.id), "Open the case".to_owned()),
    }
}

/// Which step is offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Step {
    Ring,
    Finish,
    Sheet,
    Case,
}

impl Step {
    /// The step of everybody in a group.
    pub(super) const fn of(group: Group) -> Self {
        match group {
            Group::Lead | Group::First => Self::Ring,
            Group::Unfinished => Self::Finish,
            Group::Ring | Group::Due => Self::Sheet,
            Group::Begin => Self::Case,
        }
    }
}

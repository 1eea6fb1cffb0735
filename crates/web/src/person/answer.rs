//! Alerts are answered here: each stays until a named person writes what was done. And notes.

use crate::address;
use crate::casefile::{CaseFile, open_alerts};
use crate::error::PageError;
use crate::facts::questions;
use crate::guard::Signed;
use crate::layout::{Nav, heard, page, row};
use crate::phrases::{days_in_words, on_day, sentence};
use axum::Form;
use axum::extract::Path;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use rehab::course::{Happening, Settled};
use rehab::review::{Alert, Review};
use serde::Deserialize;

/// A form that came back refused: the alert and why.
pub(super) struct Refused<'a> {
    pub(super) key: &'a str,
    pub(super) why: &'a str,
}

/// The open alerts, each with the form that answers it; nothing when there are none.
pub(super) fn to_answer(file: &CaseFile, review: &Review, refused: Option<&Refused<'_>>) -> Markup {
    let alerts = open_alerts(&file.course, review);
    let text = html! {
        @for (place, alert) in alerts.iter().enumerate() {
            div.alert {
                p.say { b { (sentence(&days_in_words(&alert.text, file.on))) "." } " Since " (on_day(alert.since, file.on).trim_start_matches("on ")) "; " (with_lead(alert, file)) "." }
                @if alert.ends_with_decision() {
                    p { "It ends with a decision on a page: as proposed after an examination on a later day, or with a reason and a second name." }
                    p.acts { a class=(if place == 0 { "do" } else { "act" }) href=(address::of_case(file.id, "call")) { "Open the call sheet" } }
                } @else {
                    (what_was_done(file, alert, place, refused))
                }
            }
        }
    };
    html! {
        @if !alerts.is_empty() {
            section.group { (row(&html! { b { "To answer" } }, &text, &heard(file, review))) }
        }
    }
}

/// When an alert is the lead's too.
fn with_lead(alert: &Alert, file: &CaseFile) -> String {
    let day = on_day(alert.to_lead_on, file.on);
    match alert.is_with_lead(file.on) {
        true if alert.to_lead_on == file.on => "with the lead too from today".to_owned(),
        true => format!("with the lead too since {}", day.trim_start_matches("on ")),
        false => format!("to the lead too {day} if nobody answers it"),
    }
}

/// The form in which an alert is answered.
fn what_was_done(
    file: &CaseFile,
    alert: &Alert,
    place: usize,
    refused: Option<&Refused<'_>>,
) -> Markup {
    let wrong = refused
        .filter(|one| one.key == alert.key)
        .map(|one| one.why);
    html! {
        form method="post" action=(address::of_case(file.id, "settle")) {
            input type="hidden" name="key" value=(alert.key);
            div.ask {
                label for={ "done-" (place) } { "What was done" }
                p.hint id={ "done-hint-" (place) } { "Who was spoken to, what was said, what follows" }
                @if let Some(wrong) = wrong { p.wrong id={ "done-error-" (place) } { (wrong) } }
                textarea.field id={ "done-" (place) } name="done" rows="2" aria-invalid=[wrong.map(|_| "true")]
                    aria-describedby={ "done-hint-" (place) @if wrong.is_some() { " done-error-" (place) } } {}
            }
            p.acts { a class=(if place == 0 { "do" } else { "act" }) href=(address::of_case(file.id, "call")) { "Open the call sheet" } button.act.plain type="submit" { "Write it down" } }
        }
    }
}

#[derive(Deserialize)]
pub(crate) struct Done {
    key: String,
    done: String,
}

pub(crate) async fn settle(
    signed: Signed,
    Path(id): Path<String>,
    Form(typed): Form<Done>,
) -> Result<Response, PageError> {
    let file = CaseFile::load(&signed, &id, "settle-alert").await?;
    let review = file.review();
    let known = open_alerts(&file.course, &review)
        .iter()
        .any(|alert| alert.key == typed.key && !alert.ends_with_decision());
    if !known {
        return Err(PageError::Refused(
            "This has been answered already, or no longer stands. Open the case to see what is written".to_owned(),
        ));
    }
    let mut settled = match Settled::new(&typed.key, &typed.done) {
        Ok(settled) => settled,
        Err(nothing) => {
            let refused = Refused {
                key: &typed.key,
                why: &sentence(&nothing.to_string()),
            };
            let body =
                html! { (super::head::head(&file)) (to_answer(&file, &review, Some(&refused))) };
            let page = page(&signed, &file.called(), Nav::People, &body);
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
        }
    };
    settled.done = format!("{} ({})", settled.done, signed.user.full_name);
    file.write(&signed, vec![Happening::Settled(settled)])
        .await?;
    Ok(Redirect::to(&address::case(file.id)).into_response())
}

#[derive(Deserialize)]
pub(crate) struct Note {
    note: String,
    /// The question of the file that it answers, as it stands on the page.
    #[serde(default)]
    of: String,
}

/// A note without effect on the course.
pub(crate) async fn note(
    signed: Signed,
    Path(id): Path<String>,
    Form(typed): Form<Note>,
) -> Result<Response, PageError> {
    let file = CaseFile::load(&signed, &id, "note").await?;
    let text = typed.note.trim();
    if text.is_empty() {
        return Err(PageError::Refused(
            "The note is empty, so nothing was kept. Go back and write it".to_owned(),
        ));
    }
    if typed.of.is_empty() {
        file.write(&signed, vec![Happening::Note(text.to_owned())])
            .await?;
        return Ok(Redirect::to(&address::of_case(file.id, "written")).into_response());
    }
    if !questions::open(&file.course.notes).contains(&typed.of.as_str()) {
        return Err(PageError::Refused(
            "This has been answered already. Open the case to see what is written".to_owned(),
        ));
    }
    let note = Happening::Note(questions::answered(&typed.of, text));
    file.write(&signed, vec![note]).await?;
    Ok(Redirect::to(&address::case(file.id)).into_response())
}

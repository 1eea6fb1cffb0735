//! Where the case stands: a change stops what must stop.

use crate::address;
use crate::casefile::{CaseFile, open_alerts};
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, case_page, row};
use crate::phrases::{self, sentence};
use axum::Form;
use axum::extract::Path;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use rehab::assessment::StatusKind;
use rehab::course::Happening;
use rehab::review::unanswered;
use serde::Deserialize;

pub(crate) async fn show(signed: Signed, Path(id): Path<String>) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "standing").await?;
    let now = file.course.case.status.kind;
    let text = html! {
        h1.title { "Where " (file.called()) " stands" }
        form method="post" action=(address::of_case(file.id, "standing")) {
            fieldset.choices {
                legend.lead { "Now: " (phrases::status(now)) "." }
                @for kind in StatusKind::ALL {
                    label.choice {
                        input type="radio" name="standing" value=(kind.word()) checked[*kind == now] required;
                        span { b { (sentence(phrases::status(*kind))) "." } " " (follows(*kind)) }
                    }
                }
            }
            div.ask {
                label for="why" { "Why, in a few words" }
                p.hint id="why-hint" { "May stay empty" }
                input.field id="why" name="why" type="text" autocomplete="off" aria-describedby="why-hint";
            }
            p.acts { button.do type="submit" { "Write it down" } a.act href=(address::case(file.id)) { "Leave it as it is" } }
        }
    };
    Ok(case_page(
        &signed,
        &file,
        "Standing",
        Nav::People,
        &row(&html! {}, &text, &html! {}),
    ))
}

/// What a standing stops or starts.
const fn follows(kind: StatusKind) -> &'static str {
    match kind {
        StatusKind::Referred => "Waits under New to us.",
        StatusKind::Declined => "Nothing is due any more; the case stays readable.",
        StatusKind::WaitingForClearance => "Waits for the doctor; nothing can be called silent.",
        StatusKind::Active => "Calls, silence and pages count.",
        StatusKind::Paused => "Silence does not speak until the person is back.",
        StatusKind::InHospital => {
            "The page at home stops; a new event or medicine voids the examination."
        }
        StatusKind::Discharged => "Nothing is due any more; the case stays readable.",
        StatusKind::Died => "Nothing is due, printed or sent any more.",
    }
}

/// Nobody leaves with an alert that nobody answered: it would be on no list any more.
fn still_open(file: &CaseFile, becomes: StatusKind) -> Result<(), PageError> {
    let review = file.review();
    let waiting = unanswered(becomes, &open_alerts(&file.course, &review));
    if waiting.is_empty() {
        return Ok(());
    }
    let what: Vec<String> = waiting
        .iter()
        .map(|alert| phrases::days_in_words(&alert.text, file.on))
        .collect();
    Err(PageError::Refused(format!(
        "Nothing was changed, because nobody has answered yet: {}. Write on the case page what was done, then change the standing",
        what.join("; ")
    )))
}

#[derive(Deserialize)]
pub(crate) struct Change {
    standing: String,
    #[serde(default)]
    why: String,
}

pub(crate) async fn change(
    signed: Signed,
    Path(id): Path<String>,
    Form(typed): Form<Change>,
) -> Result<Response, PageError> {
    let file = CaseFile::load(&signed, &id, "standing").await?;
    let kind = StatusKind::parse(&typed.standing).map_err(|_| {
        PageError::Refused(
            "No standing was chosen, so nothing was changed. Go back and choose one".to_owned(),
        )
    })?;
    still_open(&file, kind)?;
    let mut happened = Vec::new();
    if kind != file.course.case.status.kind {
        happened.push(Happening::Status(kind));
    }
    let why = typed.why.trim();
    if !why.is_empty() {
        happened.push(Happening::Note(format!(
            "{}: {why}",
            sentence(phrases::status(kind))
        )));
    }
    if !happened.is_empty() {
        file.write(&signed, happened).await?;
    }
    Ok(Redirect::to(&address::case(file.id)).into_response())
}

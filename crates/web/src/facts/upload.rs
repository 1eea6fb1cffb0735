//! A case from a file: what was understood and what was not is shown before anything is kept.

use super::{open, questions};
use crate::address;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, page, row};
use crate::phrases::{counted, sentence, without_options};
use crate::sent_file::file_of;
use crate::typed::Typed;
use axum::extract::Multipart;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use formats::fhir::{Imported, Listed, Why};
use formats::tree::Notation;
use jiff::civil::Date;
use maud::{Markup, html};
use rehab::assessment::Case;

/// The field for a file, for the margin of the form.
pub(super) fn way_in() -> Markup {
    html! {
        form method="post" action="/people/new/file" enctype="multipart/form-data" {
            div.ask {
                label for="file" { "Or begin from a file" }
                p.hint id="file-hint" { "A case file (TOML or JSON) or a FHIR R4 bundle. You see what was understood before anything is kept" }
                input.field id="file" name="file" type="file" accept=".toml,.json" aria-describedby="file-hint" required;
            }
            p.acts { button.act.plain type="submit" { "Look at the file" } }
        }
    }
}

/// What a file says.
struct Understood {
    case: Case,
    listed: Vec<Listed>,
}

pub(crate) async fn look(signed: Signed, form: Multipart) -> Result<Response, PageError> {
    let (name, bytes) = file_of(form).await?;
    let on = signed.app.clock().today();
    match understand(&name, &bytes, on) {
        Ok(understood) => Ok(shown(&signed, &understood).into_response()),
        Err(problems) => Ok((
            StatusCode::UNPROCESSABLE_ENTITY,
            not_taken(&signed, &problems),
        )
            .into_response()),
    }
}

fn understand(name: &str, bytes: &[u8], on: Date) -> Result<Understood, formats::Problems> {
    let is_bundle = std::str::from_utf8(bytes)
        .is_ok_and(|text| text.trim_start().starts_with('{') && text.contains("\"resourceType\""));
    if is_bundle {
        let Imported { case, listed, .. } = formats::fhir::import(name, bytes, Some(on))?;
        return Ok(Understood { case, listed });
    }
    let (case, _) = formats::case::read(name, bytes, Some(on))?;
    Ok(Understood {
        case,
        listed: Vec::new(),
    })
}

fn shown(signed: &Signed, understood: &Understood) -> Markup {
    let lines = crate::person::lines_of(&understood.case);
    let text = html! {
        h1.title { "What the file says" }
        p.lead { "Nothing is kept yet. " (sentence(&counted(lines.len(), "fact was", "facts were"))) " understood"
            @if understood.listed.is_empty() { "." } @else { "; " (counted(understood.listed.len(), "thing was", "things were")) " not taken, or only with a question." } }
        form method="post" action="/people/new/keep" {
            textarea.file name="case" readonly aria-label="The case as it will be kept" rows="1" hidden { (formats::case::write(&understood.case, Notation::Json)) }
            (to_ask(&understood.listed))
            input type="hidden" name="not-taken" value=(not_taken_in_words(&understood.listed));
            p.acts { button.do type="submit" { "Keep it" } a.act href="/people/new" { "Leave it" } }
        }
    };
    let left: Vec<&Listed> = understood
        .listed
        .iter()
        .filter(|one| one.why != Why::ToAsk)
        .collect();
    let body = html! {
        (row(&html! {}, &text, &html! {}))
        @if !left.is_empty() {
            (row(&html! { b { "Not taken" } }, &html! {
                ul.find { @for one in &left { li { b { (one.resource) ", entry " (one.entry) ": " } (one.message) "." } } }
            }, &html! { p { "Kept with the case as a note." } }))
        }
        (row(&html! { b { "Understood" } }, &html! { dl.changes { @for (key, value) in &lines { dt { (key.replace('_', " ")) } dd { (value) } } } }, &html! {}))
    };
    page(signed, "What the file says", Nav::People, &body)
}

/// The questions of a file, each with room for its answer. All are kept with the case; those without an answer stay open
/// on its page.
fn to_ask(listed: &[Listed]) -> Markup {
    let questions = listed.iter().filter(|one| one.why == Why::ToAsk);
    html! {
        @for (at, one) in questions.enumerate() {
            div.ask {
                label for={ "answer-" (at) } { (question(one)) "." }
                input type="hidden" name={ "asked-" (at) } value=(question(one));
                p.hint id={ "answer-hint-" (at) } { "The answer, if you have it; without one the question stays open on the page of the case" }
                input.field id={ "answer-" (at) } name={ "answer-" (at) } type="text" autocomplete="off" aria-describedby={ "answer-hint-" (at) };
            }
        }
    }
}

fn question(one: &Listed) -> String {
    let said = format!("{}, entry {}: {}", one.resource, one.entry, one.message);
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Most lines of what was not taken that are kept in words; the file itself has the rest.
const MOST_LINES: usize = 60;

fn not_taken_in_words(listed: &[Listed]) -> String {
    let left = listed.iter().filter(|one| one.why != Why::ToAsk);
    let mut lines: Vec<String> = left.map(question).collect();
    let more = lines.len().saturating_sub(MOST_LINES);
    lines.truncate(MOST_LINES);
    if more > 0 {
        lines.push(format!("and {more} more, which only the file holds"));
    }
    lines.join("\n")
}

/// The notes that keep with the case what its file left open or out.
fn notes_of(typed: &Typed) -> Vec<String> {
    let mut notes = Vec::new();
    for at in 0.. {
        let question = typed.get(&format!("asked-{at}"));
        if question.is_empty() {
            break;
        }
        notes.push(questions::asked(question));
        let answer = typed.get(&format!("answer-{at}"));
        if !answer.is_empty() {
            notes.push(questions::answered(question, answer));
        }
    }
    let left = typed.get("not-taken");
    if !left.is_empty() {
        notes.push(format!(
            "Not taken from the file:\n{}",
            left.replace('\r', "")
        ));
    }
    notes
}

fn not_taken(signed: &Signed, problems: &formats::Problems) -> Markup {
    let text = html! {
        h1.title { "The file was not taken" }
        p.lead { "Nothing was kept. Put these right in the file, or begin with the form." }
        ul.find {
            @for problem in problems.0.iter().take(60) {
                li {
                    @if let Some(line) = problem.line { b { "Line " (line) } " " }
                    @if !problem.key_path.is_empty() { b { (problem.key_path) ": " } }
                    (without_options(&problem.message)) "."
                }
            }
        }
        p.acts { a.do href="/people/new" { "Back to the form" } }
    };
    page(
        signed,
        "The file was not taken",
        Nav::People,
        &row(&html! {}, &text, &html! {}),
    )
}

/// Keeps what was shown, with what was asked and answered: it is read and held against every rule once more.
pub(crate) async fn keep(signed: Signed, typed: Typed) -> Result<Response, PageError> {
    let on = signed.app.clock().today();
    match formats::case::read("case.json", typed.get("case").as_bytes(), Some(on)) {
        Ok((case, _)) => match open(&signed, case, &notes_of(&typed)).await {
            Ok(id) => Ok(Redirect::to(&address::case(id)).into_response()),
            Err(PageError::Record(records::Error::ReferenceTaken { case })) => {
                Err(PageError::Refused(format!(
                    "This person is in the record already, so nothing was kept. Open the case and write what is new under Facts: {}",
                    address::case(case)
                )))
            }
            Err(other) => Err(other),
        },
        Err(problems) => Ok((
            StatusCode::UNPROCESSABLE_ENTITY,
            not_taken(&signed, &problems),
        )
            .into_response()),
    }
}

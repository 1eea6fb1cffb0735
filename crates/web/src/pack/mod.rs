//! The home pack of a page: looked at as a draft, given only when it may be done alone.

use crate::address;
use crate::alone::{self, Waits};
use crate::casefile::CaseFile;
use crate::drafted::seconded;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, case_page as shell, row};
use crate::phrases::{page_of, sentence};
use axum::extract::{Path, Query};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE,
};
use axum::response::{IntoResponse, Response};
use handouts::page::session_page;
use handouts::print::{Ink, Paper, printed_pages};
use handouts::running_order::{Approval, Ask, DayBounds, RunningOrder, page_letter, running_order};
use maud::{Markup, html};
use rehab::programme::Stage;
use rehab::wording::Words;
use serde::Deserialize;

/// What the session page may do while it is looked at here: its own style and script, named by digest in the page
/// itself, and nothing of this server's.
const PREVIEW_POLICY: &str = "sandbox allow-scripts allow-modals; default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// Which page, and how it is printed.
#[derive(Deserialize)]
pub(crate) struct Which {
    stage: Option<u16>,
    paper: Option<String>,
    ink: Option<String>,
}

/// What there is to give, and what it waits for.
pub(crate) async fn show(
    signed: Signed,
    Path(id): Path<String>,
    Query(which): Query<Which>,
) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "pack").await?;
    let title = format!("For {} at home", file.called());
    let Some(stage) = alone::chosen(&file, which.stage) else {
        let text = html! {
            h1.title { (title) }
            p.lead { "No page is signed yet, so there is nothing to give." }
            p.acts { a.do href=(address::of_case(file.id, "sign")) { "See what can be signed" } }
        };
        let body = row(&html! {}, &text, &html! {});
        return Ok(shell(&signed, &file, &title, Nav::People, &body));
    };
    let waits = all_waits(&signed, &file, stage);
    let body = view(signed.app.words(), &file, stage, &waits, &title);
    Ok(shell(&signed, &file, &title, Nav::People, &body))
}

/// What is missing before it is given, what the service itself has not written included.
fn all_waits(signed: &Signed, file: &CaseFile, stage: &Stage) -> Vec<Waits> {
    let mut waits = alone::waits(file, stage, signed.app.words());
    if let Err(refused) = order(signed, file, stage, &Approval::Draft) {
        waits.push(Waits {
            what: sentence(&refused),
            at: "",
        });
    }
    waits
}

fn view(words: &Words, file: &CaseFile, stage: &Stage, waits: &[Waits], title: &str) -> Markup {
    let page = page_of(stage.number);
    let query = format!("?stage={}", stage.number);
    let of = |what: &str| format!("{}{query}", address::of_case(file.id, what));
    let may = waits.is_empty();
    let text = html! {
        h1.title { (title) }
        p.lead {
            @if may { (sentence(&page)) " may be done alone. The same session on paper and for a telephone or tablet." }
            @else { (sentence(&page)) " is not to be given yet." }
        }
        @if !may {
            ul.waits {
                @for one in waits { li { (one.what) "." } }
            }
            p.acts { @for (at, step) in steps(waits).into_iter().enumerate() { (way(file, step, at == 0)) } }
        }
        p.acts {
            @if may {
                a.do href=(of("pack/print")) { "Print " (page) }
                a.act href=(of("pack/page")) download=(format!("session-page-{}.html", page_letter(stage.number))) { "Save the session page" }
            } @else {
                span.do.wait aria-disabled="true" { "Print " (page) }
                @if !waits.iter().any(|one| one.at.is_empty()) {
                    a.act href=(format!("{}&paper=a4", of("pack/draft-print"))) { "Look at the draft on paper" }
                    a.act href=(of("pack/draft")) { "Look at the draft of the session page" }
                }
            }
        }
        @if may {
            p.acts.small {
                a href=(format!("{}&ink=grey", of("pack/print"))) { "in one ink" }
                a href=(format!("{}&paper=letter", of("pack/print"))) { "on letter paper" }
            }
        }
    };
    let signed = file.course.signature_of(stage.number);
    let margin = html! {
        @if let Some(plan) = signed {
            p { "Signed by " (plan.by.name) ", " (plan.by.role) "." }
            (seconded(plan))
            @if plan.stages.len() > 1 {
                p.links { "Also signed: " @for one in &plan.stages { @if one.number != stage.number { a href=(format!("?stage={}", one.number)) { (sentence(&page_of(one.number))) } } } }
            }
        }
        @if !may { p { "A draft says on every page and screen that it is not for a patient." } }
    };
    html! { (row(&html! {}, &text, &margin)) (crate::signing::one(words, file, stage)) }
}

/// Where to go, each place once, in the order of what is missing.
fn steps(waits: &[Waits]) -> Vec<&'static str> {
    let mut steps = Vec::new();
    for one in waits {
        if !steps.contains(&one.at) {
            steps.push(one.at);
        }
    }
    steps
}

fn way(file: &CaseFile, at: &'static str, first: bool) -> Markup {
    let (address, words) = match at {
        "" => ("/service".to_owned(), "Write it under Service"),
        at => (address::of_case(file.id, at), go(at)),
    };
    html! { a class=(if first { "do" } else { "act" }) href=(address) { (words) } }
}

fn go(at: &str) -> &'static str {
    match at {
        "sign" => "See what can be signed",
        "watched" => "Watch a session",
        "standing" => "Change the standing",
        _ => "Write down what is missing",
    }
}

/// The session page to be given: refused unless it may be done alone.
pub(crate) async fn page(
    signed: Signed,
    Path(id): Path<String>,
    Query(which): Query<Which>,
) -> Result<Response, PageError> {
    let (file, number) = open(&signed, &id, &which).await?;
    let (stage, order) = given(&signed, &file, number)?;
    let name = format!(
        "attachment; filename=\"session-page-{}.html\"",
        page_letter(stage.number)
    );
    let kind = [
        (CONTENT_TYPE, "text/html; charset=utf-8".to_owned()),
        (CONTENT_DISPOSITION, name),
        (CACHE_CONTROL, "no-store".to_owned()),
        (CONTENT_SECURITY_POLICY, PREVIEW_POLICY.to_owned()),
    ];
    Ok((kind, session_page(&order)).into_response())
}

/// The printed page to be given: refused unless it may be done alone.
pub(crate) async fn print(
    signed: Signed,
    Path(id): Path<String>,
    Query(which): Query<Which>,
) -> Result<Response, PageError> {
    let (file, number) = open(&signed, &id, &which).await?;
    let (_, order) = given(&signed, &file, number)?;
    Ok(shown(printed(&order, &which)))
}

/// The session page as a draft.
pub(crate) async fn draft(
    signed: Signed,
    Path(id): Path<String>,
    Query(which): Query<Which>,
) -> Result<Response, PageError> {
    let order = drafted(&signed, &id, &which).await?;
    Ok(shown(session_page(&order)))
}

/// The printed page as a draft.
pub(crate) async fn draft_print(
    signed: Signed,
    Path(id): Path<String>,
    Query(which): Query<Which>,
) -> Result<Response, PageError> {
    let order = drafted(&signed, &id, &which).await?;
    Ok(shown(printed(&order, &which)))
}

async fn open(
    signed: &Signed,
    id: &str,
    which: &Which,
) -> Result<(CaseFile, Option<u16>), PageError> {
    let file = CaseFile::load(signed, id, "pack").await?;
    Ok((file, which.stage))
}

async fn drafted(signed: &Signed, id: &str, which: &Which) -> Result<RunningOrder, PageError> {
    let file = CaseFile::load(signed, id, "pack").await?;
    let stage = alone::chosen(&file, which.stage).ok_or_else(no_page)?;
    order(signed, &file, stage, &Approval::Draft).map_err(PageError::Refused)
}

fn given<'a>(
    signed: &Signed,
    file: &'a CaseFile,
    number: Option<u16>,
) -> Result<(&'a Stage, RunningOrder), PageError> {
    let stage = alone::chosen(file, number).ok_or_else(no_page)?;
    let waits = all_waits(signed, file, stage);
    if !waits.is_empty() {
        let what: Vec<String> = waits.into_iter().map(|one| one.what).collect();
        return Err(PageError::Refused(format!(
            "This page is not given yet. {}. Do these first, or look at the draft",
            what.join(". ")
        )));
    }
    let plan = file.course.signature_of(stage.number).ok_or_else(no_page)?;
    let order = order(signed, file, stage, &Approval::of(plan)).map_err(PageError::Refused)?;
    Ok((stage, order))
}

fn no_page() -> PageError {
    PageError::Refused("No page is signed, so none can be given; sign one first".to_owned())
}

fn order(
    signed: &Signed,
    file: &CaseFile,
    stage: &Stage,
    approval: &Approval,
) -> Result<RunningOrder, String> {
    let plan = file.course.signature_of(stage.number);
    let valid_until = plan.and_then(|plan| plan.valid_until);
    let today = &file.assessed.limits;
    let limits = plan.map_or_else(|| today.clone(), |plan| plan.limits(today));
    let ask = Ask {
        case: &file.course.case,
        service: &file.service,
        limits: &limits,
        bounds: DayBounds::of(&file.service),
        stage,
        exercises: signed.app.exercises(),
        words: signed.app.words(),
        letter: page_letter(stage.number),
        on: file.on,
        valid_until,
        approval,
    };
    running_order(&ask).map_err(|refused| refused.to_string())
}

fn printed(order: &RunningOrder, which: &Which) -> String {
    let paper = match which.paper.as_deref() {
        Some("letter") => Paper::Letter,
        _ => Paper::A4,
    };
    let ink = match which.ink.as_deref() {
        Some("grey") => Ink::Grey,
        _ => Ink::Colour,
    };
    printed_pages(order, paper, ink)
}

fn shown(text: String) -> Response {
    let kind = [
        (CONTENT_TYPE, "text/html; charset=utf-8"),
        (CACHE_CONTROL, "no-store"),
        (CONTENT_SECURITY_POLICY, PREVIEW_POLICY),
    ];
    (kind, text).into_response()
}

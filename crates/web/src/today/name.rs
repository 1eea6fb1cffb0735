//! For your name: what can be signed now, and what waits for an answer first.

use super::gather::{AT_ONCE, Gathered, Needy, gather};
use super::{Wanted, say};
use crate::address;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, heard, hills, page, row};
use crate::phrases::{counted, sentence};
use axum::extract::Query;
use maud::{Markup, html};
use rehab::assessed::Decision;
use rehab::assessment::StatusKind;
use rehab::review::Action;

pub(crate) async fn show(
    signed: Signed,
    Query(wanted): Query<Wanted>,
) -> Result<Markup, PageError> {
    let gathered = gather(&signed, wanted.shown.unwrap_or(AT_ONCE)).await?;
    let (rest, next) = (gathered.more.count, gathered.next());
    let (ready, waiting): (Vec<Needy>, Vec<Needy>) = gathered
        .into_opened()
        .filter(wants_a_page)
        .partition(|one| !waits(one));
    let lead = match ready.len() {
        0 if rest > 0 => "Of those looked at nobody waits for your name today.".to_owned(),
        0 => "Nothing waits for your name today.".to_owned(),
        some => format!(
            "{} your name.",
            sentence(&counted(some, "page waits for", "pages wait for"))
        ),
    };
    let body = html! {
        (row(&html! {}, &html! { h1.title { "For your name" } p.lead { (lead) } }, &html! {}))
        @if !ready.is_empty() { section.group { @for (place, one) in ready.iter().enumerate() { (entry(one, place == 0, true)) } } }
        @if !waiting.is_empty() {
            section.group {
                (row(&html! {}, &html! { h2.part { "Waiting for an answer first" } }, &html! {}))
                @for one in &waiting { (entry(one, false, false)) }
            }
        }
        @if rest > 0 { (others(rest, next)) }
    };
    Ok(page(&signed, "For your name", Nav::ForYourName, &body))
}

/// How many pages can be signed now, of the people who were opened.
pub(super) fn count_ready(gathered: &Gathered) -> usize {
    let all = gathered.groups().into_iter().flatten();
    all.filter(|one| wants_a_page(one) && !waits(one)).count()
}

fn others(rest: usize, next: usize) -> Markup {
    let text = html! {
        p.quiet { (sentence(&counted(rest, "more person needs", "more people need"))) " a step and were not looked at here." }
        p.acts { a.act href=(format!("/for-your-name?shown={next}")) { "Look at more" } }
    };
    html! { section.group { (row(&html! {}, &text, &html! {})) } }
}

/// Whether a first or a next page is the step of this person.
fn wants_a_page(one: &Needy) -> bool {
    let course = &one.file.course;
    let active = course.case.status.kind == StatusKind::Active;
    active && (course.signed.is_none() || one.review.proposal.action == Action::Advance)
}

fn waits(one: &Needy) -> bool {
    let assessed = &one.file.assessed;
    assessed.signing_blocked || assessed.screening.decision != Decision::Exercise
}

fn entry(one: &Needy, block: bool, ready: bool) -> Markup {
    let file = &one.file;
    let said = if file.course.signed.is_none() {
        say::begin(one)
    } else {
        say::due(one)
    };
    let class = if block { "do" } else { "act" };
    let text = html! {
        div.say { (said) }
        @if ready { p.acts { a class=(class) href=(address::of_case(file.id, "sign")) { "Look at the page and sign" } } }
    };
    let margin = html! { @if file.course.signed.is_some() { (heard(file, &one.review)) } };
    html! { article.en { (row(&hills(file), &text, &margin)) } }
}

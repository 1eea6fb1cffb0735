//! For your name: what can be signed now, and what waits for an answer first.

use super::Wanted;
use super::gather::{AT_ONCE, Gathered, gather};
use super::needy::{ForAName, Group, Needy};
use crate::address;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, page, row};
use crate::phrases::{counted, sentence};
use axum::extract::Query;
use maud::{Markup, html};

pub(crate) async fn show(
    signed: Signed,
    Query(wanted): Query<Wanted>,
) -> Result<Markup, PageError> {
    let gathered = gather(&signed, wanted.shown.unwrap_or(AT_ONCE)).await?;
    let (rest, next) = (gathered.more.count, gathered.next());
    // Those who can wait stand first: whoever has an alert is rung before a page is signed.
    let all = Group::ALL
        .into_iter()
        .rev()
        .flat_map(|group| gathered.of(group));
    let (ready, waiting): (Vec<_>, Vec<_>) = all
        .filter_map(|one| Some((one, one.for_a_name.as_ref()?)))
        .partition(|(_, page)| page.is_ready);
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
        @if !ready.is_empty() { section.group { @for (place, (one, page)) in ready.iter().enumerate() { (entry(one, page, place == 0)) } } }
        @if !waiting.is_empty() {
            section.group {
                (row(&html! {}, &html! { h2.part { "Waiting for an answer first" } }, &html! {}))
                @for (one, page) in &waiting { (entry(one, page, false)) }
            }
        }
        @if rest > 0 { (others(rest, next)) }
    };
    Ok(page(&signed, "For your name", Nav::ForYourName, &body))
}

/// How many pages can be signed now, of the people who were opened.
pub(super) fn count_ready(gathered: &Gathered) -> usize {
    let all = gathered.needy.iter();
    all.filter(|(_, one)| one.is_ready()).count()
}

fn others(rest: usize, next: usize) -> Markup {
    let text = html! {
        p.quiet { (sentence(&counted(rest, "more person needs", "more people need"))) " a step and were not looked at here." }
        p.acts { a.act href=(format!("/for-your-name?shown={next}")) { "Look at more" } }
    };
    html! { section.group { (row(&html! {}, &text, &html! {})) } }
}

fn entry(one: &Needy, page: &ForAName, block: bool) -> Markup {
    let class = if block { "do" } else { "act" };
    let text = html! {
        div.say { (page.said) }
        @if page.is_ready { p.acts { a class=(class) href=(address::of_case(one.id, "sign")) { "Look at the page and sign" } } }
    };
    let margin = html! { @if let Some(heard) = &one.heard { (heard) } };
    html! { article.en { (row(&one.hills, &text, &margin)) } }
}

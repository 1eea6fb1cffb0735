//! People: everybody in the record, found by name or by where they stand.

use crate::address;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Field, Nav, field, page, row};
use crate::phrases::{self, counted, sentence};
use axum::extract::Query;
use jiff::civil::Date;
use maud::{Markup, html};
use records::{CaseFilter, CaseId, CaseListing, Word};
use rehab::assessment::StatusKind;
use serde::Deserialize;

/// Most people on one page.
const MOST: usize = 200;
/// People on a page of a record that holds more than that: in the order of writing in, so that not every name has to be
/// opened for a look at the list.
const AT_ONCE: usize = 50;

#[derive(Deserialize)]
pub(crate) struct Wanted {
    #[serde(default)]
    name: String,
    #[serde(default)]
    status: String,
    /// The last of the page before.
    #[serde(default)]
    after: String,
}

pub(crate) async fn show(
    signed: Signed,
    Query(wanted): Query<Wanted>,
) -> Result<Markup, PageError> {
    let on = signed.app.clock().today();
    let status = StatusKind::parse(&wanted.status).ok();
    let sought = wanted.name.trim().to_lowercase();
    let mut filter = CaseFilter {
        // Only a search has to look at every name.
        limit: sought.is_empty().then_some(MOST as u32 + 1),
        after: CaseId::parse(&wanted.after).ok(),
        statuses: status
            .map(|kind| Word::new(kind.word()).expect("status words are words of ours"))
            .into_iter()
            .collect(),
        ..CaseFilter::default()
    };
    let mut found = signed.store.list_cases(signed.user.id, &filter).await?;
    let many = sought.is_empty() && (found.len() > MOST || filter.after.is_some());
    let more = many && found.len() > AT_ONCE;
    if many {
        found.truncate(AT_ONCE);
    }
    filter.after = found.last().filter(|_| more).map(|one| one.case);
    found.retain(|one| sought.is_empty() || is_named(one, &sought));
    found.sort_by_cached_key(name_order);
    let body = html! {
        (row(&html! {}, &head(&wanted, found.len(), many), &html! { p { a.act href="/people/new" { "Write somebody in" } } }))
        @for kind in StatusKind::ALL {
            (standing(*kind, &found, on))
        }
        @if let Some(last) = filter.after { (next(&wanted, last)) }
        @if found.len() > MOST { (row(&html! {}, &html! { p { "Only the first " (MOST) " are shown. Type a part of the name." } }, &html! {})) }
    };
    Ok(page(&signed, "People", Nav::People, &body))
}

/// The way to the next page of a long list.
fn next(wanted: &Wanted, last: CaseId) -> Markup {
    let status = &wanted.status;
    let known = StatusKind::parse(status).is_ok();
    let to = match known {
        true => format!("/people?status={status}&after={last}"),
        false => format!("/people?after={last}"),
    };
    row(
        &html! {},
        &html! { p.acts { a.act href=(to) { "The next " (phrases::count(AT_ONCE)) } } },
        &html! {},
    )
}

fn head(wanted: &Wanted, found: usize, many: bool) -> Markup {
    html! {
        h1.title { "People" }
        p.lead {
            @match (found, wanted.name.trim().is_empty()) {
                (0, true) => "Nobody here yet.",
                (found, true) if many => { (sentence(&counted(found, "person", "people"))) " of many, in the order in which they were written in. Type a part of a name to find somebody." },
                (0, false) => "Nobody of that name. Try a part of it, or look at everybody.",
                (found, _) => { (sentence(&counted(found, "person", "people"))) "." },
            }
        }
        form.find-by method="get" action="/people" {
            (field(&Field { value: &wanted.name, ..Field::text("name", "Name, or a part of it") }))
            div.ask {
                label for="status" { "Standing" }
                select.field id="status" name="status" {
                    option value="" { "any" }
                    @for kind in StatusKind::ALL {
                        option value=(kind.word()) selected[kind.word() == wanted.status] { (phrases::status(*kind)) }
                    }
                }
            }
            button.act.plain type="submit" { "Look" }
        }
    }
}

fn is_named(one: &CaseListing, sought: &str) -> bool {
    one.personal.as_ref().is_some_and(|personal| {
        personal.name.to_lowercase().contains(sought)
            || personal.called.to_lowercase().contains(sought)
    })
}

/// By the last word of the name, as a card index is sorted.
fn name_order(one: &CaseListing) -> (String, String) {
    let name = one
        .personal
        .as_ref()
        .map_or_else(String::new, |personal| personal.name.to_lowercase());
    let last = name.rsplit(' ').next().unwrap_or_default().to_owned();
    (last, name)
}

fn standing(kind: StatusKind, found: &[CaseListing], on: Date) -> Markup {
    let of_kind: Vec<&CaseListing> = found
        .iter()
        .take(MOST)
        .filter(|one| one.summary.status.as_str() == kind.word())
        .collect();
    html! {
        @if !of_kind.is_empty() {
            section.group {
                (row(&html! {}, &html! { h2.part { (sentence(phrases::status(kind))) } }, &html! {}))
                @for one in of_kind { (line(one, on)) }
            }
        }
    }
}

fn line(one: &CaseListing, on: Date) -> Markup {
    let summary = &one.summary;
    let margin = html! {
        @if let Some(heard) = summary.heard_on { "Last heard from " (phrases::on_day(heard, on)) "." }
        @if let Some(due) = summary.due_on {
            @if due < on { " Due since " (phrases::day(due, on)) "." } @else { " Due " (phrases::on_day(due, on)) "." }
        }
    };
    let text = match &one.personal {
        Some(personal) => html! {
            p {
                a.name href=(address::case(one.case)) { b { (personal.called) } }
                " " (personal.name)
                @if let Some(year) = personal.birth_year { ", born " (year) }
                @if !personal.one_line.is_empty() { ". " (sentence(&personal.one_line)) }
                "."
                @if one.fault.is_some() { " " b { "Something in this case was changed outside the program; ask the lead to check the record." } }
            }
        },
        None => html! { p { "A case that cannot be read; ask the lead to check the record." } },
    };
    html! { div.person { (row(&html! {}, &text, &margin)) } }
}

//! Who opened a case, and what of it: for the lead and administrators.

use crate::address;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, page, row};
use crate::phrases::{counted, full_day, sentence};
use axum::extract::Path;
use maud::{Markup, html};
use records::{AccessFilter, CaseId};

/// Rows on the page; the whole log stays in the record.
const MOST: u32 = 200;

/// No name of a patient stands here: an administrator who reads no case may look at its log.
pub(crate) async fn show(signed: Signed, Path(id): Path<String>) -> Result<Markup, PageError> {
    let case = CaseId::parse(&id).map_err(|_| {
        PageError::NotFound("There is no such person in the record. Look under People".to_owned())
    })?;
    let filter = AccessFilter {
        case: Some(case),
        limit: Some(MOST),
        ..AccessFilter::default()
    };
    let rows = signed.store.access_log(signed.user.id, &filter).await?;
    let users = signed.store.users().await?;
    let name = |by: Option<records::UserId>| {
        let known = users.iter().find(|user| Some(user.id) == by);
        known.map_or("The recovery sheet", |user| user.full_name.as_str())
    };
    let head = html! {
        h1.title { "Who opened this case" }
        p.lead { (sentence(&counted(rows.len(), "reading", "readings"))) @if rows.len() == MOST as usize { ", the newest; older ones stay in the record" } "." }
        p.acts { a.act href=(address::case(case)) { "To the case" } }
    };
    let zone = jiff::tz::TimeZone::system();
    let days: Vec<_> = rows
        .iter()
        .map(|one| (zone.to_datetime(one.at), one))
        .collect();
    let body = html! {
        (row(&html! {}, &head, &html! {}))
        @for day in days.chunk_by(|(a, _), (b, _)| a.date() == b.date()) {
            section.group {
                (row(&html! {}, &html! { h2.part { (full_day(day[0].0.date())) } }, &html! {}))
                @for same in day.chunk_by(|(_, a), (_, b)| a.by == b.by && a.what == b.what) {
                    @let (at, one) = &same[same.len() - 1];
                    div.person { (row(
                        &html! { (at.strftime("%H:%M").to_string()) },
                        &html! { p {
                            (name(one.by)) ": " (one.what.as_str().replace('-', " "))
                            @if same.len() > 1 { ", " (counted(same.len(), "time", "times")) " until " (same[0].0.strftime("%H:%M").to_string()) }
                            "."
                        } },
                        &html! {},
                    )) }
                }
            }
        }
    };
    Ok(page(&signed, "Who opened this case", Nav::People, &body))
}

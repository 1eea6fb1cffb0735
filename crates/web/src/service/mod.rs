//! The service: every setting with where it comes from, adopted by its lead under a name.

mod rules;
mod settings;

pub(crate) use rules::show as show_rules;

use crate::error::PageError;
use crate::facts::given::Given;
use crate::facts::known::known;
use crate::facts::path;
use crate::facts::read::{Wrong, read_as};
use crate::facts::show::{Ways, show as form};
use crate::guard::Signed;
use crate::layout::{Nav, page, row};
use crate::phrases::{full_day, sentence};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use formats::tree::{Content, Notation, Table};
use maud::{Markup, html};
use records::{CaseId, Draft, EntryId, Word};
use rehab::service::{Adopted, Service};
use settings::settings;

/// Kind of the entries in the journal of the service.
const KIND: &str = "service";

pub(crate) async fn show(signed: Signed) -> Result<Markup, PageError> {
    let service = signed.app.service(&signed.store, &signed.user).await?;
    let table = formats::service::to_table(&service);
    let given = known(&settings(&table), &table);
    drawn(&signed, &service, &given, &Wrong::default()).await
}

async fn drawn(
    signed: &Signed,
    service: &Service,
    given: &Given,
    wrong: &Wrong,
) -> Result<Markup, PageError> {
    let settings = settings(&formats::service::to_table(service));
    let position = signed.store.service_entries(signed.user.id).await?.len();
    let may_write = signed.user.roles.lead || signed.user.roles.administrator;
    let ways = Ways {
        to: "/service",
        button: "Write the settings down",
        back: "/",
        is_next: may_write && service.adopted.is_some(),
    };
    let margin = html! { p.ways { a href="/service/rules" { "Every rule and cut-off, with its source" } br; a href="/team" { "The team, and your passphrase" } } };
    let body = html! {
        (row(&html! {}, &html! { h1.title { (sentence(&service.name)) } p.lead { (settings.lead) } (adoption(signed, service, position)) }, &margin))
        @if may_write { (form(&settings, given, wrong, &ways)) }
        @else { (row(&html! {}, &html! { p { "Only the lead or an administrator changes settings. They are printed with every programme." } }, &html! {})) }
    };
    Ok(page(signed, "Service", Nav::Service, &body))
}

/// Who adopted the settings, or the form by which a lead does.
fn adoption(signed: &Signed, service: &Service, position: usize) -> Markup {
    let missing: Vec<&str> = [
        (
            service.emergency.is_none(),
            "the emergency number and words",
        ),
        (service.contact.is_none(), "how the team is reached"),
    ]
    .into_iter()
    .filter_map(|(is_missing, what)| is_missing.then_some(what))
    .collect();
    html! {
        @match &service.adopted {
            Some(adopted) => p.stands { "Adopted by " (adopted.by) " on " (full_day(adopted.date)) "." },
            None => {
                p.stands { "Not adopted yet: only invented people can be signed for. The lead looks at every setting and signs." }
                @if !missing.is_empty() { p { "Missing: " (missing.join(", ")) ". Nothing is handed out without." } }
                @if signed.user.roles.lead {
                    form method="post" action="/service/adopt" {
                        input type="hidden" name="position" value=(position);
                        p.acts { button.do type="submit" { "Adopt these settings as " (signed.user.full_name.split(',').next().unwrap_or_default()) } }
                    }
                } @else { p { "The lead looks at every setting and signs here." } }
            }
        }
    }
}

pub(crate) async fn write(signed: Signed, given: Given) -> Result<Response, PageError> {
    let before = signed.app.service(&signed.store, &signed.user).await?;
    let base = formats::service::to_table(&before);
    let on = signed.app.clock().today();
    let read = read_as(
        &settings(&base),
        &given,
        &base,
        on,
        without_empty_tables,
        formats::service::from_file,
    );
    match read {
        Ok(mut after) => {
            if after != *before {
                after.adopted = None;
                keep(&signed, &after, None).await?;
            }
            Ok(Redirect::to("/service").into_response())
        }
        Err(wrong) => {
            let page = drawn(&signed, &before, &given, &wrong).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
    }
}

/// A group of which everything was emptied is not set.
fn without_empty_tables(table: &mut Table) {
    let empty: Vec<String> = table
        .entries
        .iter()
        .filter(|entry| matches!(&entry.node.content, Content::Table(inner) if inner.entries.is_empty()))
        .map(|entry| entry.key.clone())
        .collect();
    for key in empty {
        path::set(table, &key, None);
    }
}

/// Signs the settings as they stand; settings that were changed since the page was opened are not signed.
pub(crate) async fn adopt(signed: Signed, given: Given) -> Result<Response, PageError> {
    if !signed.user.roles.lead {
        return Err(PageError::Refused(
            "Only the lead adopts the settings. Ask the lead to sign in and look at them"
                .to_owned(),
        ));
    }
    let seen: u64 = given.one("position").parse().map_err(|_| {
        PageError::Refused(
            "The page was not whole, so nothing was adopted. Load it again".to_owned(),
        )
    })?;
    let mut service = (*signed.app.service(&signed.store, &signed.user).await?).clone();
    service.adopted = Some(Adopted {
        by: signed.user.full_name.clone(),
        date: signed.app.clock().today(),
    });
    keep(&signed, &service, Some(seen + 1)).await?;
    Ok(Redirect::to("/service").into_response())
}

async fn keep(signed: &Signed, service: &Service, expected: Option<u64>) -> Result<(), PageError> {
    let clock = signed.app.clock();
    let body = formats::service::write(service, Notation::Json).into_bytes();
    let kind = Word::new(KIND).expect("the kind is a word of ours");
    let mut draft = Draft::new(EntryId::generate(clock.now())?, kind, clock.local(), body);
    draft.expected_position = expected;
    signed
        .store
        .append(CaseId::SERVICE, signed.user.id, draft, clock.now())
        .await?;
    signed.app.forget_service();
    Ok(())
}

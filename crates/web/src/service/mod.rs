//! The service: every setting with where it comes from, adopted by its lead under a name.

mod rules;
mod settings;

pub(crate) use rules::show as show_rules;

use crate::casefile::CaseFile;
use crate::error::PageError;
use crate::facts::given::{Given, Once};
use crate::facts::known::known;
use crate::facts::path;
use crate::facts::read::{Wrong, read_as};
use crate::facts::show::{Opened, Ways, show as form};
use crate::guard::Signed;
use crate::layout::{Nav, page, row};
use crate::phrases::{full_day, sentence};
use crate::typed::came_twice;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use formats::tree::{Content, Notation, Table};
use maud::{Markup, html};
use records::{CaseFilter, CaseId, Draft, EntryId, Word};
use rehab::assessment::StatusKind;
use rehab::service::{Adopted, Service};
use settings::settings;

/// Kind of the entries in the journal of the service.
const KIND: &str = "service";

pub(crate) async fn show(signed: Signed) -> Result<Markup, PageError> {
    let service = signed.app.service(&signed.store, &signed.user).await?;
    let table = formats::service::to_table(&service);
    let given = known(&settings(&table), &table);
    let opened = Opened::at(position(&signed).await?);
    drawn(&signed, &service, &given, &Wrong::default(), opened).await
}

/// Where the next entry of the service stands if nobody writes meanwhile.
async fn position(signed: &Signed) -> Result<u64, PageError> {
    let entries = signed.store.service_entries(signed.user.id).await?;
    Ok(entries.last().map_or(1, |entry| entry.position + 1))
}

async fn drawn(
    signed: &Signed,
    service: &Service,
    given: &Given,
    wrong: &Wrong,
    opened: Opened,
) -> Result<Markup, PageError> {
    let settings = settings(&formats::service::to_table(service));
    let may_write = signed.user.roles.lead || signed.user.roles.administrator;
    let ways = Ways {
        to: "/service",
        button: "Write the settings down",
        back: "/",
        // What is missing is written first; only then is there something to adopt.
        is_next: may_write && (service.adopted.is_some() || !missing(service).is_empty()),
        opened: Some(opened),
    };
    let margin = html! { p.ways { a href="/service/rules" { "Every rule and cut-off, with its source" } br; a href="/team" { "The team, and your passphrase" } } };
    let body = html! {
        (row(&html! {}, &html! { h1.title { (sentence(&service.name)) } p.lead { (settings.lead) } (adoption(signed, service, opened.position)) }, &margin))
        @if may_write { (form(&settings, given, wrong, &ways)) }
        @else { (row(&html! {}, &html! { p { "Only the lead or an administrator changes settings. They are printed with every programme." } }, &html! {})) }
    };
    Ok(page(signed, "Service", Nav::Service, &body))
}

/// What a page at home cannot be without and the settings do not have.
fn missing(service: &Service) -> Vec<&'static str> {
    [
        (
            service.emergency.is_none(),
            "the emergency number and words",
        ),
        (service.contact.is_none(), "how the team is reached"),
    ]
    .into_iter()
    .filter_map(|(is_missing, what)| is_missing.then_some(what))
    .collect()
}

/// Who adopted the settings, or the form by which a lead does.
fn adoption(signed: &Signed, service: &Service, position: u64) -> Markup {
    let missing = missing(service);
    let class = if missing.is_empty() {
        "do"
    } else {
        "act plain"
    };
    html! {
        @match &service.adopted {
            Some(adopted) => p.stands { "Adopted by " (adopted.by) " on " (full_day(adopted.date)) "." },
            None => {
                p.stands { "Not adopted yet: only invented people can be signed for. The lead looks at every setting and signs." }
                @if !missing.is_empty() { p { "Missing: " (missing.join(", ")) ". Nothing is handed out without." } }
                @if signed.user.roles.lead {
                    form method="post" action="/service/adopt" {
                        input type="hidden" name="position" value=(position);
                        p.acts { button class=(class) type="submit" { "Adopt these settings as " (signed.user.full_name.split(',').next().unwrap_or_default()) } }
                    }
                } @else { p { "The lead looks at every setting and signs here." } }
            }
        }
    }
}

pub(crate) async fn write(signed: Signed, given: Given) -> Result<Response, PageError> {
    if given.is_twice("position") {
        return Err(came_twice("position"));
    }
    let before = signed.app.service(&signed.store, &signed.user).await?;
    let opened = Opened::of(&given, position(&signed).await?);
    if opened.stale {
        let page = drawn(&signed, &before, &given, &Wrong::default(), opened).await?;
        return Ok((StatusCode::CONFLICT, page).into_response());
    }
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
                keep(&signed, &after, opened.position).await?;
                look_again(&signed).await?;
            }
            Ok(Redirect::to("/service").into_response())
        }
        Err(wrong) => {
            let page = drawn(&signed, &before, &given, &wrong, opened).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
    }
}

/// Works out anew what lists need of everybody on a page: other settings bring other alerts. An administrator may read
/// nobody's case; then the lead's adoption, which the settings need in any case, brings it.
async fn look_again(signed: &Signed) -> Result<(), PageError> {
    if !(signed.user.roles.practitioner || signed.user.roles.lead) {
        return Ok(());
    }
    let active = Word::new(StatusKind::Active.word()).expect("status words are words of ours");
    let filter = CaseFilter {
        statuses: vec![active],
        ..CaseFilter::default()
    };
    for one in signed.store.list_cases(signed.user.id, &filter).await? {
        // What cannot be opened is told under Today; it does not keep the others from being looked at.
        let Ok(file) = CaseFile::load(signed, &one.case.to_string(), "settings").await else {
            continue;
        };
        let count = file.next_position() - 1;
        let (summary, personal) = file.for_lists();
        let written = signed
            .store
            .replace_summary(signed.user.id, file.id, count, &summary, &personal)
            .await;
        match written {
            // Whoever wrote in it meanwhile has worked it out anew.
            Ok(()) | Err(records::Error::Conflict { .. }) => {}
            Err(error) => return Err(error.into()),
        }
    }
    Ok(())
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
pub(crate) async fn adopt(signed: Signed, Once(given): Once) -> Result<Response, PageError> {
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
    keep(&signed, &service, seen).await?;
    look_again(&signed).await?;
    Ok(Redirect::to("/service").into_response())
}

async fn keep(signed: &Signed, service: &Service, expected: u64) -> Result<(), PageError> {
    let clock = signed.app.clock();
    let body = formats::service::write(service, Notation::Json).into_bytes();
    let kind = Word::new(KIND).expect("the kind is a word of ours");
    let mut draft = Draft::new(EntryId::generate(clock.now())?, kind, clock.local(), body);
    draft.expected_position = Some(expected);
    signed
        .store
        .append(CaseId::SERVICE, signed.user.id, draft, clock.now())
        .await?;
    signed.app.forget_service();
    Ok(())
}

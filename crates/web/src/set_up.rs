//! The first page of a new record: the service's name, the first user, and the recovery sheet, shown once.

use crate::app::{App, Door};
use crate::error::PageError;
use crate::facts::given::{Given, Once};
use crate::layout::{Field, Nav, field, plain_page};
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use formats::Problems;
use formats::tree::Notation;
use maud::{Markup, html};
use records::{
    CaseId, Created, Draft, EntryId, NewRecord, NewUser, Passphrase, PassphraseCost, RecoverySheet,
    Roles, Store, Word,
};
use rehab::service::Service;
use std::collections::BTreeMap;

type Wrong = BTreeMap<&'static str, String>;

pub(crate) async fn show(State(app): State<App>) -> Response {
    match app.door() {
        Door::New(_) => form(&Given::default(), &Wrong::new()).into_response(),
        _ => Redirect::to("/sign-in").into_response(),
    }
}

fn form(given: &Given, wrong: &Wrong) -> Markup {
    let ask = |name: &'static str, label, hint, kind, autocomplete| {
        let value = if kind == "password" {
            ""
        } else {
            given.one(name)
        };
        let error = wrong.get(name).map(String::as_str);
        field(&Field {
            hint,
            value,
            error,
            kind,
            autocomplete,
            ..Field::text(name, label)
        })
    };
    let body = html! {
        p.lead { "There is no record here yet. You are the first user: practitioner, lead and administrator; others are added later." }
        form method="post" action="/set-up" novalidate {
            (ask("service", "Name of the service", "It stands on every page", "text", "off"))
            (ask("full_name", "Your name and role", "As it stands under what you sign: Josie Marwood, physiotherapist", "text", "name"))
            (ask("sign_in", "Short name for signing in", "", "text", "username"))
            (ask("passphrase", "Passphrase", "Four plain words or more. It is stored nowhere and cannot be asked for", "password", "new-password"))
            (ask("again", "The passphrase once more", "", "password", "new-password"))
            p.acts { button.do type="submit" { "Make the record" } }
        }
    };
    plain_page("A new record", Nav::None, &body)
}

pub(crate) async fn set_up(
    State(app): State<App>,
    Once(given): Once,
) -> Result<Response, PageError> {
    let Door::New(dir) = app.door() else {
        return Ok(Redirect::to("/sign-in").into_response());
    };
    let wrong = what_is_wrong(&given);
    if !wrong.is_empty() {
        return Ok(refused(&given, &wrong));
    }
    let new = NewRecord {
        first_user: NewUser {
            sign_in: given.one("sign_in").to_owned(),
            full_name: given.one("full_name").to_owned(),
            roles: Roles::ALL,
        },
        passphrase: Some(Passphrase::new(given.raw("passphrase").to_owned())),
        key: None,
        cost: PassphraseCost::STANDARD,
    };
    let created = match Store::create(&dir, &new, app.clock().now()).await {
        Ok(created) => created,
        Err(error @ records::Error::PassphraseTooShort { .. }) => {
            return Ok(refused(
                &given,
                &Wrong::from([("passphrase", error.to_string())]),
            ));
        }
        Err(error) => return Err(error.into()),
    };
    // The sheet is shown whatever happens to the name: it is never shown again, and a name can be written later.
    let next = match name_service(&app, &created, given.one("service")).await {
        Ok(()) => "It is on paper; sign in",
        Err(_) => "It is on paper; sign in, and write the name of the service under Service",
    };
    let page = recovery_page(&created.recovery, "/sign-in", next);
    app.open_door(created.store);
    Ok(page.into_response())
}

fn refused(given: &Given, wrong: &Wrong) -> Response {
    (StatusCode::UNPROCESSABLE_ENTITY, form(given, wrong)).into_response()
}

fn what_is_wrong(given: &Given) -> Wrong {
    let mut wrong = Wrong::new();
    for (name, what) in [
        ("service", "The service has no name yet; write it"),
        (
            "full_name",
            "What you sign needs your name; write it with your role",
        ),
        ("sign_in", "A short name is needed to sign in; write one"),
    ] {
        if given.one(name).is_empty() {
            wrong.insert(name, what.to_owned());
        }
    }
    if let Err(problems) = read_back(given.one("service")) {
        let told: Vec<String> = problems.0.iter().map(|one| one.message.clone()).collect();
        wrong.entry("service").or_insert(told.join("; "));
    }
    let passphrase = given.raw("passphrase").to_owned();
    let typed_again = given.raw("again") == passphrase;
    if let Err(error) = Passphrase::new(passphrase).check_strength() {
        wrong.insert("passphrase", error.to_string());
    } else if !typed_again {
        wrong.insert(
            "again",
            "The two are not the same; type the passphrase again in both".to_owned(),
        );
    }
    wrong
}

/// The settings under a name, written and read again: what could not be read again is never kept.
fn read_back(name: &str) -> Result<(), Problems> {
    formats::service::read("service.json", &named(name)).map(drop)
}

fn named(name: &str) -> Vec<u8> {
    let mut service = Service::cautious();
    service.name = name.to_owned();
    formats::service::write(&service, Notation::Json).into_bytes()
}

async fn name_service(app: &App, created: &Created, name: &str) -> Result<(), PageError> {
    let clock = app.clock();
    let kind = Word::new("service").expect("the kind is a word of ours");
    let id = EntryId::generate(clock.now())?;
    let draft = Draft::new(id, kind, clock.local(), named(name));
    created
        .store
        .append(CaseId::SERVICE, created.first_user, draft, clock.now())
        .await?;
    Ok(())
}

/// The only time the recovery text is seen.
pub(crate) fn recovery_page(sheet: &RecoverySheet, next: &str, words: &str) -> Markup {
    let text = sheet.to_text();
    let groups: Vec<&str> = text.as_str().split('-').collect();
    let lines: Vec<String> = groups.chunks(3).map(|three| three.join("-")).collect();
    let body = html! {
        p.lead { "Print this page now or copy the text by hand. It opens the record when every passphrase is lost, and it is not shown again." }
        // Two lines of three groups each, so that no group stands alone and nothing is lost in copying.
        p.recovery { @for line in lines { span { (line) } } }
        p { "Keep it locked away, and not with this machine. Whoever holds it and the file can read everything." }
        p.acts { a.do href=(next) { (words) } }
    };
    plain_page("The recovery sheet", Nav::None, &body)
}

//! The recovery sheet: it unlocks the record when every passphrase is lost, and gives one administrator a new one.

use super::users::refused;
use crate::app::{App, Door};
use crate::error::PageError;
use crate::facts::given::Once;
use crate::guard::Signed;
use crate::layout::{Field, Nav, field, plain_page};
use crate::set_up::recovery_page;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use records::{Passphrase, RecoverySheet};

/// Prints a new sheet; the old one opens nothing any more.
pub(crate) async fn renew(signed: Signed) -> Result<Response, PageError> {
    let sheet = signed
        .store
        .renew_recovery(signed.user.id)
        .await
        .map_err(refused)?;
    Ok(recovery_page(&sheet, "/team", "It is on paper").into_response())
}

pub(crate) async fn show(State(app): State<App>) -> Response {
    match app.door() {
        Door::New(_) => Redirect::to("/set-up").into_response(),
        _ => form("", None).into_response(),
    }
}

fn form(name: &str, wrong: Option<(&str, &str)>) -> Markup {
    let of = |field: &str| {
        wrong
            .filter(|(known, _)| *known == field)
            .map(|(_, why)| why)
    };
    let body = html! {
        p.lead { "With the printed recovery sheet an administrator sets a new passphrase. Every use of it is noted." }
        form method="post" action="/recover" novalidate {
            (field(&Field { hint: "Six groups of five; small letters and blanks do not matter", error: of("sheet"), kind: "password", ..Field::text("sheet", "The text of the sheet") }))
            (field(&Field { hint: "Of an administrator", error: of("name"), value: name, ..Field::text("name", "Short name to sign in") }))
            (field(&Field { hint: "Four plain words or more", error: of("passphrase"), kind: "password", autocomplete: "new-password", ..Field::text("passphrase", "New passphrase") }))
            p.acts { button.do type="submit" { "Set the new passphrase" } a.act href="/sign-in" { "Leave it" } }
        }
    };
    plain_page("The recovery sheet", Nav::None, &body)
}

pub(crate) async fn recover(
    State(app): State<App>,
    Once(given): Once,
) -> Result<Response, PageError> {
    let name = given.one("name").to_lowercase();
    let back = |field: &str, why: &str| {
        let page = form(given.one("name"), Some((field, why)));
        Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
    };
    let locked = match app.door() {
        Door::New(_) => return Ok(Redirect::to("/set-up").into_response()),
        Door::Locked(locked) => locked,
        Door::Open(store) => store.locked(),
    };
    let sheet = match RecoverySheet::parse(given.raw("sheet")) {
        Ok(sheet) => sheet,
        Err(error) => return back("sheet", &error.to_string()),
    };
    let new = Passphrase::new(given.raw("passphrase").to_owned());
    if let Err(error) = new.check_strength() {
        return back("passphrase", &error.to_string());
    }
    let now = app.clock().now();
    let store = match locked.unlock_with_recovery(&sheet, now).await {
        Ok(store) => store,
        Err(error @ records::Error::WrongRecovery) => return back("sheet", &error.to_string()),
        Err(other) => return Err(other.into()),
    };
    let users = store.users().await?;
    let user = users.iter().find(|user| {
        user.removed.is_none() && user.roles.administrator && user.sign_in.to_lowercase() == name
    });
    let Some(user) = user else {
        return back(
            "name",
            "no administrator signs in by this name; write the name of one",
        );
    };
    store
        .reset_passphrase(user.id, user.id, &new)
        .await
        .map_err(refused)?;
    Ok(Redirect::to("/sign-in").into_response())
}

//! Signing in, locking between two houses, signing out.

use crate::app::{App, Door};
use crate::error::PageError;
use crate::guard::{COOKIE_NAME, session_token};
use crate::layout::{Field, Nav, field, plain_page};
use axum::Form;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::SET_COOKIE;
use axum::http::request::Parts;
use axum::response::{IntoResponse, Redirect, Response};
use jiff::ToSpan;
use maud::{Markup, html};
use records::{Passphrase, User};
use serde::Deserialize;

/// Hours a session lasts: a working day.
const SESSION_HOURS: i64 = 12;

#[derive(Deserialize)]
pub(crate) struct SignIn {
    name: String,
    passphrase: String,
}

pub(crate) async fn show(State(app): State<App>) -> Response {
    if app.is_demonstration() {
        return Redirect::to("/").into_response();
    }
    if matches!(app.door(), Door::New(_)) {
        return Redirect::to("/set-up").into_response();
    }
    form("", None).into_response()
}

fn form(name: &str, error: Option<&str>) -> Markup {
    let body = html! {
        p.lead { "Your passphrase opens the record on this machine. It is stored nowhere." }
        form method="post" action="/sign-in" {
            (field(&Field { value: name, autocomplete: "username", ..Field::text("name", "Name for signing in") }))
            (field(&Field { kind: "password", error, autocomplete: "current-password", ..Field::text("passphrase", "Passphrase") }))
            p.acts { button.do type="submit" { "Sign in" } a.act href="/recover" { "Every passphrase is lost" } }
        }
    };
    plain_page("Sign in", Nav::None, &body)
}

pub(crate) async fn sign_in(
    State(app): State<App>,
    Form(typed): Form<SignIn>,
) -> Result<Response, PageError> {
    match check(&app, &typed).await {
        Ok(user) => start_session(&app, &user).await,
        Err(error @ (records::Error::WrongPassphrase { .. } | records::Error::TooSoon { .. })) => {
            let page = form(&typed.name, Some(&error.to_string()));
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
        Err(other) => Err(other.into()),
    }
}

/// The first to sign in after a start unlocks the record; the others are checked the same way.
async fn check(app: &App, typed: &SignIn) -> Result<User, records::Error> {
    let passphrase = Passphrase::new(typed.passphrase.clone());
    let now = app.clock().now();
    match app.door() {
        Door::Open(store) => store.sign_in(&typed.name, &passphrase, now).await,
        Door::New(dir) => Err(records::Error::NoRecord { dir }),
        Door::Locked(locked) => {
            let (store, user) = locked.unlock(&typed.name, &passphrase, now).await?;
            app.open_door(store);
            Ok(user)
        }
    }
}

async fn start_session(app: &App, user: &User) -> Result<Response, PageError> {
    let store = app.store().ok_or(PageError::SignInFirst)?;
    let now = app.clock().now();
    let token = store
        .create_session(user.id, now, now + SESSION_HOURS.hours())
        .await?;
    let cookie = format!(
        "{COOKIE_NAME}={}; HttpOnly; SameSite=Strict; Path=/",
        token.as_str()
    );
    Ok(([(SET_COOKIE, cookie)], Redirect::to("/")).into_response())
}

/// Locks the browser's session between two houses; its passphrase opens it again.
pub(crate) async fn lock(State(app): State<App>, parts: Parts) -> Result<Response, PageError> {
    if let (Some(store), Some(token)) = (app.store(), session_token(&parts)) {
        store.lock_session(&token, app.clock().now()).await?;
    }
    Ok(Redirect::to("/locked").into_response())
}

/// The page of a locked session: it shows nothing of anybody.
pub(crate) async fn show_locked() -> Markup {
    locked_form(None)
}

fn locked_form(error: Option<&str>) -> Markup {
    let body = html! {
        p.lead { "Nothing of anybody is shown until your passphrase opens it again." }
        form method="post" action="/unlock" {
            (field(&Field { kind: "password", error, autocomplete: "current-password", ..Field::text("passphrase", "Passphrase") }))
            p.acts { button.do type="submit" { "Open" } }
        }
        form method="post" action="/sign-out" { p.acts { button.act.plain type="submit" { "Sign out" } } }
    };
    plain_page("Locked", Nav::None, &body)
}

#[derive(Deserialize)]
pub(crate) struct Unlock {
    passphrase: String,
}

pub(crate) async fn unlock(
    State(app): State<App>,
    parts: Parts,
    Form(typed): Form<Unlock>,
) -> Result<Response, PageError> {
    let store = app.store().ok_or(PageError::SignInFirst)?;
    let token = session_token(&parts).ok_or(PageError::SignInFirst)?;
    let passphrase = Passphrase::new(typed.passphrase);
    match store
        .unlock_session(&token, &passphrase, app.clock().now())
        .await
    {
        Ok(Some(_)) => Ok(Redirect::to("/").into_response()),
        Ok(None) => Err(PageError::SignInFirst),
        Err(error @ (records::Error::WrongPassphrase { .. } | records::Error::TooSoon { .. })) => {
            let page = locked_form(Some(&error.to_string()));
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
        Err(other) => Err(other.into()),
    }
}

/// Ends the session.
pub(crate) async fn sign_out(State(app): State<App>, parts: Parts) -> Result<Response, PageError> {
    if let (Some(store), Some(token)) = (app.store(), session_token(&parts)) {
        store.end_session(&token).await?;
    }
    let gone = format!("{COOKIE_NAME}=; HttpOnly; SameSite=Strict; Path=/; Max-Age=0");
    Ok(([(SET_COOKIE, gone)], Redirect::to("/sign-in")).into_response())
}

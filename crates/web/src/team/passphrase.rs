//! Everybody's own passphrase: changed with the old one; afterwards all sessions of theirs end.

use super::users::refused;
use crate::error::PageError;
use crate::facts::given::Once;
use crate::guard::Signed;
use crate::layout::{Field, Nav, field, page, row};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use records::Passphrase;

pub(crate) async fn show(signed: Signed) -> Markup {
    drawn(&signed, None)
}

fn drawn(signed: &Signed, wrong: Option<(&str, &str)>) -> Markup {
    let ask = |name: &'static str, label, autocomplete| {
        let error = wrong
            .filter(|(field, _)| *field == name)
            .map(|(_, why)| why);
        field(&Field {
            error,
            kind: "password",
            autocomplete,
            ..Field::text(name, label)
        })
    };
    let text = html! {
        h1.title { "My passphrase" }
        p.lead { "Four plain words or more. Afterwards you sign in anew, here and wherever else you were." }
        form method="post" action="/team/passphrase" novalidate {
            (ask("old", "The passphrase until now", "current-password"))
            (ask("new", "The new one", "new-password"))
            (ask("again", "The new one again", "new-password"))
            p.acts { button.do type="submit" { "Change it" } a.act href="/team" { "Leave it" } }
        }
    };
    let body = row(&html! {}, &text, &html! {});
    page(signed, "My passphrase", Nav::None, &body)
}

pub(crate) async fn change(signed: Signed, Once(given): Once) -> Result<Response, PageError> {
    let back = |name: &str, why: &str| {
        let page = drawn(&signed, Some((name, why)));
        Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
    };
    if given.raw("new") != given.raw("again") {
        return back(
            "again",
            "the two are not the same; type the new passphrase again in both",
        );
    }
    let old = Passphrase::new(given.raw("old").to_owned());
    let new = Passphrase::new(given.raw("new").to_owned());
    let now = signed.app.clock().now();
    match signed
        .store
        .change_passphrase(&signed.user.sign_in, &old, &new, now)
        .await
    {
        Ok(()) => Ok(Redirect::to("/sign-in").into_response()),
        Err(error @ (records::Error::WrongPassphrase { .. } | records::Error::TooSoon { .. })) => {
            back("old", &error.to_string())
        }
        Err(error @ records::Error::PassphraseTooShort { .. }) => back("new", &error.to_string()),
        Err(other) => Err(refused(other)),
    }
}

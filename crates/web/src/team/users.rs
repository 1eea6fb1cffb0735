//! Users: everybody who may sign in, added, given other roles and ended by an administrator. Entries keep their names.

use crate::error::PageError;
use crate::facts::given::{Given, Once};
use crate::guard::Signed;
use crate::layout::{Field, Nav, field, page, row};
use crate::phrases::{full_day, list};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use records::{NewUser, Passphrase, Roles, User, UserId};

/// Each role: its word in the form, and what it may do.
const ROLES: [(&str, &str, &str); 3] = [
    ("practitioner", "practitioner", "looks after patients"),
    ("lead", "lead", "the same, and adopts the settings"),
    (
        "administrator",
        "administrator",
        "manages users; reads no case by this alone",
    ),
];

/// What is wrong with a form: the field and why.
type Wrong = Option<(&'static str, String)>;

pub(crate) async fn show(signed: Signed) -> Result<Markup, PageError> {
    drawn(&signed, &Given::default(), None).await
}

async fn drawn(signed: &Signed, given: &Given, wrong: Wrong) -> Result<Markup, PageError> {
    let users = signed.store.users().await?;
    let may = signed.user.roles.administrator;
    let (now, ended): (Vec<&User>, Vec<&User>) =
        users.iter().partition(|user| user.removed.is_none());
    let head = html! {
        h1.title { "Team" }
        p.lead { "Who may sign in. Whatever somebody wrote keeps their name, also after they have left." }
        p.acts { a.act href="/team/passphrase" { "Change my passphrase" } }
    };
    let body = html! {
        (row(&html! {}, &head, &html! {}))
        section.group { @for user in now { (one(signed, user, may)) } }
        @if !ended.is_empty() {
            section.group {
                (row(&html! {}, &html! { h2.part { "No longer with us" } }, &html! {}))
                @for user in ended { (gone(user)) }
            }
        }
        @if may { (add_form(given, wrong.as_ref())) (recovery()) }
        @else { (row(&html! {}, &html! { p.quiet { "An administrator adds people, changes roles and ends access." } }, &html! {})) }
    };
    Ok(page(signed, "Team", Nav::Service, &body))
}

fn named(roles: Roles) -> String {
    let has = [roles.practitioner, roles.lead, roles.administrator];
    let words: Vec<String> = ROLES
        .iter()
        .zip(has)
        .filter(|(_, has)| *has)
        .map(|((_, word, _), _)| (*word).to_owned())
        .collect();
    list(&words)
}

fn one(signed: &Signed, user: &User, may: bool) -> Markup {
    let own = user.id == signed.user.id;
    let text = html! {
        p { b { (user.full_name) } ", signs in as " (user.sign_in) ". " (crate::phrases::sentence(&named(user.roles))) "."
            @if !user.has_passphrase { " Has no passphrase, so cannot sign in." } }
        @if may { details { summary.more { "Change" } (changes(user, own)) } }
    };
    let margin = html! { @if own { p { "This is you." } } };
    html! { div.person { (row(&html! {}, &text, &margin)) } }
}

fn changes(user: &User, own: bool) -> Markup {
    html! {
        form method="post" action="/team/roles" {
            input type="hidden" name="user" value=(user.id);
            (roles(user.roles, &user.id.to_string()))
            p.acts { button.act.plain type="submit" { "Give these roles" } }
        }
        @if !own {
            form method="post" action="/team/reset" {
                input type="hidden" name="user" value=(user.id);
                @let id = format!("new-{}", user.id);
                div.ask {
                    label for=(id) { "A new passphrase, where theirs is lost" }
                    input.field id=(id) name="passphrase" type="password" autocomplete="new-password";
                }
                p.acts { button.act.plain type="submit" { "Set it" } }
            }
            form method="post" action="/team/end" {
                input type="hidden" name="user" value=(user.id);
                p.acts { button.act.plain type="submit" { "End access for " (user.full_name.split(',').next().unwrap_or_default()) } }
            }
        }
    }
}

fn roles(has: Roles, mark: &str) -> Markup {
    let has = [has.practitioner, has.lead, has.administrator];
    html! {
        fieldset.ask {
            legend { "Roles" }
            @for ((word, name, does), has) in ROLES.iter().zip(has) {
                label.tick for={ (word) "-" (mark) } {
                    input id={ (word) "-" (mark) } type="checkbox" name="role" value=(word) checked[has];
                    span { (name) ": " span.quiet { (does) } }
                }
            }
        }
    }
}

fn gone(user: &User) -> Markup {
    let when = user
        .removed
        .map(|at| full_day(jiff::tz::TimeZone::system().to_datetime(at).date()));
    let text =
        html! { p.quiet { (user.full_name) @if let Some(when) = when { ", until " (when) } "." } };
    html! { div.person { (row(&html! {}, &text, &html! {})) } }
}

fn add_form(given: &Given, wrong: Option<&(&'static str, String)>) -> Markup {
    let ask = |name: &'static str, label, hint, kind, autocomplete| {
        let value = if kind == "password" {
            ""
        } else {
            given.one(name)
        };
        let error = wrong
            .filter(|(field, _)| *field == name)
            .map(|(_, why)| why.as_str());
        field(&Field {
            hint,
            value,
            error,
            kind,
            autocomplete,
            ..Field::text(name, label)
        })
    };
    let text = html! {
        h2.part { "Somebody new" }
        form method="post" action="/team" novalidate {
            (ask("full_name", "Full name with role", "It stands under what they sign: Tom Aldis, nurse", "text", "off"))
            (ask("sign_in", "Short name to sign in", "", "text", "off"))
            (ask("passphrase", "First passphrase", "Four plain words or more; they change it themselves", "password", "new-password"))
            (roles(asked(given), "new"))
            @if let Some(("role", why)) = wrong.map(|(name, why)| (*name, why)) { p.wrong { (why) } }
            p.acts { button.do type="submit" { "Add to the team" } }
        }
    };
    html! { section.group { (row(&html! {}, &text, &html! {})) } }
}

fn recovery() -> Markup {
    let text = html! {
        h2.part { "The recovery sheet" }
        p.quiet { "It opens the record when every passphrase is lost. A new sheet ends the old one." }
        form method="post" action="/team/recovery" { p.acts { button.act.plain type="submit" { "Make a new recovery sheet" } } }
    };
    html! { section.group { (row(&html! {}, &text, &html! {})) } }
}

fn asked(given: &Given) -> Roles {
    let has = |word: &str| given.all("role").any(|one| one == word);
    Roles {
        practitioner: has("practitioner"),
        lead: has("lead"),
        administrator: has("administrator"),
    }
}

pub(crate) async fn add(signed: Signed, Once(given): Once) -> Result<Response, PageError> {
    let mut wrong: Wrong = [
        (
            "full_name",
            "What they sign needs their name; write it with the role",
        ),
        ("sign_in", "A short name is needed to sign in; write one"),
    ]
    .into_iter()
    .find(|(name, _)| given.one(name).is_empty())
    .map(|(name, why)| (name, why.to_owned()));
    if wrong.is_none() && !given.has("role") {
        wrong = Some(("role", "At least one role is needed; choose it".to_owned()));
    }
    if wrong.is_none() {
        let new = NewUser {
            sign_in: given.one("sign_in").to_owned(),
            full_name: given.one("full_name").to_owned(),
            roles: asked(&given),
        };
        let passphrase = Passphrase::new(given.raw("passphrase").to_owned());
        let now = signed.app.clock().now();
        match signed
            .store
            .add_user(signed.user.id, &new, Some(&passphrase), now)
            .await
        {
            Ok(_) => return Ok(Redirect::to("/team").into_response()),
            Err(error @ records::Error::PassphraseTooShort { .. }) => {
                wrong = Some(("passphrase", error.to_string()));
            }
            Err(error @ records::Error::SignInTaken { .. }) => {
                wrong = Some(("sign_in", error.to_string()));
            }
            Err(other) => return Err(other.into()),
        }
    }
    let page = drawn(&signed, &given, wrong).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

fn whom(given: &Given) -> Result<UserId, PageError> {
    UserId::parse(given.one("user")).map_err(|_| {
        PageError::Refused(
            "The page was not whole, so nothing was changed. Load it again".to_owned(),
        )
    })
}

pub(crate) async fn change_roles(signed: Signed, Once(given): Once) -> Result<Response, PageError> {
    signed
        .store
        .set_roles(signed.user.id, whom(&given)?, asked(&given))
        .await
        .map_err(refused)?;
    Ok(Redirect::to("/team").into_response())
}

pub(crate) async fn end(signed: Signed, Once(given): Once) -> Result<Response, PageError> {
    let now = signed.app.clock().now();
    signed
        .store
        .remove_user(signed.user.id, whom(&given)?, now)
        .await
        .map_err(refused)?;
    Ok(Redirect::to("/team").into_response())
}

pub(crate) async fn reset(signed: Signed, Once(given): Once) -> Result<Response, PageError> {
    let passphrase = Passphrase::new(given.raw("passphrase").to_owned());
    signed
        .store
        .reset_passphrase(signed.user.id, whom(&given)?, &passphrase)
        .await
        .map_err(refused)?;
    Ok(Redirect::to("/team").into_response())
}

/// What an administrator asked for and cannot be done is a refusal of theirs, not a fault of the record.
pub(super) fn refused(error: records::Error) -> PageError {
    match error {
        records::Error::NotAllowed { .. } => error.into(),
        records::Error::PassphraseTooShort { .. }
        | records::Error::LastAdministrator
        | records::Error::NoSuchUser
        | records::Error::Unsuitable { .. } => {
            PageError::Refused(format!("{error}. Go back and change it"))
        }
        other => other.into(),
    }
}

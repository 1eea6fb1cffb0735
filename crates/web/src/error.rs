//! The one error a page answers with: what, why and what to do, never the text of a database.

use crate::app::App;
use crate::guard::{Signed, signed_by};
use crate::layout::{Nav, page, plain_page, row};
use axum::extract::{Request, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_TYPE, COOKIE};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};

/// Why a page was not shown or a form not kept.
#[derive(Debug, thiserror::Error)]
pub(crate) enum PageError {
    /// Nobody is signed in.
    #[error("You are not signed in")]
    SignInFirst,
    /// The session waits for its passphrase.
    #[error("The page is locked")]
    Locked,
    /// Somebody sent a form without being signed in (any more).
    #[error(
        "You are not signed in any more, so nothing was kept yet. Sign in in a second window, come back to this one and load it again: what you typed is sent once more"
    )]
    SignInBeside,
    /// The request asks for another name than ours.
    #[error(
        "This address is not one of this program's. Use the address that it printed when it started"
    )]
    WrongName,
    /// There is no such page or person.
    #[error("{0}")]
    NotFound(String),
    /// The request cannot be done as it was sent.
    #[error("{0}")]
    Refused(String),
    /// Something below the pages refused the request: only its status is known.
    #[error("{}", in_words(*_0))]
    Below(StatusCode),
    /// Somebody else added to the same case meanwhile.
    #[error(
        "Somebody has written in this case since you opened the page. Go back, load it anew and look at what changed before you write"
    )]
    Conflict,
    /// The record.
    #[error("{0}")]
    Record(records::Error),
    /// A body of the record that this version cannot read.
    #[error("{0}")]
    Body(#[from] formats::journal::BodyError),
}

impl From<records::Error> for PageError {
    fn from(error: records::Error) -> Self {
        match error {
            records::Error::Conflict { .. } => Self::Conflict,
            records::Error::NoSuchCase => Self::NotFound(
                "There is no such person in the record. Look for the name under People".to_owned(),
            ),
            other => Self::Record(other),
        }
    }
}

impl PageError {
    fn status(&self) -> StatusCode {
        match self {
            Self::SignInFirst | Self::SignInBeside | Self::Locked => StatusCode::UNAUTHORIZED,
            Self::WrongName => StatusCode::MISDIRECTED_REQUEST,
            Self::NotFound(_) => StatusCode::NOT_FOUND,
            Self::Refused(_) => StatusCode::UNPROCESSABLE_ENTITY,
            Self::Below(status) => *status,
            Self::Conflict => StatusCode::CONFLICT,
            Self::Record(records::Error::NotAllowed { .. }) => StatusCode::FORBIDDEN,
            Self::Record(_) | Self::Body(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }
}

impl IntoResponse for PageError {
    fn into_response(self) -> Response {
        if matches!(self, Self::SignInFirst) {
            return Redirect::to("/sign-in").into_response();
        }
        if matches!(self, Self::Locked) {
            return Redirect::to("/locked").into_response();
        }
        let status = self.status();
        let refusal = self.refusal();
        let mut response = (status, refusal.page(None)).into_response();
        response.extensions_mut().insert(refusal);
        response
    }
}

/// A refusal in words, kept beside its page so that it can be dressed for whoever is signed in.
#[derive(Clone)]
struct Refusal {
    title: &'static str,
    words: String,
}

impl Refusal {
    /// The page; with a head for somebody who is signed in.
    fn page(&self, signed: Option<&Signed>) -> Markup {
        let body = html! {
            p.lead { (self.words) }
            p.acts { a.act href="/" { "Back to today" } }
        };
        match signed {
            None => plain_page(self.title, Nav::None, &body),
            Some(signed) => page(
                signed,
                self.title,
                Nav::None,
                &row(
                    &html! {},
                    &html! { h1.title { (self.title) } (body) },
                    &html! {},
                ),
            ),
        }
    }
}

impl PageError {
    fn refusal(&self) -> Refusal {
        let title = match self.status() {
            StatusCode::UNAUTHORIZED => "Sign in first",
            StatusCode::NOT_FOUND => "This page is not here",
            StatusCode::FORBIDDEN => "This is not yours to do",
            StatusCode::CONFLICT => "Something was written meanwhile",
            StatusCode::UNPROCESSABLE_ENTITY => "This could not be kept",
            status if status.is_client_error() => "This could not be read",
            _ => "Something went wrong here",
        };
        Refusal {
            title,
            words: self.to_string(),
        }
    }
}

/// What a refusal below the pages means for whoever asked.
fn in_words(status: StatusCode) -> &'static str {
    match status {
        StatusCode::NOT_FOUND => {
            "There is no page under this address. Look whether it was typed whole, or begin at Today"
        }
        StatusCode::METHOD_NOT_ALLOWED => {
            "This address cannot be opened in this way. Go back and use the buttons of the page"
        }
        StatusCode::PAYLOAD_TOO_LARGE => {
            "What was sent is too large, so nothing was kept. A file may have 8 MB at most"
        }
        StatusCode::FORBIDDEN => {
            "This was sent from another page than one of ours, so nothing was kept. Open the page here and send it again"
        }
        status if status.is_client_error() => {
            "What was asked for could not be read, so nothing was kept. Go back, load the page anew and try again"
        }
        _ => {
            "Something went wrong here, and it was not your doing. Go back and look whether it was kept before you try again"
        }
    }
}

/// Gives every refusal a page that says what, why and what to do, with the ways to everything else for somebody who is
/// signed in.
pub(crate) async fn refuse_in_words(
    State(app): State<App>,
    request: Request,
    next: Next,
) -> Response {
    let method = request.method().clone();
    let cookie = request.headers().get(COOKIE).cloned();
    let response = next.run(request).await;
    let status = response.status();
    let kind = response.headers().get(CONTENT_TYPE);
    let is_page = kind.is_some_and(|kind| kind.as_bytes().starts_with(b"text/html"));
    let refusal = match response.extensions().get::<Refusal>() {
        Some(refusal) => refusal.clone(),
        None if is_page || !(status.is_client_error() || status.is_server_error()) => {
            return response;
        }
        None => PageError::Below(status).refusal(),
    };
    let signed = signed_by(&app, method, cookie).await;
    (status, refusal.page(signed.as_ref())).into_response()
}

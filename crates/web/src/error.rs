//! The one error a page answers with: what, why and what to do, never the text of a database.

use crate::layout::{Nav, plain_page};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::html;

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
        let title = match self.status() {
            StatusCode::UNAUTHORIZED => "Sign in first",
            StatusCode::NOT_FOUND => "This page is not here",
            StatusCode::FORBIDDEN => "This is not yours to do",
            StatusCode::CONFLICT => "Something was written meanwhile",
            StatusCode::UNPROCESSABLE_ENTITY => "This could not be kept",
            _ => "Something went wrong here",
        };
        let body = html! {
            p.lead { (self) }
            p.acts { a.act href="/" { "Back to today" } }
        };
        (self.status(), plain_page(title, Nav::None, &body)).into_response()
    }
}

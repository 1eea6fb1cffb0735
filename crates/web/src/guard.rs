//! Who is signed in: taken from the cookie by every page that shows anything.

use crate::app::App;
use crate::error::PageError;
use axum::extract::{FromRequestParts, Request, State};
use axum::http::header::{COOKIE, HOST};
use axum::http::request::Parts;
use axum::http::{HeaderValue, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use records::{Reading, SessionToken, Store, User, Word};

/// Name of the session cookie.
pub(crate) const COOKIE_NAME: &str = "hearthpace";

/// Somebody who is signed in, with the unlocked record.
pub(crate) struct Signed {
    /// What every page shares.
    pub(crate) app: App,
    /// The unlocked record.
    pub(crate) store: Store,
    /// Who.
    pub(crate) user: User,
}

impl Signed {
    /// A reading for the access log.
    pub(crate) fn reading(&self, what: &str) -> Reading {
        let what = Word::new(what).expect("what is read is named by words of ours");
        Reading {
            by: self.user.id,
            what,
            at: self.app.clock().now(),
        }
    }
}

/// Answers only to names of this machine and of the service, so that a page of elsewhere cannot come in by a name that
/// it points here.
pub(crate) async fn check_host(State(app): State<App>, request: Request, next: Next) -> Response {
    let host = request
        .headers()
        .get(HOST)
        .and_then(|value| value.to_str().ok());
    // What makes a page readable holds nothing of anybody, and the page that refuses needs it too.
    let is_dress = request.uri().path().starts_with("/static/");
    match host {
        _ if is_dress => next.run(request).await,
        Some(host) if app.answers_to(host) => next.run(request).await,
        _ => PageError::WrongName.into_response(),
    }
}

impl FromRequestParts<App> for Signed {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, PageError> {
        // What was typed into a form must not be lost by a redirect.
        let first = || match parts.method {
            Method::GET | Method::HEAD => PageError::SignInFirst,
            _ => PageError::SignInBeside,
        };
        let store = app.store().ok_or_else(first)?;
        if let Some(user) = app.demonstration_user() {
            return Ok(Self {
                app: app.clone(),
                store,
                user: user.clone(),
            });
        }
        let token = session_token(parts).ok_or_else(first)?;
        let session = store.find_session(&token, app.clock().now()).await?;
        match session {
            Some(session) if !session.locked => Ok(Self {
                app: app.clone(),
                store,
                user: session.user,
            }),
            Some(_) if parts.method == Method::GET => Err(PageError::Locked),
            _ => Err(first()),
        }
    }
}

/// Who is signed in, by the cookie of a request that has been answered already.
pub(crate) async fn signed_by(
    app: &App,
    method: Method,
    cookie: Option<HeaderValue>,
) -> Option<Signed> {
    let mut request = Request::builder().method(method);
    if let Some(cookie) = cookie {
        request = request.header(COOKIE, cookie);
    }
    let (mut parts, ()) = request.body(()).ok()?.into_parts();
    Signed::from_request_parts(&mut parts, app).await.ok()
}

/// The token in the cookie, if there is one.
pub(crate) fn session_token(parts: &Parts) -> Option<SessionToken> {
    let cookies = parts.headers.get(COOKIE)?.to_str().ok()?;
    cookies
        .split(';')
        .filter_map(|cookie| cookie.trim().split_once('='))
        .find(|(name, _)| *name == COOKIE_NAME)
        .map(|(_, value)| SessionToken::from_cookie(value))
}

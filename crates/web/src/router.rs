//! Which address leads where, and what every answer carries.

use crate::app::App;
use crate::error::refuse_in_words;
use crate::guard::check_host;
use crate::{facts, people, person, service, set_up, sign_in, statics, tasks, team, today};
use axum::Router;
use axum::http::{HeaderName, HeaderValue, header};
use axum::middleware::from_fn_with_state;
use axum::routing::{get, post};
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::csrf::CsrfLayer;
use tower_http::limit::RequestBodyLimitLayer;
use tower_http::set_header::SetResponseHeaderLayer;

/// Largest form or file that is taken.
const MOST_BYTES: usize = 8 * 1024 * 1024;

/// Only what the program carries itself; nothing from anywhere else, and no script in a page.
const CONTENT_POLICY: &str = "default-src 'self'; img-src 'self' data:; object-src 'none'; frame-ancestors 'none'; base-uri 'none'; form-action 'self'";

/// All pages.
pub fn router(app: App) -> Router {
    let pages = Router::new()
        .route("/", get(today::show))
        .route("/people", get(people::show))
        .route("/people/new", get(facts::show_new).post(facts::write_new))
        .route("/people/new/file", post(facts::look))
        .route("/people/new/keep", post(facts::keep))
        .route("/people/{id}/facts", get(facts::show_all))
        .route(
            "/people/{id}/facts/{section}",
            get(facts::show_section).post(facts::write_section),
        )
        .route("/people/{id}", get(person::show))
        .route("/people/{id}/settle", post(person::settle))
        .route("/people/{id}/note", post(person::note))
        .route(
            "/people/{id}/standing",
            get(person::show_standing).post(person::change_standing),
        )
        .route("/people/{id}/written", get(person::show_written))
        .route("/people/{id}/strike", post(person::strike))
        .route("/service", get(service::show).post(service::write))
        .route("/service/adopt", post(service::adopt))
        .route("/service/rules", get(service::show_rules))
        .route("/sign-in", get(sign_in::show).post(sign_in::sign_in))
        .route("/lock", post(sign_in::lock))
        .route("/locked", get(sign_in::show_locked))
        .route("/unlock", post(sign_in::unlock))
        .route("/sign-out", post(sign_in::sign_out))
        .route("/set-up", get(set_up::show).post(set_up::set_up))
        .route("/for-your-name", get(today::show_for_your_name))
        .route("/static/hearthpace.css", get(statics::style))
        .route("/static/hearthpace.js", get(statics::script))
        .route("/static/regular.woff2", get(statics::regular))
        .route("/static/bold.woff2", get(statics::bold))
        .merge(tasks::routes())
        .merge(team::routes())
        .with_state(app.clone());
    pages
        .layer(RequestBodyLimitLayer::new(MOST_BYTES))
        .layer(CsrfLayer::new())
        .layer(from_fn_with_state(app.clone(), refuse_in_words))
        .layer(fixed(header::CONTENT_SECURITY_POLICY, CONTENT_POLICY))
        .layer(fixed(header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .layer(fixed(header::REFERRER_POLICY, "no-referrer"))
        .layer(fixed(header::X_FRAME_OPTIONS, "DENY"))
        .layer(fixed(header::CACHE_CONTROL, "no-store"))
        .layer(from_fn_with_state(app, check_host))
        .layer(CatchPanicLayer::new())
}

fn fixed(name: HeaderName, value: &'static str) -> SetResponseHeaderLayer<HeaderValue> {
    SetResponseHeaderLayer::if_not_present(name, HeaderValue::from_static(value))
}

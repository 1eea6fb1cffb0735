//! Addresses of what is done for one person: call, visit, signature, watched session, pack, builder, news.

use crate::app::App;
use crate::call;
use axum::Router;
use axum::routing::get;

/// Their routes.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/people/{id}/call", get(call::show).post(call::send))
        .route("/people/{id}/call/paper", get(call::show_paper))
}

//! Addresses of what is done for one person: call, visit, signature, watched session, pack, builder, news.

use crate::app::App;
use crate::{builder, call, inbox, pack, signing, watched};
use axum::Router;
use axum::routing::{get, post};

/// Their routes.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/people/{id}/call", get(call::show).post(call::send))
        .route("/people/{id}/call/paper", get(call::show_paper))
        .route(
            "/people/{id}/watched",
            get(watched::show).post(watched::send),
        )
        .route(
            "/people/{id}/builder",
            get(builder::show).post(builder::choose),
        )
        .route("/people/{id}/sign", get(signing::show).post(signing::send))
        .route("/people/{id}/pack", get(pack::show))
        .route("/people/{id}/pack/page", get(pack::page))
        .route("/people/{id}/pack/print", get(pack::print))
        .route("/people/{id}/pack/draft", get(pack::draft))
        .route("/people/{id}/pack/draft-print", get(pack::draft_print))
        .route("/people/{id}/inbox", get(inbox::show).post(inbox::look))
        .route("/people/{id}/inbox/keep", post(inbox::keep))
}

//! The team: who may sign in and with which roles, everybody's own passphrase, and who opened a case.

mod access;
mod passphrase;
mod recovery;
mod users;

use crate::app::App;
use axum::Router;
use axum::routing::{get, post};

/// Their routes.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/team", get(users::show).post(users::add))
        .route("/team/roles", post(users::change_roles))
        .route("/team/end", post(users::end))
        .route("/team/reset", post(users::reset))
        .route("/team/recovery", post(recovery::renew))
        .route(
            "/team/passphrase",
            get(passphrase::show).post(passphrase::change),
        )
        .route("/recover", get(recovery::show).post(recovery::recover))
        .route("/people/{id}/access", get(access::show))
}

//! Pages, routes and sign-in.
//!
//! Every page is made on the server and works without script, by keyboard and with a screen reader. What a
//! practitioner reads of a case is noted in the access log before it is shown.

#![expect(dead_code, reason = "parts of the shell that the next pages use")]

mod address;
mod alone;
mod app;
mod call;
mod casefile;
mod clock;
mod error;
mod facts;
mod guard;
mod inbox;
mod layout;
mod pack;
mod people;
mod person;
mod phrases;
mod router;
mod service;
mod set_up;
mod sign_in;
mod statics;
mod tasks;
mod today;
mod typed;
mod watched;

pub use app::{App, AppError, Door};
pub use casefile::{personal, summary};
pub use clock::Clock;
pub use router::router;

/// Serves until the listener is closed.
///
/// # Errors
/// When the listener fails.
pub async fn serve(listener: tokio::net::TcpListener, app: App) -> std::io::Result<()> {
    axum::serve(listener, router(app)).await
}

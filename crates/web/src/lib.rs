//! Pages, routes and sign-in.
//!
//! Every page is made on the server and works without script, by keyboard and with a screen reader. What a
//! practitioner reads of a case is noted in the access log before it is shown.

mod address;
mod alone;
mod app;
mod builder;
mod call;
mod casefile;
mod clock;
mod drafted;
mod error;
mod facts;
mod guard;
mod inbox;
mod layout;
mod pack;
mod people;
mod person;
mod phrases;
mod profile;
mod router;
mod sent_file;
mod service;
mod set_up;
mod sign_in;
mod signing;
mod statics;
mod tasks;
mod team;
mod today;
mod typed;
mod watched;
mod worked_out;

pub use app::{App, AppError, Door};
pub use casefile::{personal, summary};
pub use clock::Clock;
pub use router::router;

/// Serves until the program is asked to stop (Ctrl-C, or the system's request to end); requests under way are finished.
///
/// # Errors
/// When the listener fails.
pub async fn serve(listener: tokio::net::TcpListener, app: App) -> std::io::Result<()> {
    let store = app.clone();
    // Made ready once, not anew for each connection.
    axum::serve(listener, router(app).into_make_service())
        .with_graceful_shutdown(asked_to_stop())
        .await?;
    if let Some(store) = store.store() {
        store.close().await;
    }
    Ok(())
}

async fn asked_to_stop() {
    let interrupted = async {
        // Without a way to hear of Ctrl-C the program is ended by the system, which loses nothing confirmed.
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    #[cfg(unix)]
    let ended = async {
        match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(mut signal) => {
                signal.recv().await;
            }
            Err(_) => std::future::pending::<()>().await,
        }
    };
    #[cfg(not(unix))]
    let ended = std::future::pending::<()>();
    tokio::select! {
        () = interrupted => {}
        () = ended => {}
    }
}

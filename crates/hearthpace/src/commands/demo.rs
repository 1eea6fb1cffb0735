//! `demo`: serves an invented caseload from a temporary folder.

use super::Common;
use crate::demo;
use crate::failure::{Failure, reason};
use clap::Args;
use std::io::Write;
use std::net::{Ipv4Addr, SocketAddr};
use tokio::net::TcpListener;

/// The port that is tried first; where it is taken, any free one serves.
const USUAL_PORT: u16 = 4747;

#[derive(Args, Debug)]
pub(crate) struct Demo {
    /// Port on this machine [default: 4747, or any free one]
    #[arg(long, value_name = "N")]
    port: Option<u16>,
    /// The caseload so many times over, to see how a large record works
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=500))]
    times: u16,
}

impl Demo {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .enable_all()
            .build()
            .map_err(|error| cannot("start", &error))?;
        runtime.block_on(self.serve(common))
    }

    async fn serve(&self, common: &Common) -> Result<(), Failure> {
        let listener = self.listen().await?;
        let address = listener
            .local_addr()
            .map_err(|error| cannot("find the address", &error))?;
        let clock = common.on.map_or(web::Clock::Real, web::Clock::Held);
        let folder =
            tempfile::tempdir().map_err(|error| cannot("make a temporary folder", &error))?;
        let exercises = formats::exercises()?;
        let made = demo::make(folder.path(), &exercises, clock.today(), self.times).await;
        let (store, user) =
            made.map_err(|error| cannot("make the demonstration", &format!("{error:#}")))?;
        let app =
            web::App::demonstration(store, user, clock).map_err(|error| cannot("start", &error))?;
        tell(&address, common.json);
        tokio::select! {
            served = web::serve(listener, app) => served.map_err(|error| cannot("serve", &reason(&error))),
            _ = tokio::signal::ctrl_c() => Ok(()),
        }
    }

    async fn listen(&self) -> Result<TcpListener, Failure> {
        let at = |port| SocketAddr::from((Ipv4Addr::LOCALHOST, port));
        if let Some(port) = self.port {
            let tried = TcpListener::bind(at(port)).await;
            return tried.map_err(|error| {
                cannot(
                    &format!("listen on port {port}"),
                    &format!("{}; choose another with --port", reason(&error)),
                )
            });
        }
        match TcpListener::bind(at(USUAL_PORT)).await {
            Ok(listener) => Ok(listener),
            Err(_) => TcpListener::bind(at(0))
                .await
                .map_err(|error| cannot("listen", &reason(&error))),
        }
    }
}

fn tell(address: &SocketAddr, json: bool) {
    let mut out = std::io::stdout().lock();
    // Whoever does not read the address finds the page in no other way; the server goes on all the same.
    let _ = if json {
        writeln!(out, "{{\"address\":\"http://{address}/\"}}")
    } else {
        writeln!(
            out,
            "Hearthpace shows an invented caseload at http://{address}/\nEverybody in it is invented, and nothing is kept. Stop it with Ctrl-C."
        )
    };
    let _ = out.flush();
}

fn cannot(what: &str, why: &dyn std::fmt::Display) -> Failure {
    Failure::CannotBeDone(format!("cannot {what}: {why}"))
}

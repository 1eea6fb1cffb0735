//! `serve`: the program itself, for one machine or a team.

use super::Common;
use crate::failure::{Failure, reason};
use crate::output;
use records::{SetUpHold, Store};
use serde_json::json;
use std::net::SocketAddr;
use std::path::PathBuf;
use tokio::net::TcpListener;
use web::{App, Clock};

/// Serves the record of a folder to browsers until it is stopped.
///
/// A folder without a record is set up on the first page. Only this machine is answered unless --listen and --name
/// say otherwise; between machines the way needs its own encryption, for example a reverse proxy with TLS.
#[derive(clap::Args, Debug)]
pub(crate) struct Serve {
    /// The folder of the record
    #[arg(long, value_name = "DIR")]
    data: PathBuf,
    /// Where to listen
    #[arg(long, value_name = "ADDR", default_value = "127.0.0.1:7400")]
    listen: SocketAddr,
    /// A further name under which browsers may ask, for a team server
    #[arg(long, value_name = "NAME")]
    name: Vec<String>,
    /// A PostgreSQL database instead of the folder's own
    #[arg(long, value_name = "URL")]
    database: Option<String>,
}

impl Serve {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        if self.database.is_some() {
            return Err(Failure::CannotBeDone(
                "this version keeps its record in the folder only; leave --database out".to_owned(),
            ));
        }
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .enable_all()
            .build()
            .map_err(|error| {
                Failure::CannotBeDone(format!(
                    "the work could not be started: {}; try again",
                    reason(&error)
                ))
            })?;
        runtime.block_on(self.serve(common))
    }

    async fn serve(&self, common: &Common) -> Result<(), Failure> {
        // The record is locked first, so that a second server is refused before it takes an address.
        let (app, _hold) = self.app(common).await?;
        let listener = TcpListener::bind(self.listen).await.map_err(|error| {
            Failure::CannotBeDone(format!(
                "cannot listen on {}: {}; choose another address with --listen",
                self.listen,
                reason(&error)
            ))
        })?;
        let address = listener.local_addr().unwrap_or(self.listen);
        if let Some(day) = common.on {
            output::remark(&format!(
                "The day is held at {day}: everything that is written is dated so, and silence is counted from it. For real \
                 people leave --on out.\n"
            ));
        }
        if common.json {
            output::json_result(&json!({ "address": format!("http://{address}/") }))?;
        } else {
            output::result(&format!(
                "Hearthpace is at http://{address}/ (stop it with Ctrl-C)\n"
            ))?;
        }
        web::serve(listener, app).await.map_err(|error| {
            Failure::CannotBeDone(format!("serving ended: {}; start it again", reason(&error)))
        })
    }

    /// The program on the folder; a folder without a record is held until somebody sets one up.
    async fn app(&self, common: &Common) -> Result<(App, Option<SetUpHold>), Failure> {
        let clock = common.on.map_or(Clock::Real, Clock::Held);
        let failed = |error: &dyn std::fmt::Display| Failure::CannotBeDone(error.to_string());
        let (app, hold) = match Store::open(&self.data).await {
            Ok(store) => (App::locked(store, clock), None),
            Err(records::Error::NoRecord { dir }) => {
                let hold = SetUpHold::take(&dir).map_err(|error| failed(&error))?;
                (App::new_record(dir, clock), Some(hold))
            }
            Err(error) => return Err(failed(&error)),
        };
        let app = app.map_err(|error| failed(&error))?;
        let app = self.name.iter().fold(app, |app, name| app.under_name(name));
        Ok((app, hold))
    }
}

//! Adds entries to a record as fast as it can and names each on standard output, until somebody kills it.
//!
//! Arguments: folder, case, user, mode. Modes: `confirm-after` names an entry when `append` has returned, as the
//! product does; `confirm-before` names it first, which is wrong on purpose, so that the tests can show that they would
//! notice; `hold` opens the record, says so and waits.

use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;

use jiff::Timestamp;
use jiff::civil::date;
use records::{CaseId, DataKey, Draft, EntryId, Error, Store, UserId, Word};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [dir, case, user, mode] = &arguments[..] else {
        eprintln!("Usage: records-crash-writer FOLDER CASE USER confirm-after|confirm-before|hold");
        return ExitCode::from(2);
    };
    let runtime = match tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
    {
        Ok(runtime) => runtime,
        Err(error) => {
            eprintln!("{error}");
            return ExitCode::FAILURE;
        }
    };
    match runtime.block_on(write(Path::new(dir), case, user, mode)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

async fn write(dir: &Path, case: &str, user: &str, mode: &str) -> Result<(), Error> {
    let now = Timestamp::UNIX_EPOCH;
    let store = Store::open(dir)
        .await?
        .unlock_with_key(&DataKey::from_bytes(&[7; 32]), now)
        .await?;
    let (case, user) = (CaseId::parse(case)?, UserId::parse(user)?);
    let (note, at) = (Word::new("note")?, date(2026, 11, 2).at(9, 0, 0, 0));
    if mode == "hold" {
        say("open");
        std::thread::sleep(std::time::Duration::from_secs(600));
        return Ok(());
    }
    loop {
        let id = EntryId::generate(Timestamp::now())?;
        if mode == "confirm-before" {
            say(&id.to_string());
        }
        store
            .append(
                case,
                user,
                Draft::new(id, note.clone(), at, vec![b'x'; 400]),
                now,
            )
            .await?;
        if mode == "confirm-after" {
            say(&id.to_string());
        }
    }
}

/// One line, out of the process before this returns.
fn say(line: &str) {
    let mut out = std::io::stdout().lock();
    // Nobody may be listening any more; the killer decides when it ends.
    let _ = writeln!(out, "{line}").and_then(|()| out.flush());
}

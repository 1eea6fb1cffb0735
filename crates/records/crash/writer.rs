//! Adds entries to a record as fast as it can and names each on standard output, until somebody kills it.
//!
//! Arguments: folder, case, user, mode. Modes: `confirm-after` names an entry when `append` has returned, as the
//! product does; `confirm-before` names it first, which is wrong on purpose, so that the tests can show that they would
//! notice; `hold` opens the record, says so and waits; `free-and-go-on` adds until the disk is full, says why, removes the
//! file `filler` beside the folder and adds as many again.

use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;

use jiff::Timestamp;
use jiff::civil::date;
use records::{CaseId, DataKey, Draft, EntryId, Error, Store, UserId, Word};

/// Entries that are added after space was freed.
const AFTER_FREEING: usize = 20;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [dir, case, user, mode] = &arguments[..] else {
        eprintln!(
            "Usage: records-crash-writer FOLDER CASE USER confirm-after|confirm-before|hold|free-and-go-on"
        );
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
    let free = mode == "free-and-go-on";
    let mut freed = false;
    let mut left = AFTER_FREEING;
    while left > 0 {
        let id = EntryId::generate(Timestamp::now())?;
        if mode == "confirm-before" {
            say(&id.to_string());
        }
        let draft = Draft::new(id, note.clone(), at, vec![b'x'; 400]);
        match store.append(case, user, draft, now).await {
            Err(full @ Error::DiskFull { .. }) if free && !freed => {
                eprintln!("{full}");
                freed = std::fs::remove_file(dir.with_file_name("filler")).is_ok();
                continue;
            }
            outcome => drop(outcome?),
        }
        if mode != "confirm-before" {
            say(&id.to_string());
        }
        left -= usize::from(freed);
    }
    Ok(())
}

/// One line, out of the process before this returns.
fn say(line: &str) {
    let mut out = std::io::stdout().lock();
    // Nobody may be listening any more; the killer decides when it ends.
    let _ = writeln!(out, "{line}").and_then(|()| out.flush());
}

//! What holds of a record when processes die, disks fill up and two servers meet.
//!
//! A program of its own, and one test after the other: a process that is being started holds copies of every open file of
//! its parent for a moment, the lock of a record among them.

// Helpers of tests are tests.
#![allow(clippy::unwrap_used)]

#[path = "../common/mod.rs"]
mod common;

use std::process::{Child, ChildStdout, Command, Stdio};

mod full_disk;
mod killed;
mod second_server;

/// Held by each test from beginning to end.
static ONE_AT_A_TIME: tokio::sync::Mutex<()> = tokio::sync::Mutex::const_new(());

/// The writer, started on a record; killed at the latest when the test is over, however it ends.
struct Writer(Child);

impl Writer {
    fn start(dir: &std::path::Path, case: &str, user: &str, mode: &str) -> Writer {
        let mut command = Command::new(env!("CARGO_BIN_EXE_records-crash-writer"));
        command
            .arg(dir)
            .args([case, user, mode])
            .stdout(Stdio::piped());
        Writer(command.spawn().unwrap())
    }

    /// What it says.
    fn output(&mut self) -> ChildStdout {
        self.0.stdout.take().unwrap()
    }

    /// Kills it, as the system or a person would.
    fn kill(&mut self) {
        self.0.kill().unwrap();
        self.0.wait().unwrap();
    }
}

impl Drop for Writer {
    fn drop(&mut self) {
        // It may be dead already.
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

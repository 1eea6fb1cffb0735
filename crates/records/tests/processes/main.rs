//! What holds of a record when processes die, disks fill up and two servers meet.
//!
//! A program of its own, and one test after the other: a process that is being started holds copies of every open file of
//! its parent for a moment, the lock of a record among them.

// Helpers of tests are tests.
#![allow(clippy::unwrap_used)]

#[path = "../common/mod.rs"]
mod common;

mod full_disk;
mod killed;
mod second_server;

/// Held by each test from beginning to end.
static ONE_AT_A_TIME: tokio::sync::Mutex<()> = tokio::sync::Mutex::const_new(());

//! What holds of a record in a folder with SQLite: guards, lock, backup, hostile files.

// Helpers of tests are tests.
#![allow(clippy::unwrap_used)]

#[path = "../common/mod.rs"]
mod common;

mod backups;
mod clear_text;
mod folder;
mod guards;
mod hostile;
mod raw;
mod tampered;

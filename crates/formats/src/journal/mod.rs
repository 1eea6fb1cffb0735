//! Bodies of journal entries: what happened, to bytes and back.
//!
//! The record keeps bytes and a kind; only here do they meet the domain. A body says its own version, so that an
//! old record is read by a new program; a body that cannot be read is an error, never skipped.

mod choices;
mod happening;
mod plan;
mod stage;
mod word;

#[cfg(test)]
mod tests;

pub(crate) use stage::stored_stages;

pub use happening::{BodyError, kind_of, read_body, write_body};

//! Everything a patient or practitioner receives: running order, session page, print, and the drawings they share.
//!
//! Deterministic: no clock, no I/O, no randomness; output is text. Words come from `data/words`, numbers from the plan.
#![deny(missing_docs)]

mod base64;
mod json;
mod svg;

pub mod call;
pub mod look;
pub mod measure;

pub mod figure;
pub mod gallery;
pub mod page;
pub mod print;
pub mod profile;
pub mod running_order;
pub mod thread;

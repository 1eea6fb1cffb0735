//! The form for people: sentences in eighty columns, no colour.

mod columns;
mod limits;
mod reasons;

pub(crate) use columns::{hanging, wrapped};
pub(crate) use limits::limits;

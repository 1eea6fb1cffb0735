//! The form for people: sentences in eighty columns, no colour.

mod columns;
mod limits;
mod programme;
mod reasons;
mod review;

pub(crate) use columns::{hanging, wrapped};
pub(crate) use limits::limits;
pub(crate) use programme::{Told, programme};
pub(crate) use review::review;

//! The only place where files meet the domain: case, diary and service files, their schemas, JSON results and FHIR.
#![deny(missing_docs)]

mod problem;
pub mod shape;
pub mod tree;

pub use problem::{Problem, Problems};

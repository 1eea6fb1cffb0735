//! The only place where files meet the domain: case, diary and service files, their schemas, JSON results and FHIR.
#![deny(missing_docs)]

mod problem;

pub use problem::{Problem, Problems};

//! The only place where files meet the domain: case, diary and service files, their schemas, JSON results and FHIR.
#![deny(missing_docs)]

mod digests;
mod embedded;
pub mod exercise;
mod problem;

pub mod shape;
pub mod tree;
pub mod words;

mod file;

pub mod case;
pub mod diary;
pub mod instance;
pub mod movement;
pub mod service;

pub mod fhir;
pub mod journal;
pub mod json;

pub use digests::{digest_of, digests};
pub use exercise::{exercise_schema, exercises, exercises_with};
pub use file::{FileKind, SourceFile};
pub use movement::{Movements, movement_schema, movements};
pub use problem::{Problem, Problems};
pub use words::{words, words_with};

/// The files of the invented caseload that the program carries: name inside their folder and text.
pub fn demonstration_files() -> &'static [(&'static str, &'static str)] {
    embedded::DEMONSTRATION
}

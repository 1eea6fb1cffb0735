//! File formats, end to end: trees, cases, diaries, settings and schemas.

mod random;
mod support;

mod case;
mod diary_and_service;
mod fhir;
mod fhir_doubt;
mod instance;
mod schema;
mod tree;

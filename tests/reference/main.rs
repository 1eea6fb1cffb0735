//! Other people's libraries and data. Built only with the feature `outside`.

mod checker;
mod fhir;
mod instruments;

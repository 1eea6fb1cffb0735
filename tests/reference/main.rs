//! Other people's libraries and data. Built only with the feature `outside`.

mod fhir;
mod instruments;

//! Other people's libraries and data. Built only with the feature `outside`.

mod body;
mod checker;
mod fhir;
mod heart_rate;
mod icd_10;
mod instruments;
mod medicines;
mod schemas;

//! All clinical thinking of Hearthpace: from one assessment to limits, a programme, a review and an outcome.
//!
//! Pure: no I/O, no clock, no randomness, no locale, no serde. Dates and budgets are arguments, so the same
//! record gives the same answer on every machine. Results carry their reasons down to source ids.
#![deny(missing_docs)]

#[macro_use]
mod words;

pub mod calendar;
pub mod quantity;

pub mod evidence;
mod inputs;
pub mod rules;

pub mod assessment;
pub mod service;

pub mod assessed;

pub mod course;
pub mod function_tests;
pub mod instruments;
pub mod intensity;
pub mod kinetics;
pub mod load;
pub mod medicine;
pub mod metabolic;
pub mod pressure_taking;
pub mod pulse_taking;
pub mod recovery;

mod known;
mod watching;

pub mod screening;

mod adaptations;
mod capacity;
mod eligibility;
mod limits;
mod readiness;
mod risk;

mod assess;

pub mod outcome;

pub mod diary;
pub mod programme;
pub mod review;

pub mod wording;

pub use assess::assess;
pub use programme::plan;
pub use words::UnknownWord;

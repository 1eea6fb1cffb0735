//! Medicines by their international names, and what they mean for exercise.
//!
//! A brand or local name is the service's own data. What is not recognised is a question to somebody, never skipped.

mod class;
mod class_rules;
mod findings;
mod names_heart;
mod names_other;
mod recognise;
mod spelling;
mod together_rules;

pub use class::{MedicineClass, MedicineEffect};
pub use findings::{Medicines, rate_slowing_changed};
pub use recognise::{Recognition, Substance, Unknown, recognise, recognise_medicine};
pub use together_rules::hours_without_nitrate;

use crate::evidence::Rule;

/// Every rule of this module.
pub(crate) fn rules() -> impl Iterator<Item = &'static Rule> {
    together_rules::RULES.iter().chain(class_rules::RULES)
}

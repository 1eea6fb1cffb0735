//! Tests of function and capacity: equations, norms, errors, when two can be compared and what change matters.

pub mod activity_status;
pub mod chair_and_gait;
mod comparable;
pub mod senior_fitness;
pub mod shuttle_walk;
pub mod six_minute_walk;
mod smallest_change;
pub mod step_test;
mod step_test_rules;

pub use comparable::{Comparison, comparable, standard};
pub use smallest_change::{ChangeWord, SmallestChange, mcid};
pub use step_test_rules::ESTIMATE as STEP_ESTIMATE;

use crate::evidence::Rule;

/// Every rule of this module.
pub(crate) fn rules() -> impl Iterator<Item = &'static Rule> {
    six_minute_walk::RULES
        .iter()
        .chain(shuttle_walk::RULES)
        .chain(step_test_rules::RULES)
        .chain(senior_fitness::RULES)
        .chain(chair_and_gait::RULES)
        .chain(activity_status::RULES)
        .chain(smallest_change::RULES)
        .chain(comparable::RULES)
}

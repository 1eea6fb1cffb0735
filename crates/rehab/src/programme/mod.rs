//! The programme: exercises, who may do which, stations, rungs and plans.

pub mod composer;
pub mod eligible;
pub mod response;

mod alternatives;
mod at_home;
mod ceiling;
mod choices;
mod cool_down;
mod exercise;
mod few_others;
mod ground;
mod ladder;
mod make;
mod needs;
mod places;
mod plan;
mod practice;
mod signed;
mod slope;
mod warm_up;

pub use alternatives::{Others, alternatives};
pub use at_home::{Dose, GivenDose, outgrown};
pub use choices::{Alternative, Ban, Choices, Pin};
pub use exercise::{
    ArmHeight, Cost, CostGrade, Exercise, ExerciseKind, Exercises, MuscleGroup, Posture,
    PublishedCost, Restriction, RestrictionEffect, RestrictionReason, Variant, VariantRef,
};
pub(crate) use ladder::is_station;
pub use ladder::{Lever, Rung};
pub use make::{plan, plan_from, plan_with, rungs};
pub use plan::{Phase, Plan, Predicted, Segment, SegmentKind, Stage, StageSketch, page_letter};
pub use signed::{PastLimit, past_limits};

/// The rules of the programme.
pub(crate) fn rules() -> impl Iterator<Item = &'static crate::evidence::Rule> {
    response::RULES
        .iter()
        .chain(places::RULES)
        .chain(eligible::RULES)
        .chain(few_others::RULES)
        .chain(needs::RULES)
        .chain(ground::RULES)
        .chain(slope::RULES)
        .chain(warm_up::RULES)
        .chain(cool_down::RULES)
        .chain(ladder::RULES)
        .chain(make::RULES)
        .chain(practice::RULES)
}

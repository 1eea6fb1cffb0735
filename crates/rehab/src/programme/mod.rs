//! The programme: exercises, stations, rungs and plans.

pub mod composer;
pub mod response;

mod exercise;
mod plan;

pub use exercise::{
    ArmHeight, Cost, CostGrade, Exercise, ExerciseKind, Exercises, MuscleGroup, Posture,
    PublishedCost, Restriction, RestrictionEffect, RestrictionReason, Variant, VariantRef,
};
pub use plan::{Phase, Plan, Predicted, Segment, SegmentKind, Stage, StageSketch};

/// The rules of the programme.
pub(crate) fn rules() -> impl Iterator<Item = &'static crate::evidence::Rule> {
    response::RULES.iter()
}

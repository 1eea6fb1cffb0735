//! The programme: exercises, stations, rungs and plans.

mod exercise;
mod plan;

pub use exercise::{
    ArmHeight, Cost, CostGrade, Exercise, ExerciseKind, Exercises, MuscleGroup, Posture,
    PublishedCost, Restriction, RestrictionEffect, RestrictionReason, Variant, VariantRef,
};
pub use plan::{Phase, Plan, Predicted, Segment, SegmentKind, Stage, StageSketch};

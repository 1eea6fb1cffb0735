//! One variant of an exercise as this person would do it here.

use super::refusal::{Refusal, at_hand};
use super::{Ask, Watching};
use crate::assessment::{Prop, WalkingAid};
use crate::programme::places::Stop;
use crate::programme::{Exercise, RestrictionEffect, Variant, VariantRef};

/// One variant with what it costs this person, where it can be done and how well it is known to them.
#[derive(Clone, Debug, PartialEq)]
pub struct Way<'a> {
    /// Position among the open ways, by exercise id and then as the exercise lists its variants.
    pub(crate) index: usize,
    /// The exercise.
    pub exercise: &'a Exercise,
    /// The variant.
    pub variant: &'a Variant,
    /// METs, best estimate.
    pub mets: f64,
    /// METs, low end.
    pub mets_low: f64,
    /// METs, high end.
    pub mets_high: f64,
    /// Weight in each hand in grams, of those at hand; `None` without.
    pub weight_g: Option<f64>,
    /// Indices of the stops where it can be done, in the order of the walk.
    pub stops: Vec<usize>,
    /// Whether a restriction lets it stand only with care.
    pub adapted: bool,
    /// Whether a practitioner has watched this way done well, so that it may be done alone.
    pub watched: bool,
    /// Whether the person was ever watched at this exercise.
    pub learned: bool,
}

impl Way<'_> {
    /// The reference that names it.
    pub fn named(&self) -> VariantRef {
        VariantRef {
            exercise: self.exercise.id.clone(),
            variant: self.variant.id.clone(),
        }
    }
}

/// A variant that is refused, with every reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Refused<'a> {
    /// The exercise.
    pub exercise: &'a Exercise,
    /// The variant.
    pub variant: &'a Variant,
    /// What it would be.
    pub(crate) way: Way<'a>,
    /// Why it is refused.
    pub why: Vec<Refusal>,
}

pub(super) fn way<'a>(
    ask: &Ask<'_, 'a>,
    watching: &Watching,
    exercise: &'a Exercise,
    variant: &'a Variant,
) -> Way<'a> {
    let weight_g = at_hand(variant, &ask.known.case.wishes.weights_g);
    Way {
        index: 0,
        exercise,
        variant,
        mets: exercise.mets_of(variant),
        mets_low: exercise.mets_low_of(variant),
        mets_high: exercise.mets_high_of(variant),
        weight_g,
        stops: (0..ask.stops.len())
            .filter(|index| can_stand_at(variant, &ask.stops[*index]))
            .collect(),
        adapted: super::refusal::holding(ask, variant, weight_g)
            .iter()
            .any(|restriction| restriction.effect == RestrictionEffect::Adapt),
        watched: watching.done_well(&exercise.id, &variant.id),
        learned: watching.learned(&exercise.id),
    }
}

/// Whether a stop is of a kind the variant can be done at and has what it needs there.
pub(super) fn can_stand_at(variant: &Variant, stop: &Stop) -> bool {
    could_but_for_arms(variant, stop) && (!variant.needs_no_arms || stop.no_arms)
}

/// The same with arms of the chair that stand in the way, or of which nobody knows.
pub(super) fn could_but_for_arms(variant: &Variant, stop: &Stop) -> bool {
    let high_enough = variant
        .step_cm
        .is_none_or(|(low, high)| stop.height_cm.is_some_and(|cm| cm >= low && cm <= high));
    variant.places.contains(&stop.kind)
        && high_enough
        && (!variant.needs_rail || stop.rail)
        && (!variant.needs_arms || stop.arms)
}

/// Whether a thing besides weights is at hand.
pub(super) fn has_prop(ask: &Ask<'_, '_>, prop: Prop) -> bool {
    ask.known.case.home.props.contains(&prop)
}

/// Whether the person walks with a stick, or one is among the things at hand.
pub(super) fn has_stick(ask: &Ask<'_, '_>) -> bool {
    ask.known.case.function.aid == Some(WalkingAid::Stick) || has_prop(ask, Prop::Stick)
}

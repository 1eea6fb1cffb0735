//! People who have least to choose from: there is a round for each of them.

use super::{all, variants};
use rehab::assessment::{PlaceKind, Support};
use rehab::programme::{
    Exercise, ExerciseKind, Exercises, RestrictionEffect, RestrictionReason, Variant,
};
use std::collections::BTreeSet;

/// 85 per cent of a peak of 3.0 METs: what one station may reach when capacity is only estimated.
const STATION_TOP: f64 = 2.55;

/// Somebody with a chair, no things, and nobody knows whether the chair has arms.
struct Person {
    reasons: Vec<RestrictionReason>,
    station_top: f64,
}

impl Person {
    fn may(&self, exercise: &Exercise, variant: &Variant) -> bool {
        let excluded = variant.restrictions.iter().any(|one| {
            one.effect == RestrictionEffect::Exclude
                && self.reasons.contains(&one.reason)
                // A person with a weight above the bound is not this person: the variant's own weight counts.
                && one.above_weight_g.is_none_or(|above| variant.weight_g.unwrap_or(0.0) > above)
        });
        !excluded
            && variant.places.contains(&PlaceKind::Chair)
            && variant.props.is_empty()
            && !variant.needs_arms
            && !variant.needs_no_arms
            && variant.balance == 0
            && exercise.mets_of(variant) <= self.station_top
    }

    /// Movements of a kind that are different from each other.
    fn movements(&self, library: &Exercises, kind: ExerciseKind) -> BTreeSet<String> {
        let may = variants(library)
            .filter(|(exercise, variant)| exercise.is(kind) && self.may(exercise, variant));
        may.map(|(exercise, _)| exercise.alike.clone()).collect()
    }
}

#[test]
fn enough_variants_are_for_a_chair_and_bad_knees() {
    let library = all();
    let friendly = |variant: &Variant| {
        !variant.restrictions.iter().any(|one| {
            one.reason == RestrictionReason::KneePain
                || (one.reason == RestrictionReason::PoorBalance
                    && one.effect == RestrictionEffect::Exclude)
        })
    };
    let supported =
        |variant: &Variant| matches!(variant.support, Support::Seated | Support::TwoHands);
    let of = |kind: ExerciseKind, most: f64| {
        let all = variants(&library).filter(|(exercise, variant)| {
            exercise.is(kind)
                && exercise.mets_of(variant) <= most
                && friendly(variant)
                && supported(variant)
        });
        all.partition::<Vec<_>, _>(|(_, variant)| variant.support == Support::Seated)
    };
    let (seated, held) = of(ExerciseKind::Cardiovascular, STATION_TOP);
    assert!(
        seated.len() >= 12,
        "{} seated, {} held",
        seated.len(),
        held.len()
    );
    let (seated, _) = of(ExerciseKind::ActiveRecovery, STATION_TOP);
    assert!(seated.len() >= 12, "{} seated", seated.len());
}

/// Feasibility: whatever one, two or three things trouble this person, and all of them at once.
#[test]
fn law_a_chair_is_enough_for_a_round() {
    let library = all();
    let reasons = RestrictionReason::ALL;
    let mut people: Vec<Vec<RestrictionReason>> = vec![Vec::new(), reasons.to_vec()];
    for (i, one) in reasons.iter().enumerate() {
        people.push(vec![*one]);
        for (j, two) in reasons.iter().enumerate().skip(i + 1) {
            people.push(vec![*one, *two]);
            people.extend(
                reasons
                    .iter()
                    .skip(j + 1)
                    .map(|three| vec![*one, *two, *three]),
            );
        }
    }
    assert!(people.len() > 1_000);
    for reasons in people {
        for station_top in [2.125, STATION_TOP] {
            let person = Person {
                reasons: reasons.clone(),
                station_top,
            };
            for kind in [ExerciseKind::Cardiovascular, ExerciseKind::ActiveRecovery] {
                let movements = person.movements(&library, kind);
                assert!(
                    movements.len() >= 4,
                    "{kind} up to {station_top} METs for {reasons:?}: {movements:?}"
                );
            }
        }
    }
}

/// Every exercise for heart and lungs has a way for a person of 3 METs with bad knees: its own or an easier one.
#[test]
fn law_bad_knees_are_no_reason_to_leave_an_exercise_without_a_way() {
    let library = all();
    let person = Person {
        reasons: vec![RestrictionReason::KneePain, RestrictionReason::PoorBalance],
        station_top: STATION_TOP,
    };
    for exercise in library
        .iter()
        .filter(|one| one.is(ExerciseKind::Cardiovascular))
    {
        let mut at = (
            exercise,
            exercise.variants.first().expect("it has variants"),
        );
        while !person.may(at.0, at.1) {
            let next =
                at.1.easier
                    .as_ref()
                    .unwrap_or_else(|| panic!("{} has no way", exercise.id));
            at = library.find(next).expect("the loader has followed it");
        }
    }
}

#[test]
fn warm_up_and_cool_down_are_for_everybody_too() {
    let library = all();
    let person = Person {
        reasons: RestrictionReason::ALL.to_vec(),
        station_top: STATION_TOP,
    };
    for kind in [
        ExerciseKind::Mobility,
        ExerciseKind::PulseRaising,
        ExerciseKind::Stretch,
    ] {
        let movements = person.movements(&library, kind);
        assert!(movements.len() >= 3, "{kind}: {movements:?}");
    }
}

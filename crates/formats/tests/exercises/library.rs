//! The library as a whole.

use super::{all, named, variants};
use rehab::assessment::Support;
use rehab::programme::{
    ArmHeight, ExerciseKind, Posture, RestrictionEffect, RestrictionReason, Variant,
};

/// Families that likes and dislikes may name.
const FAMILIES: [&str; 13] = [
    "walking",
    "marching",
    "step",
    "arms",
    "legs",
    "chair",
    "balance",
    "strength",
    "stretch",
    "dance",
    "weights",
    "band",
    "breathing",
];

#[test]
fn the_library_is_large_enough() {
    let library = all();
    assert_eq!(library.len(), 67);
    let count = variants(&library).count();
    assert!(count >= 160, "{count}");
    for exercise in library.iter() {
        let ways = exercise.variants.len();
        assert!(
            (2..=6).contains(&ways),
            "{} has {ways} variants",
            exercise.id
        );
    }
}

#[test]
fn law_variants_stand_hardest_first() {
    for exercise in all().iter() {
        let mets: Vec<f64> = exercise
            .variants
            .iter()
            .map(|one| exercise.mets_of(one))
            .collect();
        assert!(
            mets.is_sorted_by(|a, b| a >= b),
            "{}: {mets:?}",
            exercise.id
        );
        let own = exercise.variants.iter().find(|one| one.net_factor == 1.0);
        assert!(
            own.is_some_and(|one| one.basis.is_empty()),
            "{}: no variant has the cost itself",
            exercise.id
        );
    }
}

#[test]
fn law_a_cost_lies_within_its_ends() {
    let library = all();
    for (exercise, variant) in variants(&library) {
        let (low, best, high) = (
            exercise.mets_low_of(variant),
            exercise.mets_of(variant),
            exercise.mets_high_of(variant),
        );
        assert!(
            1.0 <= low && low <= best && best <= high,
            "{}/{}",
            exercise.id,
            variant.id
        );
    }
}

#[test]
fn a_stretch_is_held_and_work_is_repeated() {
    let library = all();
    for (exercise, variant) in variants(&library) {
        let name = format!("{}/{}", exercise.id, variant.id);
        if exercise.is(ExerciseKind::Cardiovascular) {
            assert!(variant.per_minute.is_some(), "{name}");
        }
        if exercise.is(ExerciseKind::Stretch) && exercise.id != "quiet-breathing" {
            let (from, to) = variant
                .hold_s
                .unwrap_or_else(|| panic!("{name} is not held"));
            // Common practice, no source: 8 to 10 s in a warm-up, 15 to 30 s in a cool-down.
            assert!(from <= 8.0 && to >= 15.0, "{name}");
        }
    }
}

#[test]
fn families_are_those_that_wishes_may_name() {
    for exercise in all().iter() {
        for family in &exercise.families {
            assert!(
                FAMILIES.contains(&family.as_str()),
                "{}: {family}",
                exercise.id
            );
        }
    }
}

fn restricts(variant: &Variant, reason: RestrictionReason) -> bool {
    variant.restrictions.iter().any(|one| one.reason == reason)
}

fn excludes(variant: &Variant, reason: RestrictionReason) -> bool {
    let found = variant.restrictions.iter();
    found
        .filter(|one| one.reason == reason)
        .any(|one| one.effect == RestrictionEffect::Exclude)
}

#[test]
fn law_raised_arms_are_restricted() {
    let library = all();
    let mut above = Vec::new();
    for (exercise, variant) in variants(&library) {
        let name = format!("{}/{}", exercise.id, variant.id);
        if variant.arms == ArmHeight::AboveShoulder {
            above.push(exercise.id.clone());
            for reason in [
                RestrictionReason::ShoulderPain,
                RestrictionReason::Sternotomy,
                RestrictionReason::DeviceArm,
            ] {
                assert!(excludes(variant, reason), "{name}: {reason}");
            }
        }
        // The hug stays in front of the body; its hands come to the shoulder without lifting the arm.
        if variant.arms == ArmHeight::Shoulder {
            assert!(
                restricts(variant, RestrictionReason::ShoulderPain),
                "{name}"
            );
        }
    }
    above.dedup();
    assert_eq!(above, ["overhead-press", "upper-arm-stretch"]);
}

#[test]
fn law_unsupported_single_leg_work_is_not_for_poor_balance() {
    let library = all();
    for (exercise, variant) in variants(&library) {
        if variant.balance >= 2 {
            let name = format!("{}/{}", exercise.id, variant.id);
            assert!(excludes(variant, RestrictionReason::PoorBalance), "{name}");
        }
    }
}

#[test]
fn law_getting_up_again_and_again_is_not_for_pressure_that_falls_on_standing() {
    let library = all();
    for (exercise, variant) in variants(&library).filter(|(_, one)| one.posture == Posture::Rising)
    {
        let name = format!("{}/{}", exercise.id, variant.id);
        assert!(
            restricts(variant, RestrictionReason::OrthostaticHypotension),
            "{name}"
        );
    }
}

/// Departure: arm circles and reach-and-pull take the factor of arm work too, which the list of the source leaves out.
#[test]
fn arm_work_raises_the_pulse_more() {
    const ARM_WORK: [&str; 14] = [
        "punches",
        "seated-punches",
        "wall-press",
        "arm-curls",
        "side-raises",
        "front-raises",
        "arm-press-back",
        "upright-rows",
        "seated-rows",
        "band-pulls",
        "stick-raises",
        "small-arm-circles",
        "reach-and-pull",
        "overhead-press",
    ];
    for exercise in all().iter() {
        let expected = match exercise.id.as_str() {
            "overhead-press" => 1.15,
            id if ARM_WORK.contains(&id) => 1.10,
            _ => 1.0,
        };
        assert_eq!(exercise.hr_gain, expected, "{}", exercise.id);
    }
}

#[test]
fn stairs_without_a_pause_are_for_few() {
    let library = all();
    let (exercise, variant) = named(&library, "stairs-up-and-down/rail-slow");
    assert_eq!(exercise.least_peak_mets, Some(8.0));
    assert!(excludes(variant, RestrictionReason::HighRisk));
}

#[test]
fn law_the_last_easier_version_is_for_everybody() {
    let library = all();
    for (exercise, variant) in
        variants(&library).filter(|(one, _)| one.is(ExerciseKind::Cardiovascular))
    {
        let (mut at, mut doing) = (variant, exercise);
        while let Some(next) = &at.easier {
            (doing, at) = library.find(next).expect("the loader has followed it");
        }
        let name = format!(
            "{}/{} ends in {}/{}",
            exercise.id, variant.id, doing.id, at.id
        );
        assert_eq!(at.support, Support::Seated, "{name}");
        assert!(doing.mets_of(at) <= 2.0, "{name}");
        assert!(at.restrictions.is_empty(), "{name}");
        assert!(at.props.is_empty(), "{name}");
    }
}

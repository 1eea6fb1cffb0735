//! The library of exercises as data: what the loader does not refuse but the library promises.

use formats::{exercises, words};
use rehab::assessment::Support;
use rehab::programme::{Exercise, ExerciseKind, Exercises, Variant};

fn library() -> Exercises {
    exercises().unwrap_or_else(|problems| panic!("{problems}"))
}

fn variants(exercises: &Exercises) -> impl Iterator<Item = (&Exercise, &Variant)> {
    exercises.iter().flat_map(|exercise| {
        exercise
            .variants
            .iter()
            .map(move |variant| (exercise, variant))
    })
}

#[test]
fn every_file_of_the_library_is_read_and_joined() {
    assert!(!library().is_empty());
}

#[test]
fn every_variant_has_words() {
    let words = words("en-GB").unwrap_or_else(|problems| panic!("{problems}"));
    assert_eq!(formats::words::without_words(&library(), &words), []);
}

#[test]
fn law_variants_stand_hardest_first() {
    for exercise in library().iter() {
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
    }
}

#[test]
fn a_stretch_is_held_and_work_is_repeated() {
    let library = library();
    for (exercise, variant) in variants(&library) {
        if exercise.is(ExerciseKind::Cardiovascular) {
            assert!(
                variant.per_minute.is_some(),
                "{}/{}",
                exercise.id,
                variant.id
            );
        }
        if variant.support == Support::Seated {
            assert_eq!(variant.balance, 0, "{}/{}", exercise.id, variant.id);
        }
    }
}

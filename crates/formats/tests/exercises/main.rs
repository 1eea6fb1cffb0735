//! The library of exercises as data: what the loader does not refuse but the library promises.

mod costs;
mod files;
mod library;
mod people;

use rehab::programme::{Exercise, Exercises, Variant, VariantRef};

/// The library that the program carries.
fn all() -> Exercises {
    formats::exercises().unwrap_or_else(|problems| panic!("{problems}"))
}

/// Every variant with its exercise.
fn variants(exercises: &Exercises) -> impl Iterator<Item = (&Exercise, &Variant)> {
    exercises.iter().flat_map(|exercise| {
        exercise
            .variants
            .iter()
            .map(move |variant| (exercise, variant))
    })
}

/// A variant by its name as in files.
fn named<'e>(exercises: &'e Exercises, name: &str) -> (&'e Exercise, &'e Variant) {
    let (exercise, variant) = name.split_once('/').expect("exercise/variant");
    let wanted = VariantRef {
        exercise: exercise.to_owned(),
        variant: variant.to_owned(),
    };
    exercises
        .find(&wanted)
        .unwrap_or_else(|| panic!("{name} is not there"))
}

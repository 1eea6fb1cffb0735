//! Exercise files: one exercise each, facts only; its words stand under `data/words`.
//!
//! A service's own files are read with the same function and joined with the library, without compiling anything.

mod join;
mod read;
mod shape;

use crate::embedded;
use crate::{Problem, Problems};
use rehab::programme::{Exercise, Exercises};

pub use join::join;
pub use shape::EXERCISE;
pub(crate) use shape::check_id;

/// Reads the text of one exercise file.
///
/// # Errors
/// Every problem of the file, each with its key path and line.
pub fn parse(text: &str, file: &str) -> Result<Exercise, Problems> {
    read::parse(text, file)
}

/// The library that the program carries.
///
/// # Errors
/// None in a build whose tests passed: every file of the library is read there.
pub fn exercises() -> Result<Exercises, Problems> {
    exercises_with(&[])
}

/// The library together with a service's own files, given as name and text.
///
/// # Errors
/// Every problem of the own files, and references between exercises that lead nowhere.
pub fn exercises_with(own: &[(String, String)]) -> Result<Exercises, Problems> {
    let library = embedded::EXERCISES.iter().copied();
    let own = own
        .iter()
        .map(|(file, text)| (file.as_str(), text.as_str()));
    let mut list = Vec::new();
    let mut problems = Vec::new();
    for (file, text) in library.chain(own) {
        match parse(text, file) {
            Ok(exercise) => list.push((file.to_owned(), exercise)),
            Err(Problems(more)) => problems.extend(more),
        }
    }
    if problems.is_empty() {
        join(list)
    } else {
        Err(Problems(problems))
    }
}

/// The JSON Schema of an exercise file.
pub fn exercise_schema() -> serde_json::Value {
    crate::shape::schema(&EXERCISE)
}

fn problem(file: &str, key_path: &str, message: String) -> Problem {
    Problem {
        file: file.to_owned(),
        key_path: key_path.to_owned(),
        line: None,
        message,
    }
}

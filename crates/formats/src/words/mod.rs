//! Files of words: sentences by id, and what is said about each exercise and variant.
//!
//! `data/words/<language>/<file>.toml` holds sentences; the id of `rest` in `page.toml` is `page.rest`, tables add a
//! part each. `data/words/<language>/exercises/*.toml` holds a table for each exercise, `[march]`, and one for each
//! variant, `["march/one-hand"]`, which says only what differs.

mod exercise;
mod sentence;

use crate::embedded;
use crate::{Problem, Problems};
use rehab::programme::{Exercises, VariantRef};
use rehab::wording::Words;
use std::collections::BTreeMap;

/// Folder of the words of exercises inside a language.
const EXERCISES: &str = "exercises/";

/// The words of a language that the program carries.
///
/// # Errors
/// A language without words; else none in a build whose tests passed.
pub fn words(language: &str) -> Result<Words, Problems> {
    words_with(language, &[])
}

/// The words of a language with a service's own words of exercises, given as name and text.
///
/// # Errors
/// A language without words, and every problem of the own files.
pub fn words_with(language: &str, own: &[(String, String)]) -> Result<Words, Problems> {
    let mut sentences = BTreeMap::new();
    let mut said = exercise::Said::default();
    let mut problems = Vec::new();
    let prefix = format!("{language}/");
    let mut found = false;
    for (name, text) in embedded::WORDS {
        let Some(file) = name.strip_prefix(&prefix) else {
            continue;
        };
        found = true;
        let read = if file.starts_with(EXERCISES) {
            exercise::read(name, text, &mut said)
        } else {
            sentence::read(name, file, text, &mut sentences)
        };
        problems.extend(read.err().map(|more| more.0).unwrap_or_default());
    }
    if !found {
        problems.push(no_language(language));
    }
    for (name, text) in own {
        let read = exercise::read(name, text, &mut said);
        problems.extend(read.err().map(|more| more.0).unwrap_or_default());
    }
    if !problems.is_empty() {
        return Err(Problems(problems));
    }
    let exercises = said.resolve()?;
    Ok(Words::new(language.to_owned(), sentences, exercises))
}

/// Languages that the program carries words of.
pub fn languages() -> Vec<&'static str> {
    let mut languages: Vec<&str> = embedded::WORDS
        .iter()
        .filter_map(|(name, _)| name.split_once('/').map(|(language, _)| language))
        .collect();
    languages.dedup();
    languages
}

/// Variants that have no words: nobody may be given them.
pub fn without_words(exercises: &Exercises, words: &Words) -> Vec<VariantRef> {
    let all = exercises.iter().flat_map(|exercise| {
        exercise.variants.iter().map(|variant| VariantRef {
            exercise: exercise.id.clone(),
            variant: variant.id.clone(),
        })
    });
    all.filter(|named| words.exercise(named).is_none())
        .collect()
}

fn no_language(language: &str) -> Problem {
    Problem {
        file: format!("data/words/{language}"),
        key_path: String::new(),
        line: None,
        message: format!(
            "there are no words in '{language}'; choose one of {}",
            languages().join(", ")
        ),
    }
}

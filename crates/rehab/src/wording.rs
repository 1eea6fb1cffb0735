//! The words a person reads, as plain values: sentences by id, and what is said about each exercise.
//!
//! The words themselves stand in files under `data/words`; readers fill these types, handouts and pages draw from
//! them. A placeholder is written `{name}` and is filled once, so a value that holds braces is never filled again.

use crate::programme::VariantRef;
use std::collections::BTreeMap;

/// What is said about one exercise or one variant: short plain sentences.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ExerciseWords {
    /// Name, short and plain: "Sit and stand".
    pub name: String,
    /// How this variant differs, in a few words: "slowly, hands on the arms".
    pub way: String,
    /// Where to stand or sit and what to hold, before it begins.
    pub set_up: String,
    /// What to do: at most three short sentences.
    pub say: Vec<String>,
    /// The common fault and its cure.
    pub watch: String,
    /// What it should feel like.
    pub feel: String,
    /// How to breathe.
    pub breathe: String,
    /// What to take care of.
    pub care: String,
    /// The daily task it serves ("for the step of the bus"); empty where it serves none.
    pub serves: String,
}

/// Every word a person reads, in one language.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words {
    language: String,
    sentences: BTreeMap<String, String>,
    exercises: BTreeMap<VariantRef, ExerciseWords>,
}

impl Words {
    /// Words of a language: sentences by id and the words of every variant.
    pub const fn new(
        language: String,
        sentences: BTreeMap<String, String>,
        exercises: BTreeMap<VariantRef, ExerciseWords>,
    ) -> Self {
        Self {
            language,
            sentences,
            exercises,
        }
    }

    /// Language tag.
    pub fn language(&self) -> &str {
        &self.language
    }

    /// The sentence of an id, where there is one.
    pub fn find(&self, id: &str) -> Option<&str> {
        self.sentences.get(id).map(String::as_str)
    }

    /// The sentence of an id.
    ///
    /// An id without a sentence is a mistake of ours that a test finds: a debug build stops, a release shows the id
    /// itself, because a page with one odd word is better than no page.
    pub fn get<'words>(&'words self, id: &'words str) -> &'words str {
        debug_assert!(
            self.sentences.contains_key(id),
            "no words for '{id}'; add them to data/words"
        );
        self.find(id).unwrap_or(id)
    }

    /// The sentence of an id with its placeholders filled.
    ///
    /// A placeholder without a value is a mistake of ours: a debug build stops, a release leaves it as it stands.
    pub fn fill(&self, id: &str, values: &[(&str, &str)]) -> String {
        fill(self.get(id), values)
    }

    /// Every id, in order.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.sentences.keys().map(String::as_str)
    }

    /// What is said about a variant of an exercise.
    pub fn exercise(&self, named: &VariantRef) -> Option<&ExerciseWords> {
        self.exercises.get(named)
    }

    /// The words of every variant, in order.
    pub fn exercises(&self) -> impl Iterator<Item = (&VariantRef, &ExerciseWords)> {
        self.exercises.iter()
    }
}

/// Fills the placeholders of a text.
///
/// A placeholder without a value is a mistake of ours: a debug build stops, a release leaves it as it stands.
pub fn fill(text: &str, values: &[(&str, &str)]) -> String {
    let mut filled = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, name, after)) = next_placeholder(rest) {
        filled.push_str(before);
        let value = values.iter().find(|(known, _)| *known == name);
        debug_assert!(value.is_some(), "no value for '{{{name}}}' in '{text}'");
        match value {
            Some((_, value)) => filled.push_str(value),
            None => {
                filled.push('{');
                filled.push_str(name);
                filled.push('}');
            }
        }
        rest = after;
    }
    filled.push_str(rest);
    filled
}

/// Names of the placeholders of a text, in their order.
pub fn placeholders(text: &str) -> Vec<&str> {
    let mut names = Vec::new();
    let mut rest = text;
    while let Some((_, name, after)) = next_placeholder(rest) {
        names.push(name);
        rest = after;
    }
    names
}

fn next_placeholder(text: &str) -> Option<(&str, &str, &str)> {
    let (before, opened) = text.split_once('{')?;
    let (name, after) = opened.split_once('}')?;
    Some((before, name, after))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words() -> Words {
        let sentences = [
            ("page.rest", "Rest"),
            ("page.ring", "Ring {team} on {number}."),
        ];
        Words::new(
            "en-GB".to_owned(),
            sentences
                .iter()
                .map(|(id, text)| ((*id).to_owned(), (*text).to_owned()))
                .collect(),
            BTreeMap::new(),
        )
    }

    #[test]
    fn a_sentence_is_found_by_its_id() {
        assert_eq!(words().get("page.rest"), "Rest");
        assert_eq!(words().find("page.unknown"), None);
    }

    #[test]
    fn placeholders_are_filled_once_and_a_value_with_braces_stays_as_it_is() {
        let filled = words().fill(
            "page.ring",
            &[("number", "01632 960 117"), ("team", "{number}")],
        );
        assert_eq!(filled, "Ring {number} on 01632 960 117.");
    }

    #[test]
    fn placeholders_are_listed_in_their_order() {
        assert_eq!(placeholders("Ring {team} on {number}."), ["team", "number"]);
        assert_eq!(placeholders("An open { brace"), Vec::<&str>::new());
    }

    #[test]
    #[cfg(debug_assertions)]
    #[should_panic(expected = "no value for '{team}'")]
    fn a_placeholder_without_a_value_stops_a_debug_build() {
        words().fill("page.ring", &[("number", "01632 960 117")]);
    }
}

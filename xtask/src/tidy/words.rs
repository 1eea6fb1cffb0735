//! Every id that a person may read has words in British English, and no handout promises what nobody can.

use std::collections::BTreeSet;

use super::rust_text::names;
use super::tree::{File, Tree, Violation};

const EXERCISES: &str = "data/exercises/";
const WORDS: &str = "data/words/en-GB/";

/// What no handout and no screen says (DESIGN.md, intended use).
const PROMISES: [&str; 5] = ["safe", "safely", "optimal", "optimally", "proven"];

/// Every exercise or variant without words, and every promise.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let mut violations = Vec::new();
    let mut keys = BTreeSet::new();
    for file in tree.files_under(WORDS, ".toml") {
        match file.text.parse::<toml::Table>() {
            Ok(table) => collect_keys("", &table, &mut keys),
            Err(error) => violations.push(Violation::of_file(
                &file.path,
                format!("cannot be read: {error}"),
            )),
        }
    }
    for file in tree.files_under(EXERCISES, ".toml") {
        violations.extend(without_words(file, &keys));
    }
    for file in tree.files_under("data/words/en-", "") {
        violations.extend(promises(file));
    }
    violations
}

fn without_words(file: &File, keys: &BTreeSet<String>) -> Vec<Violation> {
    let Ok(table) = file.text.parse::<toml::Table>() else {
        return vec![Violation::of_file(&file.path, "is not TOML")];
    };
    let stem = file
        .path
        .trim_start_matches(EXERCISES)
        .trim_end_matches(".toml");
    let Some(id) = table.get("id").and_then(toml::Value::as_str) else {
        return vec![Violation::of_file(&file.path, "has no id")];
    };
    let mut violations = Vec::new();
    if id != stem {
        violations.push(Violation::of_file(
            &file.path,
            format!("its id is {id}; file and id are named alike"),
        ));
    }
    if !keys.iter().any(|key| key.split('.').any(|part| part == id)) {
        violations.push(Violation::of_file(
            &file.path,
            format!("{id} has no words in {WORDS}"),
        ));
    }
    violations
}

/// Every key of a file of words with its tables in front, such as `exercise.heel-dig.name`.
fn collect_keys(before: &str, table: &toml::Table, keys: &mut BTreeSet<String>) {
    for (key, value) in table {
        let path = if before.is_empty() {
            key.clone()
        } else {
            format!("{before}.{key}")
        };
        match value {
            toml::Value::Table(inner) => collect_keys(&path, inner, keys),
            _ => {
                keys.insert(path);
            }
        }
    }
}

fn promises(file: &File) -> Vec<Violation> {
    (1..)
        .zip(file.text.lines())
        .flat_map(|(number, line)| names(line).map(move |name| (number, name)))
        .filter(|(_, name)| PROMISES.contains(&name.to_lowercase().as_str()))
        .map(|(number, name)| {
            Violation::at(
                &file.path,
                number,
                format!("nothing a person reads says `{name}`"),
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::tree::Tree;
    use super::find;

    const EXERCISE: (&str, &str) = ("data/exercises/heel-dig.toml", "id = \"heel-dig\"\n");

    #[test]
    fn an_exercise_without_words_is_found() {
        assert_eq!(find(&Tree::of(&[EXERCISE])).len(), 1);
        let words = (
            "data/words/en-GB/exercises.toml",
            "[heel-dig]\nname = \"Heel to the front\"\n",
        );
        assert_eq!(find(&Tree::of(&[EXERCISE, words])).len(), 0);
    }

    #[test]
    fn a_file_named_unlike_its_id_is_found() {
        let words = (
            "data/words/en-GB/exercises.toml",
            "[heel-dig]\nname = \"Heel to the front\"\n",
        );
        let other = ("data/exercises/heel.toml", EXERCISE.1);
        assert_eq!(find(&Tree::of(&[other, words])).len(), 1);
    }

    #[test]
    fn a_promise_is_found() {
        let words = (
            "data/words/en-GB/page.toml",
            "start = \"This is Safe for you\"\n",
        );
        assert_eq!(find(&Tree::of(&[words])).len(), 1);
        let words = (
            "data/words/en-GB/page.toml",
            "start = \"In safety: unsafe\"\n",
        );
        assert_eq!(find(&Tree::of(&[words])).len(), 0);
    }
}

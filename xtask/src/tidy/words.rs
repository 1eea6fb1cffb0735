//! Everything that code or data show to a person has words in British English, and no words promise what nobody can.
//!
//! A sentence of `data/words/en-GB/page.toml` has the id `page.` followed by its tables and key. What is said about an
//! exercise stands in `data/words/en-GB/exercises/`, under its id and under `id/variant`.

use std::collections::{BTreeMap, BTreeSet};

use super::rust_text::{line_of, names, text_literals};
use super::tree::{File, Tree, Violation};

const EXERCISES: &str = "data/exercises/";
const WORDS: &str = "data/words/en-GB/";
const EXERCISE_WORDS: &str = "data/words/en-GB/exercises/";

/// What no handout and no screen says (DESIGN.md, intended use).
const PROMISES: [&str; 5] = ["safe", "safely", "optimal", "optimally", "proven"];

/// Every exercise, variant or id without words, every word without an exercise, and every promise.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let mut violations = Vec::new();
    let said: BTreeMap<String, &str> = tree
        .files_under(EXERCISE_WORDS, ".toml")
        .flat_map(|file| {
            table_of(file)
                .into_iter()
                .map(|(key, _)| (key, file.path.as_str()))
        })
        .collect();
    let mut shown = BTreeSet::new();
    for file in tree.files_under(EXERCISES, ".toml") {
        let (ids, fault) = ids_of(file);
        violations.extend(fault);
        let silent = ids.iter().filter(|id| !said.contains_key(*id));
        violations.extend(silent.map(|id| {
            Violation::of_file(&file.path, format!("{id} has no words in {EXERCISE_WORDS}"))
        }));
        shown.extend(ids);
    }
    let idle = said.iter().filter(|(id, _)| !shown.contains(*id));
    violations.extend(idle.map(|(id, path)| {
        Violation::of_file(path, format!("there is no exercise or variant {id}"))
    }));
    violations.extend(unknown_sentences(tree));
    for file in tree.files_under("data/words/en-", "") {
        violations.extend(promises(file));
    }
    violations
}

/// A file that is not TOML has no entries here; its reader refuses it.
fn table_of(file: &File) -> toml::Table {
    file.text.parse().unwrap_or_default()
}

/// The ids that a file of `data/exercises` brings: its own and `id/variant` for each variant.
fn ids_of(file: &File) -> (Vec<String>, Option<Violation>) {
    let table = table_of(file);
    let stem = file
        .path
        .trim_start_matches(EXERCISES)
        .trim_end_matches(".toml");
    let Some(id) = table.get("id").and_then(toml::Value::as_str) else {
        return (
            Vec::new(),
            Some(Violation::of_file(&file.path, "has no id")),
        );
    };
    let fault = (id != stem).then(|| {
        Violation::of_file(
            &file.path,
            format!("its id is {id}; file and id are named alike"),
        )
    });
    let variants = table
        .get("variant")
        .and_then(toml::Value::as_array)
        .into_iter()
        .flatten();
    let mut ids = vec![id.to_owned()];
    ids.extend(
        variants
            .filter_map(|variant| variant.get("id").and_then(toml::Value::as_str))
            .map(|variant| format!("{id}/{variant}")),
    );
    (ids, fault)
}

/// Every literal in code that looks like the id of a sentence, or the beginning of one, and is none.
fn unknown_sentences(tree: &Tree) -> Vec<Violation> {
    let sentences = sentence_ids(tree);
    let ids: BTreeSet<&str> = sentences.iter().map(|(_, id)| id.as_str()).collect();
    let stems: BTreeSet<&str> = ids.iter().filter_map(|id| id.split('.').next()).collect();
    let mut violations = Vec::new();
    for file in tree
        .files_under("crates/", ".rs")
        .filter(|file| !file.is_test())
    {
        for (at, literal) in text_literals(&file.text) {
            let Some((stem, rest)) = literal.split_once('.') else {
                continue;
            };
            if !stems.contains(stem) || !looks_like_an_id(rest) {
                continue;
            }
            // What is filled in, or appended, is known only when the program runs.
            let (beginning, open) = match literal.split_once('{') {
                Some((beginning, _)) => (beginning, true),
                None => (literal, literal.ends_with(['.', '-'])),
            };
            let known = if open {
                ids.iter().any(|id| id.starts_with(beginning))
            } else {
                ids.contains(literal)
            };
            if !known {
                let what = format!("no file of {WORDS} has the sentence `{literal}`");
                violations.push(Violation::at(&file.path, line_of(&file.text, at), what));
            }
        }
    }
    violations
}

/// Every sentence with the file it stands in.
pub(super) fn sentence_ids(tree: &Tree) -> Vec<(&str, String)> {
    let mut all = Vec::new();
    for file in tree.files_under(WORDS, ".toml") {
        let stem = file
            .path
            .trim_start_matches(WORDS)
            .trim_end_matches(".toml");
        if !stem.contains('/') {
            let mut ids = BTreeSet::new();
            collect_ids(stem, &table_of(file), &mut ids);
            all.extend(ids.into_iter().map(|id| (file.path.as_str(), id)));
        }
    }
    all
}

fn looks_like_an_id(rest: &str) -> bool {
    let plain = |character: char| character.is_ascii_alphanumeric() || ".-_{}".contains(character);
    let names_a_file = [".toml", ".html", ".css", ".js", ".json", ".pdf"]
        .iter()
        .any(|end| format!(".{rest}").ends_with(end));
    rest.chars().all(plain) && !names_a_file
}

fn collect_ids(before: &str, table: &toml::Table, ids: &mut BTreeSet<String>) {
    for (key, value) in table {
        let id = format!("{before}.{key}");
        match value {
            toml::Value::Table(inner) => collect_ids(&id, inner, ids),
            _ => {
                ids.insert(id);
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

    const EXERCISE: (&str, &str) = (
        "data/exercises/heel-dig.toml",
        "id = \"heel-dig\"\n[[variant]]\nid = \"seated\"\n",
    );
    const SAID: (&str, &str) = (
        "data/words/en-GB/exercises/heel-dig.toml",
        "[heel-dig]\nname = \"Heel\"\n[\"heel-dig/seated\"]\nway = \"sitting\"\n",
    );
    const PAGE: (&str, &str) = (
        "data/words/en-GB/page.toml",
        "rest = \"Rest\"\n[start]\nbegin = \"Begin\"\n",
    );

    fn found(files: &[(&str, &str)]) -> Vec<String> {
        find(&Tree::of(files))
            .iter()
            .map(ToString::to_string)
            .collect()
    }

    #[test]
    fn an_exercise_or_variant_without_words_is_found() {
        assert_eq!(found(&[EXERCISE, SAID]), Vec::<String>::new());
        assert_eq!(found(&[EXERCISE]).len(), 2);
        let half = (SAID.0, "[heel-dig]\nname = \"Heel\"\n");
        assert_eq!(
            found(&[EXERCISE, half]),
            [
                "data/exercises/heel-dig.toml: heel-dig/seated has no words in data/words/en-GB/exercises/"
            ]
        );
    }

    #[test]
    fn words_without_an_exercise_are_found() {
        assert_eq!(found(&[SAID]).len(), 2);
    }

    #[test]
    fn a_file_named_unlike_its_id_is_found() {
        assert_eq!(
            found(&[("data/exercises/heel.toml", EXERCISE.1), SAID]).len(),
            1
        );
        assert_eq!(
            found(&[("data/exercises/heel.toml", "kind = 1\n")]).len(),
            1
        );
    }

    #[test]
    fn a_sentence_that_is_not_there_is_found() {
        let code = |text: &'static str| ("crates/handouts/src/a.rs", text);
        for good in [
            "get(\"page.rest\")",
            "format!(\"page.start.{x}\")",
            "\"page.start.\"",
            "\"page.toml\"",
            "\"page. A\"",
            "\"other.rest\"",
        ] {
            assert_eq!(found(&[PAGE, code(good)]), Vec::<String>::new(), "{good}");
        }
        for bad in [
            "get(\"page.stop\")",
            "format!(\"page.end.{x}\")",
            "\"page.start.go\"",
            "\"page.end-\"",
        ] {
            assert_eq!(found(&[PAGE, code(bad)]).len(), 1, "{bad}");
        }
    }

    #[test]
    fn a_promise_is_found() {
        let words = |text: &'static str| ("data/words/en-GB/page.toml", text);
        assert_eq!(
            found(&[words("start = \"This is Safe for you\"\n")]).len(),
            1
        );
        assert_eq!(found(&[words("start = \"In safety: unsafe\"\n")]).len(), 0);
    }
}

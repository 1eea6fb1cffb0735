//! Every source that code or data name stands in the register, and every entry of the register is whole.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::rust_text;
use super::tree::{File, Tree, Violation};

const FOLDER: &str = "sources/";

/// How well a number is known; a practice without a source has no entry at all.
const TAGS: [&str; 3] = ["read", "recalled", "ours"];

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Register {
    #[serde(default)]
    source: Vec<Entry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    id: String,
    /// Author, year, title, where printed.
    citation: String,
    /// Which numbers or rules were taken from it.
    taken: String,
    tag: String,
    #[serde(default)]
    note: Option<String>,
}

/// Every incomplete or doubled entry, and every use of an id without one.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let mut violations = Vec::new();
    let mut known: BTreeMap<String, String> = BTreeMap::new();
    for file in tree.files_under(FOLDER, ".toml") {
        let register: Register = match toml::from_str(&file.text) {
            Ok(register) => register,
            Err(error) => {
                violations.push(Violation::of_file(
                    &file.path,
                    format!("cannot be read: {error}"),
                ));
                continue;
            }
        };
        for entry in register.source {
            violations.extend(
                faults(&entry)
                    .into_iter()
                    .map(|what| Violation::of_file(&file.path, what)),
            );
            if let Some(other) = known.insert(entry.id.clone(), file.path.clone()) {
                violations.push(Violation::of_file(
                    &file.path,
                    format!("`{}` stands in {other} too", entry.id),
                ));
            }
        }
    }
    let used = tree
        .files_under("crates/", ".rs")
        .flat_map(used_in_code)
        .chain(tree.files_under("data/", ".toml").flat_map(used_in_data));
    for (path, line, id) in used {
        if !known.contains_key(&id) {
            violations.push(Violation::at(
                &path,
                line,
                format!("the source `{id}` is in no file of {FOLDER}"),
            ));
        }
    }
    violations
}

fn faults(entry: &Entry) -> Vec<String> {
    let id = &entry.id;
    let mut faults = Vec::new();
    let plain = |character: char| {
        character.is_ascii_lowercase() || character.is_ascii_digit() || character == '-'
    };
    if id.is_empty() || !id.chars().all(plain) {
        faults.push(format!(
            "`{id}`: an id is small letters, digits and hyphens"
        ));
    }
    let empty = |text: &str| text.trim().is_empty();
    if empty(&entry.citation) || empty(&entry.taken) || entry.note.as_deref().is_some_and(empty) {
        faults.push(format!(
            "`{id}`: citation, taken and note are sentences, not empty"
        ));
    }
    if !TAGS.contains(&entry.tag.as_str()) {
        faults.push(format!("`{id}`: the tag is one of {}", TAGS.join(", ")));
    }
    faults
}

type Use = (String, usize, String);

/// The ids written as `SourceId("...")`, outside tests.
fn used_in_code(file: &File) -> Vec<Use> {
    const MARK: &str = "SourceId(";
    let code = if file.is_test() {
        String::new()
    } else {
        file.plain_code()
    };
    code.match_indices(MARK)
        .filter_map(|(at, _)| {
            // The literal was blanked out in `code`; the source has it at the same byte.
            let literal = file.text[at + MARK.len()..]
                .trim_start()
                .strip_prefix('"')?;
            let (id, _) = literal.split_once('"')?;
            Some((
                file.path.clone(),
                rust_text::line_of(&file.text, at),
                id.to_owned(),
            ))
        })
        .collect()
}

/// The ids in data: `source = "..."` and `sources = [...]` at any depth. A file that is not TOML is the loader's to refuse.
fn used_in_data(file: &File) -> Vec<Use> {
    let mut ids = Vec::new();
    if let Ok(table) = file.text.parse::<toml::Table>() {
        collect(&toml::Value::Table(table), &mut ids);
    }
    ids.into_iter()
        .map(|id| {
            let at = file.text.find(&format!("\"{id}\"")).unwrap_or(0);
            (file.path.clone(), rust_text::line_of(&file.text, at), id)
        })
        .collect()
}

fn collect(value: &toml::Value, ids: &mut Vec<String>) {
    match value {
        toml::Value::Array(values) => values.iter().for_each(|value| collect(value, ids)),
        toml::Value::Table(table) => {
            for (key, value) in table {
                match (key.as_str(), value) {
                    ("source", toml::Value::String(id)) => ids.push(id.clone()),
                    ("sources", toml::Value::Array(list)) => {
                        ids.extend(
                            list.iter()
                                .filter_map(toml::Value::as_str)
                                .map(str::to_owned),
                        );
                    }
                    _ => collect(value, ids),
                }
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::super::tree::Tree;
    use super::find;

    const ENTRY: &str =
        "[[source]]\nid = \"tanaka-2001\"\ncitation = \"T\"\ntaken = \"208\"\ntag = \"read\"\n";

    fn found(files: &[(&str, &str)]) -> Vec<String> {
        find(&Tree::of(files))
            .iter()
            .map(ToString::to_string)
            .collect()
    }

    #[test]
    fn a_source_without_an_entry_is_found_in_code_and_data() {
        let code = "//! A.\nconst A: SourceId = SourceId(\"tanaka-2001\");\nconst B: SourceId = SourceId(\n  \"nobody-1999\",\n);\n";
        let data = "[cost]\nsources = [\"tanaka-2001\", \"nowhere-2000\"]\n[[rule]]\nsource = \"none-2001\"\n";
        let found = found(&[
            ("sources/a.toml", ENTRY),
            ("crates/rehab/src/a.rs", code),
            ("data/a.toml", data),
        ]);
        assert_eq!(
            found,
            [
                "crates/rehab/src/a.rs:3: the source `nobody-1999` is in no file of sources/",
                "data/a.toml:2: the source `nowhere-2000` is in no file of sources/",
                "data/a.toml:4: the source `none-2001` is in no file of sources/",
            ]
        );
    }

    #[test]
    fn sources_made_up_in_tests_and_comments_are_free() {
        let code = "//! SourceId(\"a\")\n#[cfg(test)]\nmod tests { const A: SourceId = SourceId(\"b\"); }\n";
        assert!(found(&[("crates/rehab/src/a.rs", code)]).is_empty());
    }

    #[test]
    fn an_entry_that_is_not_whole_or_stands_twice_is_found() {
        assert_eq!(
            found(&[("sources/a.toml", ENTRY), ("sources/b.toml", ENTRY)]).len(),
            1
        );
        for (good, bad) in [
            ("\"T\"", "\" \""),
            ("\"208\"", "\"\""),
            ("\"read\"", "\"known\""),
            ("tanaka-2001", "Tanaka 2001"),
            ("taken", "token"),
        ] {
            assert_eq!(
                found(&[("sources/a.toml", &ENTRY.replace(good, bad))]).len(),
                1,
                "{bad}"
            );
        }
    }
}

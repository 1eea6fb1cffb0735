//! Files of sentences.

use crate::Problems;
use crate::shape::Sink;
use crate::tree::{self, Content, Table};
use std::collections::BTreeMap;

/// Reads the sentences of one file under ids that begin with the file's name.
pub(super) fn read(
    name: &str,
    file: &str,
    text: &str,
    sentences: &mut BTreeMap<String, String>,
) -> Result<(), Problems> {
    let node = tree::read(name, text.as_bytes())?;
    let mut sink = Sink::new(name);
    let stem = file.strip_suffix(".toml").unwrap_or(file);
    if let Content::Table(table) = &node.content {
        collect(stem, table, sentences, &mut sink);
    }
    sink.finish(Some(()))
}

fn collect(before: &str, table: &Table, sentences: &mut BTreeMap<String, String>, sink: &mut Sink) {
    for entry in &table.entries {
        let id = format!("{before}.{}", entry.key);
        match &entry.node.content {
            Content::Table(inner) => collect(&id, inner, sentences, sink),
            Content::Text(text) => {
                if let Err(message) = check_braces(text) {
                    sink.say(&id, entry.line, message);
                }
                if sentences.insert(id.clone(), text.clone()).is_some() {
                    sink.say(&id, entry.line, "this id stands twice; keep one of them");
                }
            }
            other => {
                let message = format!("{} stands where a sentence is expected", other.words());
                sink.say(&id, entry.line, message);
            }
        }
    }
}

/// Every placeholder is opened, named in small letters and closed.
pub(super) fn check_braces(text: &str) -> Result<(), String> {
    let mut rest = text;
    while let Some(at) = rest.find(['{', '}']) {
        let name = rest[at..]
            .strip_prefix('{')
            .and_then(|opened| opened.split_once('}'))
            .map(|(name, _)| name);
        match name {
            Some(name) if is_name(name) => rest = &rest[at + name.len() + 2..],
            _ => {
                return Err(
                    "a placeholder is a name of small letters in braces, like {number}; close it or remove the brace"
                        .to_owned(),
                );
            }
        }
    }
    Ok(())
}

fn is_name(name: &str) -> bool {
    let plain = |sign: char| sign.is_ascii_lowercase() || sign == '_';
    !name.is_empty() && name.chars().all(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str) -> Result<BTreeMap<String, String>, String> {
        let mut sentences = BTreeMap::new();
        read("en-GB/page.toml", "page.toml", text, &mut sentences)
            .map(|()| sentences)
            .map_err(|problems| problems.to_string())
    }

    #[test]
    fn ids_begin_with_the_file_and_tables_add_a_part() {
        let sentences = check("rest = \"Rest\"\n[stop]\nhead = \"Stop if\"\n").unwrap();
        let ids: Vec<&str> = sentences.keys().map(String::as_str).collect();
        assert_eq!(ids, ["page.rest", "page.stop.head"]);
    }

    #[test]
    fn a_brace_that_is_not_closed_is_refused_with_its_line() {
        let problem = check("a = \"Ring {number}\"\nb = \"Ring {number\"\n").unwrap_err();
        assert!(
            problem.starts_with("en-GB/page.toml, line 2, page.b: a placeholder"),
            "{problem}"
        );
        assert!(check("a = \"Ring {Number}\"\n").is_err());
        assert!(check("a = \"Ring }\"\n").is_err());
    }

    #[test]
    fn a_value_that_is_no_sentence_is_refused() {
        assert!(check("a = 3\n").is_err());
    }
}

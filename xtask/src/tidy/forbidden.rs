//! Nothing is left open in code: what is not done is not called done.

use super::tree::{Tree, Violation};

/// Marks of work left open; written in two parts so that this file is not found itself.
const MARKS: [&str; 6] = [
    concat!("todo", "!("),
    concat!("unimplemented", "!("),
    concat!("FIX", "ME"),
    concat!("XX", "X"),
    concat!("#[", "ignore"),
    concat!("for", " now"),
];

const CODE: [&str; 6] = [".rs", ".js", ".ts", ".toml", ".sql", ".py"];

/// Every line of code with such a mark.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let mut violations = Vec::new();
    for file in tree
        .files
        .iter()
        .filter(|file| CODE.iter().any(|end| file.path.ends_with(end)))
        // What is said to people may speak of the present.
        .filter(|file| !file.path.starts_with("data/"))
    {
        for (number, line) in (1..).zip(file.text.lines()) {
            if let Some(mark) = MARKS.iter().find(|mark| line.contains(**mark)) {
                violations.push(Violation::at(
                    &file.path,
                    number,
                    format!("`{mark}` leaves something open"),
                ));
            }
        }
    }
    violations
}

#[cfg(test)]
mod tests {
    use super::super::tree::Tree;
    use super::{MARKS, find};

    #[test]
    fn every_mark_is_found_in_code_and_not_in_prose() {
        for mark in MARKS {
            let line = format!("a {mark} b\n");
            assert_eq!(
                find(&Tree::of(&[("crates/web/src/a.rs", &line)])).len(),
                1,
                "{mark}"
            );
            assert_eq!(find(&Tree::of(&[("README.md", &line)])).len(), 0, "{mark}");
        }
    }
}

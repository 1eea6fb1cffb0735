//! Every sentence is asked for somewhere: by its whole id, or by an id that the program puts together.
//!
//! Ids that are put together cannot be followed to their end, so this errs towards calling a sentence used.

use std::collections::BTreeSet;

use super::rust_text::text_literals;
use super::tree::{File, Tree, Violation};
use super::words::sentence_ids;

/// Sentences that stand ready for what is not built yet: the letters.
const AHEAD: [&str; 1] = ["letter."];

/// How often an id may be put together from another that was put together itself.
const DEPTH: u8 = 2;

/// Every sentence that no code asks for.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let code: Vec<&File> = tree
        .files
        .iter()
        .filter(|file| is_code(file) && !file.is_test() && !file.path.contains("/test/"))
        .collect();
    let asked = Asked::of(code.iter().flat_map(|file| literals(file)));
    sentence_ids(tree)
        .into_iter()
        .filter(|(_, id)| !AHEAD.iter().any(|begin| id.starts_with(begin)))
        .filter(|(_, id)| !asked.has(id, 0))
        .map(|(path, id)| Violation::of_file(path, format!("nobody asks for the sentence `{id}`")))
        .collect()
}

fn is_code(file: &File) -> bool {
    let ends = [".rs", ".js"].iter().any(|end| file.path.ends_with(end));
    file.path.starts_with("crates/") && ends
}

fn literals(file: &File) -> Vec<&str> {
    if file.path.ends_with(".js") {
        return file.text.split(['\'', '`', '\n']).collect();
    }
    let all = text_literals(&file.text).into_iter();
    all.map(|(_, literal)| literal).collect()
}

/// The literals of the code: whole ones, and those with something filled in between a beginning and an end.
struct Asked<'a> {
    whole: BTreeSet<&'a str>,
    open: BTreeSet<(&'a str, &'a str)>,
}

impl<'a> Asked<'a> {
    fn of(literals: impl Iterator<Item = &'a str>) -> Self {
        let mut asked = Self {
            whole: BTreeSet::new(),
            open: BTreeSet::new(),
        };
        for literal in literals.filter(|one| one.chars().all(of_an_id)) {
            match (literal.find(['$', '{']), literal.rfind('}')) {
                (Some(from), Some(to)) if from < to => {
                    let ends = (&literal[..from], &literal[to + 1..]);
                    if ends != ("", "") {
                        asked.open.insert(ends);
                    }
                }
                _ => {
                    asked.whole.insert(literal);
                }
            }
            if literal.ends_with('.') && literal.len() > 1 {
                asked.open.insert((literal, ""));
            }
        }
        asked
    }

    fn has(&self, id: &str, depth: u8) -> bool {
        let counted = !id.is_empty() && id.chars().all(|sign| sign.is_ascii_digit());
        if counted || self.whole.contains(id) {
            return true;
        }
        depth <= DEPTH
            && self.open.iter().any(|(begin, end)| {
                id.strip_prefix(begin)
                    .and_then(|rest| rest.strip_suffix(end))
                    .is_some_and(|filled| !filled.is_empty() && self.has(filled, depth + 1))
            })
    }
}

/// Signs of an id, and of what is filled into one: a call within the braces is part of it.
fn of_an_id(sign: char) -> bool {
    sign.is_ascii_alphanumeric() || ".-_{}$()".contains(sign)
}

#[cfg(test)]
mod tests {
    use super::super::tree::Tree;
    use super::find;

    const WORDS: (&str, &str) = (
        "data/words/en-GB/page.toml",
        "rest = \"Rest\"\n[start]\nbegin = \"Begin\"\n",
    );

    fn found(code: (&str, &str)) -> Vec<String> {
        let violations = find(&Tree::of(&[WORDS, code]));
        violations.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_sentence_that_nobody_asks_for_is_found() {
        let rust = |text: &'static str| ("crates/handouts/src/a.rs", text);
        assert_eq!(
            found(rust("get(\"page.rest\")")),
            ["data/words/en-GB/page.toml: nobody asks for the sentence `page.start.begin`"]
        );
        for both in [
            "get(\"page.rest\"); get(\"page.start.begin\")",
            "get(\"page.rest\"); format!(\"page.start.{id}\"); [\"begin\"]",
            "get(\"page.rest\"); format!(\"page.{id}\"); format!(\"start.{id}\"); [\"begin\"]",
        ] {
            assert_eq!(found(rust(both)), Vec::<String>::new(), "{both}");
        }
    }

    #[test]
    fn the_script_asks_too_and_tests_do_not() {
        let both = "word('page.rest'); `page.start.${id}`; say('begin')";
        assert!(found(("crates/handouts/page/a.js", both)).is_empty());
        assert_eq!(found(("crates/handouts/page/test/a.js", both)).len(), 2);
        assert_eq!(
            found(("crates/handouts/tests/a.rs", "\"page.rest\"")).len(),
            2
        );
    }
}

//! Every dependency carries a licence that we accept, by what `cargo metadata` says.

use super::tree::{Tree, Violation};

/// Licences that let us hand out the program under MIT or Apache-2.0.
const ACCEPTED: &[&str] = &[
    "MIT",
    "MIT-0",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "Zlib",
    "0BSD",
    "Unlicense",
    "Unicode-3.0",
    "CC0-1.0",
    "BSL-1.0",
    "MPL-2.0",
    "CDLA-Permissive-2.0",
    "OFL-1.1",
];

/// Every dependency whose licence is missing or not accepted.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let mut violations = Vec::new();
    for package in &tree.metadata.packages {
        let who = format!("{} {}", package.name, package.version);
        match package.license.as_deref() {
            None => violations.push(Violation::of_file(
                "Cargo.lock",
                format!("{who} names no licence"),
            )),
            Some(licence) if !is_accepted(licence) => {
                violations.push(Violation::of_file(
                    "Cargo.lock",
                    format!("{who} has the licence {licence}"),
                ));
            }
            Some(_) => {}
        }
    }
    violations
}

/// Whether an SPDX expression can be satisfied from the list; `/` is the old way to write OR.
fn is_accepted(licence: &str) -> bool {
    let spaced = licence
        .replace('/', " OR ")
        .replace('(', " ( ")
        .replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut rest = words.as_slice();
    any_of(&mut rest) == Some(true) && rest.is_empty()
}

/// Parts joined by OR; none when the expression is cut short.
fn any_of(rest: &mut &[&str]) -> Option<bool> {
    let mut holds = all_of(rest)?;
    while take(rest, "OR") {
        holds |= all_of(rest)?;
    }
    Some(holds)
}

/// Parts joined by AND, which binds more closely.
fn all_of(rest: &mut &[&str]) -> Option<bool> {
    let mut holds = one(rest)?;
    while take(rest, "AND") {
        holds &= one(rest)?;
    }
    Some(holds)
}

/// One licence, perhaps with its exception, or an expression in brackets.
fn one(rest: &mut &[&str]) -> Option<bool> {
    if take(rest, "(") {
        let holds = any_of(rest)?;
        return take(rest, ")").then_some(holds);
    }
    let mut licence = next(rest)?.to_owned();
    if take(rest, "WITH") {
        licence = format!("{licence} WITH {}", next(rest)?);
    }
    Some(ACCEPTED.contains(&licence.as_str()))
}

fn next<'a>(rest: &mut &[&'a str]) -> Option<&'a str> {
    let (first, after) = rest.split_first()?;
    *rest = after;
    Some(first)
}

fn take(rest: &mut &[&str], word: &str) -> bool {
    match rest.split_first() {
        Some((first, after)) if *first == word => {
            *rest = after;
            true
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::super::metadata::{Metadata, Package};
    use super::super::tree::Tree;
    use super::{find, is_accepted};

    #[test]
    fn expressions_are_understood() {
        for good in [
            "MIT",
            "MIT/Apache-2.0",
            "GPL-3.0 OR MIT",
            "(MIT OR Apache-2.0) AND Unicode-3.0",
            "Apache-2.0 WITH LLVM-exception OR Apache-2.0 OR MIT",
            "MIT AND (ISC OR GPL-2.0)",
        ] {
            assert!(is_accepted(good), "{good}");
        }
        for bad in [
            "GPL-3.0",
            "MIT AND GPL-3.0",
            "(MIT OR Apache-2.0) AND SSPL-1.0",
            "",
            "MIT OR",
            "(MIT",
            "MIT WITH x",
        ] {
            assert!(!is_accepted(bad), "{bad}");
        }
    }

    #[test]
    fn a_dependency_with_another_or_no_licence_is_found() {
        let mut copyleft = Package::sample("a", &[]);
        copyleft.license = Some("AGPL-3.0-only".to_owned());
        let mut silent = Package::sample("b", &[]);
        silent.license = None;
        let metadata = Metadata {
            packages: vec![copyleft, silent, Package::sample("c", &[])],
        };
        assert_eq!(
            find(&Tree {
                files: Vec::new(),
                metadata
            })
            .len(),
            2
        );
    }
}

//! `rehab` and `motion` only compute: no input or output, clock, chance, hash order, printing or wire format.

use super::rust_text::names;
use super::tree::{File, Tree, Violation};

const PURE_CRATES: [&str; 2] = ["rehab", "motion"];

/// What a pure crate may use from outside; what its tests use is free.
const ALLOWED_DEPENDENCIES: [&str; 3] = ["jiff", "libm", "thiserror"];

/// Modules of the standard library that reach outside the computation or measure it.
const FORBIDDEN_MODULES: [&str; 7] = ["fs", "net", "time", "env", "io", "process", "thread"];

/// Types, macros and crates that have no place in a pure crate.
const FORBIDDEN_NAMES: [&str; 19] = [
    "SystemTime",
    "Instant",
    "HashMap",
    "HashSet",
    "RandomState",
    "DefaultHasher",
    "Mutex",
    "RwLock",
    "mpsc",
    "println",
    "eprintln",
    "dbg",
    "rand",
    "getrandom",
    "serde",
    "serde_json",
    "log",
    "tracing",
    "Zoned",
];

/// Every place where a pure crate is not pure.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let mut violations = forbidden_dependencies(tree);
    for name in PURE_CRATES {
        let folder = format!("crates/{name}/");
        for file in tree
            .files_under(&folder, ".rs")
            .filter(|file| !file.is_test())
        {
            violations.extend(forbidden_code(file));
        }
        let library = format!("{folder}src/lib.rs");
        if tree
            .file(&library)
            .is_some_and(|file| !file.text.contains("#![deny(missing_docs)]"))
        {
            violations.push(Violation::of_file(
                &library,
                "add #![deny(missing_docs)]: every public item says its purpose",
            ));
        }
    }
    violations.extend(unlike_lint_lists(tree));
    violations
}

fn forbidden_dependencies(tree: &Tree) -> Vec<Violation> {
    let mut violations = Vec::new();
    for package in tree
        .metadata
        .ours()
        .filter(|package| PURE_CRATES.contains(&package.name.as_str()))
    {
        for dependency in &package.dependencies {
            let for_tests = dependency.kind.as_deref() == Some("dev");
            if !for_tests && !ALLOWED_DEPENDENCIES.contains(&dependency.name.as_str()) {
                violations.push(Violation::of_file(
                    &format!("crates/{}/Cargo.toml", package.name),
                    format!("a pure crate may not depend on {}", dependency.name),
                ));
            }
        }
    }
    violations
}

fn forbidden_code(file: &File) -> Vec<Violation> {
    let code = file.plain_code();
    let mut violations = Vec::new();
    for (number, line) in (1..).zip(code.lines()) {
        for name in names(line).filter(|name| FORBIDDEN_NAMES.contains(name)) {
            violations.push(Violation::at(
                &file.path,
                number,
                format!("a pure crate may not use {name}"),
            ));
        }
        for module in standard_modules(line).filter(|name| FORBIDDEN_MODULES.contains(name)) {
            violations.push(Violation::at(
                &file.path,
                number,
                format!("a pure crate may not use std::{module}"),
            ));
        }
    }
    violations
}

/// The modules that a line names directly below `std` or `core`, braces included.
fn standard_modules(line: &str) -> impl Iterator<Item = &str> {
    ["std::", "core::"].into_iter().flat_map(move |start| {
        line.split(start).skip(1).flat_map(|rest| {
            let named = match rest.strip_prefix('{') {
                Some(inside) => inside.split('}').next().unwrap_or(inside),
                None => rest.split("::").next().unwrap_or(rest),
            };
            let single = !rest.starts_with('{');
            names(named).take(if single { 1 } else { usize::MAX })
        })
    })
}

/// The two pure crates forbid the same functions and types to clippy.
fn unlike_lint_lists(tree: &Tree) -> Option<Violation> {
    let [first, second] = PURE_CRATES.map(|name| format!("crates/{name}/clippy.toml"));
    let text = |path: &str| tree.file(path).map(|file| file.text.as_str());
    (text(&first) != text(&second))
        .then(|| Violation::of_file(&second, format!("must be the same as {first}")))
}

#[cfg(test)]
mod tests {
    use super::super::metadata::{Metadata, Package};
    use super::super::tree::Tree;
    use super::find;

    fn found_in(code: &str) -> Vec<String> {
        let tree = Tree::of(&[("crates/rehab/src/limits.rs", code)]);
        find(&tree).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn every_way_out_of_a_pure_crate_is_found() {
        for code in [
            "use std::fs;",
            "use std::{collections::BTreeMap, net};",
            "let t = std::time::Duration::ZERO;",
            "use core::time::Duration;",
            "fn f(at: Instant) {}",
            "use std::collections::HashMap;",
            "println!(\"x\");",
            "use rand::Rng;",
            "#[derive(serde::Serialize)]",
            "std::env::var(\"X\")",
        ] {
            assert!(!found_in(code).is_empty(), "not found: {code}");
        }
    }

    #[test]
    fn words_in_comments_text_and_tests_are_free() {
        let code = "// HashMap and std::fs\nlet a = \"serde\";\nuse std::collections::BTreeMap;\nuse std::fmt;\n\
                    #[cfg(test)]\nmod tests { use std::collections::HashSet; }\n";
        assert_eq!(found_in(code), Vec::<String>::new());
    }

    #[test]
    fn a_dependency_outside_the_list_is_found() {
        let metadata = Metadata {
            packages: vec![Package::sample("rehab", &["jiff", "serde"])],
        };
        let found = find(&Tree {
            files: Vec::new(),
            metadata,
        });
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].what, "a pure crate may not depend on serde");
    }

    #[test]
    fn undocumented_items_and_unlike_lint_lists_are_found() {
        let tree = Tree::of(&[
            ("crates/rehab/src/lib.rs", "//! X.\n"),
            ("crates/rehab/clippy.toml", "a = 1"),
        ]);
        assert_eq!(find(&tree).len(), 2);
    }
}

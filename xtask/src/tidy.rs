//! The rules of the house that no compiler checks; each is a function from the tree to its violations.

mod arrows;
mod forbidden;
mod hazards;
mod idle;
mod licences;
mod map;
mod metadata;
mod patches;
mod paths;
mod purity;
mod rust_text;
mod sizes;
mod sources;
mod tree;
mod words;

use anyhow::Result;

use crate::count::Count;
use tree::{Tree, Violation};

struct Check {
    name: &'static str,
    rule: &'static str,
    find: fn(&Tree) -> Vec<Violation>,
}

const CHECKS: &[Check] = &[
    Check {
        name: "arrows",
        rule: "crates depend only downward",
        find: arrows::find,
    },
    Check {
        name: "purity",
        rule: "rehab and motion only compute",
        find: purity::find,
    },
    Check {
        name: "sizes",
        rule: "a file holds one idea",
        find: sizes::find,
    },
    Check {
        name: "sources",
        rule: "every source used is in the register",
        find: sources::find,
    },
    Check {
        name: "words",
        rule: "every id that a person reads has words",
        find: words::find,
    },
    Check {
        name: "idle",
        rule: "every sentence is asked for",
        find: idle::find,
    },
    Check {
        name: "licences",
        rule: "dependencies carry a licence we accept",
        find: licences::find,
    },
    Check {
        name: "map",
        rule: "ARCHITECTURE.md lists the crates there are",
        find: map::find,
    },
    Check {
        name: "paths",
        rule: "no path of anybody's machine",
        find: paths::find,
    },
    Check {
        name: "forbidden",
        rule: "nothing is left open in code",
        find: forbidden::find,
    },
    Check {
        name: "hazards",
        rule: "every hazard names tests that exist",
        find: hazards::find,
    },
    Check {
        name: "patches",
        rule: "every patch of the sabotage list fits",
        find: patches::find,
    },
];

/// Prints every violation; true when there is none.
pub(crate) fn run() -> Result<bool> {
    Ok(count()?.failed == 0)
}

/// Prints every violation and counts the rules that hold.
pub(crate) fn count() -> Result<Count> {
    let tree = Tree::read()?;
    let mut count = Count::default();
    for check in CHECKS {
        let violations = (check.find)(&tree);
        for violation in &violations {
            println!("tidy {}: {violation}", check.name);
        }
        if !violations.is_empty() {
            println!(
                "tidy {}: the rule is that {} ({} places)",
                check.name,
                check.rule,
                violations.len()
            );
        }
        count.add(Count::one(violations.is_empty()));
    }
    for note in hazards::notes(&tree) {
        println!("tidy hazards: note: {note}");
    }
    Ok(count)
}

/// The integration-test targets of the workspace without those named.
pub(crate) fn other_test_targets(left_out: &[&str]) -> Result<Vec<String>> {
    Ok(metadata::Metadata::read()?
        .packages
        .into_iter()
        .filter(|package| package.is_ours())
        .flat_map(|package| package.targets)
        .filter(|target| target.kind.iter().any(|kind| kind == "test"))
        .map(|target| target.name)
        .filter(|name| !left_out.contains(&name.as_str()))
        .collect())
}

#[cfg(test)]
mod tests {
    use super::{CHECKS, Tree};

    #[test]
    fn the_tree_keeps_every_rule_of_the_house() {
        let tree = Tree::read().unwrap();
        let violations: Vec<String> = CHECKS
            .iter()
            .flat_map(|check| {
                (check.find)(&tree)
                    .into_iter()
                    .map(|found| format!("{}: {found}", check.name))
            })
            .collect();
        assert!(violations.is_empty(), "\n{}", violations.join("\n"));
    }
}

//! HAZARDS.md names for every hazard the tests that prove its control, and those tests exist.

use std::collections::BTreeSet;

use super::tree::{File, Tree, Violation};

const HAZARDS: &str = "HAZARDS.md";

/// What the last column says while a test, or one for a part of the control, is still owed.
const OWED: &str = "not yet";

struct Hazard<'a> {
    line: usize,
    id: &'a str,
    proof: &'a str,
}

/// Every test named that does not exist, every hazard without a word on its proof, every id used twice.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let Some(file) = tree.file(HAZARDS) else {
        return vec![Violation::of_file(HAZARDS, "is missing")];
    };
    let tests = all_tests(tree);
    let mut violations = Vec::new();
    let mut ids = BTreeSet::new();
    for hazard in hazards(file) {
        let mut fault = |what: String| violations.push(Violation::at(HAZARDS, hazard.line, what));
        if !ids.insert(hazard.id) {
            fault(format!("{} stands twice", hazard.id));
        }
        let named: Vec<&str> = hazard.proof.split('`').skip(1).step_by(2).collect();
        if named.is_empty() && !hazard.proof.contains(OWED) {
            fault(format!(
                "{}: name the tests between back-quotes, or write `{OWED}`",
                hazard.id
            ));
        }
        for name in named.into_iter().filter(|name| !tests.contains(*name)) {
            fault(format!("{}: there is no test `{name}`", hazard.id));
        }
    }
    if ids.is_empty() {
        violations.push(Violation::of_file(HAZARDS, "lists no hazard"));
    }
    violations
}

/// How many hazards still have no test, for the reader of a check.
pub(super) fn notes(tree: &Tree) -> Vec<String> {
    let Some(file) = tree.file(HAZARDS) else {
        return Vec::new();
    };
    let owed: Vec<&str> = hazards(file)
        .filter(|hazard| hazard.proof.contains(OWED))
        .map(|hazard| hazard.id)
        .collect();
    if owed.is_empty() {
        Vec::new()
    } else {
        vec![format!(
            "{} with a test still owed: {}",
            owed.len(),
            owed.join(", ")
        )]
    }
}

/// The ids of all hazards listed.
pub(super) fn ids(tree: &Tree) -> impl Iterator<Item = &str> {
    tree.file(HAZARDS)
        .into_iter()
        .flat_map(hazards)
        .map(|hazard| hazard.id)
}

/// The rows of its tables that begin with an id such as H-01; the last column says what proves the control.
fn hazards(file: &File) -> impl Iterator<Item = Hazard<'_>> {
    (1..).zip(file.text.lines()).filter_map(|(line, row)| {
        let inside = row.trim().strip_prefix('|')?.strip_suffix('|')?;
        let id = inside.split('|').next()?.trim();
        let proof = inside.rsplit('|').next()?.trim();
        id.starts_with("H-").then_some(Hazard { line, id, proof })
    })
}

/// The name of every function that is marked as a test, and of every one that a macro of a suite makes a test of.
pub(super) fn all_tests(tree: &Tree) -> BTreeSet<&str> {
    let mut tests = BTreeSet::new();
    for file in tree.rust_files() {
        if file.text.contains("fn $case") {
            tests.extend(file.text.lines().filter_map(name_alone));
        }
        let mut marked = false;
        for line in file.text.lines().map(str::trim) {
            if line.starts_with("#[") {
                marked |= line.contains("test]") || line.contains("test(");
                continue;
            }
            let signature = line.strip_prefix("async ").unwrap_or(line);
            if let Some(rest) = signature.strip_prefix("fn ").filter(|_| marked) {
                tests.extend(rest.split(['(', '<']).next());
            }
            if !line.is_empty() && !line.starts_with("//") {
                marked = false;
            }
        }
    }
    tests
}

/// The one name on a line of a list, as a suite of tests for several engines lists its parts.
fn name_alone(line: &str) -> Option<&str> {
    let name = line.trim().trim_end_matches(';');
    let plain = |character: char| {
        character.is_ascii_lowercase() || character.is_ascii_digit() || character == '_'
    };
    (name.contains('_') && name.chars().all(plain)).then_some(name)
}

#[cfg(test)]
mod tests {
    use super::super::tree::Tree;
    use super::{find, notes};

    const TESTS: (&str, &str) = (
        "tests/journeys/a.rs",
        "#[test]\nfn a_ceiling_holds() {}\n#[tokio::test]\nasync fn an_entry_stays() {}\nfn helper() {}\n",
    );

    fn found(rows: &str) -> Vec<String> {
        find(&Tree::of(&[("HAZARDS.md", rows), TESTS]))
            .iter()
            .map(|found| found.what.clone())
            .collect()
    }

    #[test]
    fn a_hazard_with_its_tests_is_accepted() {
        assert!(
            found("| id | proof |\n|---|---|\n| H-01 | `a_ceiling_holds`, `an_entry_stays` |\n")
                .is_empty()
        );
    }

    #[test]
    fn a_test_made_by_the_macro_of_a_suite_is_known() {
        let suite = "async fn $case() {}\nrun_all! {\n journal:\n  entries_come_back\n  nothing_is_lost;\n}\n";
        let list = "| H-01 | `entries_come_back`, `nothing_is_lost` |\n";
        let files = [
            ("HAZARDS.md", list),
            ("crates/records/tests/contract/main.rs", suite),
        ];
        assert!(find(&Tree::of(&files)).is_empty());
    }

    #[test]
    fn a_test_that_does_not_exist_is_found() {
        assert_eq!(
            found("| H-01 | `a_floor_holds` |\n"),
            ["H-01: there is no test `a_floor_holds`"]
        );
        assert_eq!(found("| H-01 | `helper` |\n").len(), 1);
    }

    #[test]
    fn a_hazard_without_proof_or_twice_is_found_and_an_owed_one_is_noted() {
        assert_eq!(found("| H-01 | of course |\n").len(), 1);
        assert_eq!(found("| H-01 | not yet |\n| H-01 | not yet |\n").len(), 1);
        assert!(found("| H-01 | `a_ceiling_holds`; in print: not yet |\n").is_empty());
        let owed = Tree::of(&[("HAZARDS.md", "| H-01 | not yet |\n")]);
        assert!(find(&owed).is_empty());
        assert_eq!(notes(&owed), ["1 with a test still owed: H-01"]);
    }

    #[test]
    fn a_missing_or_empty_list_is_found() {
        assert_eq!(find(&Tree::of(&[])).len(), 1);
        assert_eq!(find(&Tree::of(&[("HAZARDS.md", "nothing\n")])).len(), 1);
    }
}

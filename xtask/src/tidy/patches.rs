//! Every patch of `cargo xtask sabotage` still fits the tree, so that the list does not rot between its runs.

use super::hazards;
use super::tree::{Tree, Violation};
use crate::sabotage::{LIST, Patch, Patches};

/// Every patch that no longer applies, and every name in it that does not exist.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let Some(list) = tree.file(LIST) else {
        return vec![Violation::of_file(LIST, "is missing")];
    };
    match toml::from_str::<Patches>(&list.text) {
        Ok(patches) => patches
            .patch
            .iter()
            .flat_map(|patch| faults(tree, patch))
            .collect(),
        Err(error) => vec![Violation::of_file(LIST, format!("cannot be read: {error}"))],
    }
}

fn faults(tree: &Tree, patch: &Patch) -> Vec<Violation> {
    let mut violations = Vec::new();
    let mut fault =
        |what: String| violations.push(Violation::of_file(LIST, format!("{}: {what}", patch.id)));
    match tree
        .file(&patch.file)
        .map(|file| file.text.matches(&patch.find).count())
    {
        None => fault(format!("there is no {}", patch.file)),
        Some(1) => {}
        Some(places) => fault(format!("its text stands {places} times in {}", patch.file)),
    }
    if patch.find == patch.replace {
        fault("changes nothing".to_owned());
    }
    if !hazards::ids(tree).any(|id| id == patch.hazard) {
        fault(format!("HAZARDS.md has no {}", patch.hazard));
    }
    let test = patch.test.rsplit("::").next().unwrap_or(&patch.test);
    if !hazards::all_tests(tree)
        .iter()
        .any(|name| name.contains(test))
    {
        fault(format!("there is no test `{}`", patch.test));
    }
    violations
}

#[cfg(test)]
mod tests {
    use super::super::tree::Tree;
    use super::find;

    const HAZARDS: (&str, &str) = ("HAZARDS.md", "| H-01 | not yet |\n");
    const CODE: (&str, &str) = (
        "crates/rehab/src/a.rs",
        "fn limit() -> u8 { 10 }\n#[test]\nfn it_holds() {}\n",
    );
    const GOOD: &str = "[[patch]]\nid = \"more\"\nhazard = \"H-01\"\nfile = \"crates/rehab/src/a.rs\"\n\
                        find = \"{ 10 }\"\nreplace = \"{ 30 }\"\npackage = \"rehab\"\ntest = \"a::it_holds\"\n";

    fn found(list: &str) -> usize {
        find(&Tree::of(&[HAZARDS, CODE, ("xtask/sabotage.toml", list)])).len()
    }

    #[test]
    fn a_patch_that_fits_is_accepted() {
        assert_eq!(found(GOOD), 0);
    }

    #[test]
    fn a_patch_that_no_longer_fits_is_found() {
        for (good, bad) in [
            ("a.rs", "b.rs"),
            ("{ 10 }", "{ 11 }"),
            ("find = \"{ 10 }\"", "find = \"i\""),
            ("{ 30 }", "{ 10 }"),
            ("H-01", "H-02"),
            ("it_holds", "it_falls"),
            ("hazard", "danger"),
        ] {
            assert_eq!(found(&GOOD.replace(good, bad)), 1, "{bad}");
        }
    }

    #[test]
    fn a_missing_list_is_found() {
        assert_eq!(find(&Tree::of(&[])).len(), 1);
    }
}

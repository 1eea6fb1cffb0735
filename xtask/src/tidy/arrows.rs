//! Crates depend only downward, as the picture in ARCHITECTURE.md shows.

use super::tree::{Tree, Violation};

/// Every crate of the workspace with the crates of ours that it may know.
/// A new crate or a new arrow is a change of the architecture and is made here and in ARCHITECTURE.md.
const ALLOWED: &[(&str, &[&str])] = &[
    ("rehab", &[]),
    ("motion", &[]),
    ("formats", &["rehab", "motion"]),
    ("handouts", &["rehab", "motion"]),
    ("print", &["handouts", "rehab", "motion"]),
    ("film", &["handouts", "rehab", "motion"]),
    ("records", &["formats", "rehab", "motion"]),
    (
        "web",
        &[
            "print", "film", "handouts", "records", "formats", "rehab", "motion",
        ],
    ),
    (
        "hearthpace",
        &[
            "web", "print", "film", "handouts", "records", "formats", "rehab", "motion",
        ],
    ),
    (
        "tests",
        &[
            "hearthpace",
            "web",
            "print",
            "film",
            "handouts",
            "records",
            "formats",
            "rehab",
            "motion",
        ],
    ),
    ("xtask", &[]),
];

/// Every arrow that is not allowed. Arrows of tests inside a crate count too: what joins crates is tested in `tests/`.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let ours: Vec<&str> = tree
        .metadata
        .ours()
        .map(|package| package.name.as_str())
        .collect();
    let mut violations = Vec::new();
    for package in tree.metadata.ours() {
        let name = package.name.as_str();
        let manifest = manifest_of(name);
        let Some((_, allowed)) = ALLOWED.iter().find(|(known, _)| *known == name) else {
            violations.push(Violation::of_file(
                &manifest,
                "this crate has no place among the arrows yet",
            ));
            continue;
        };
        for dependency in package
            .dependencies
            .iter()
            .map(|dependency| dependency.name.as_str())
        {
            if ours.contains(&dependency) && !allowed.contains(&dependency) {
                violations.push(Violation::of_file(
                    &manifest,
                    format!("{name} must not know {dependency}"),
                ));
            }
        }
    }
    violations
}

fn manifest_of(name: &str) -> String {
    match name {
        "tests" | "xtask" => format!("{name}/Cargo.toml"),
        _ => format!("crates/{name}/Cargo.toml"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::metadata::{Dependency, Metadata, Package};
    use super::super::tree::Tree;
    use super::find;

    fn tree(packages: Vec<Package>) -> Tree {
        Tree {
            files: Vec::new(),
            metadata: Metadata { packages },
        }
    }

    #[test]
    fn an_arrow_upward_is_found() {
        let found = find(&tree(vec![
            Package::sample("rehab", &["formats"]),
            Package::sample("formats", &["rehab"]),
        ]));
        assert_eq!(found.len(), 1);
        assert_eq!(
            found[0].to_string(),
            "crates/rehab/Cargo.toml: rehab must not know formats"
        );
    }

    #[test]
    fn handouts_and_records_must_not_know_each_other() {
        let packages = vec![
            Package::sample("handouts", &["records"]),
            Package::sample("records", &["handouts"]),
        ];
        assert_eq!(find(&tree(packages)).len(), 2);
    }

    #[test]
    fn an_arrow_of_a_crates_own_tests_counts_too() {
        let mut rehab = Package::sample("rehab", &[]);
        rehab.dependencies.push(Dependency {
            name: "formats".to_owned(),
            kind: Some("dev".to_owned()),
        });
        assert_eq!(
            find(&tree(vec![rehab, Package::sample("formats", &[])])).len(),
            1
        );
    }

    #[test]
    fn a_crate_without_a_place_is_found() {
        assert_eq!(find(&tree(vec![Package::sample("helpers", &[])])).len(), 1);
    }
}

//! ARCHITECTURE.md lists exactly the crates that there are.

use super::tree::{Tree, Violation};

const MAP: &str = "ARCHITECTURE.md";
const HEADING: &str = "## Code map";

/// Every crate that the map omits, and every one that it lists and does not exist.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let Some(file) = tree.file(MAP) else {
        return vec![Violation::of_file(MAP, "is missing")];
    };
    let listed = listed_crates(&file.text);
    let mut violations = Vec::new();
    for package in tree.metadata.ours() {
        if !listed.iter().any(|(_, name)| name == &package.name) {
            violations.push(Violation::of_file(
                MAP,
                format!("the code map omits {}", package.name),
            ));
        }
    }
    for (line, name) in &listed {
        if tree.metadata.ours().all(|package| &package.name != name) {
            violations.push(Violation::at(
                MAP,
                *line,
                format!("there is no crate {name}"),
            ));
        }
    }
    violations
}

/// The crates of the code map: list items that begin with a name between back-quotes, such as "- `crates/rehab`: ...".
fn listed_crates(text: &str) -> Vec<(usize, String)> {
    (1..)
        .zip(text.lines())
        .skip_while(|(_, line)| *line != HEADING)
        .skip(1)
        .take_while(|(_, line)| !line.starts_with("## "))
        .filter_map(|(number, line)| {
            let (path, _) = line.strip_prefix("- `")?.split_once('`')?;
            let name = path.strip_prefix("crates/").unwrap_or(path);
            Some((number, name.trim_end_matches('/').to_owned()))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::metadata::{Metadata, Package};
    use super::super::tree::Tree;
    use super::find;

    fn found(map: &str) -> Vec<String> {
        let mut tree = Tree::of(&[("ARCHITECTURE.md", map)]);
        tree.metadata = Metadata {
            packages: vec![Package::sample("rehab", &[]), Package::sample("tests", &[])],
        };
        find(&tree).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_true_map_is_accepted() {
        assert!(
            found("# A\n## Code map\n- `crates/rehab`: x\n- `tests/`: y\n## Next\n- `other`\n")
                .is_empty()
        );
    }

    #[test]
    fn an_omitted_and_an_invented_crate_are_found() {
        let found = found("## Code map\n- `crates/rehab`: x\n- `crates/engine`: y\n");
        assert_eq!(
            found,
            [
                "ARCHITECTURE.md: the code map omits tests",
                "ARCHITECTURE.md:3: there is no crate engine"
            ]
        );
    }

    #[test]
    fn a_missing_map_is_found() {
        assert_eq!(find(&Tree::of(&[])).len(), 1);
    }
}

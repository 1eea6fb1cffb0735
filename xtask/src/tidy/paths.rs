//! Nothing in the tree points into anybody's machine.

use super::tree::{Tree, Violation};

/// How such a path begins; written in two parts so that this file is not found itself.
const BEGINNINGS: [&str; 6] = [
    concat!("/", "root/"),
    concat!("/", "work/"),
    concat!("/", "farm/"),
    concat!("/", "home/"),
    concat!("/", "Users/"),
    concat!("C:", "\\Users"),
];

/// Every line with such a path.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let mut violations = Vec::new();
    for file in tree
        .files
        .iter()
        .filter(|file| !file.path.ends_with(".lock"))
    {
        for (number, line) in (1..).zip(file.text.lines()) {
            if let Some(beginning) = BEGINNINGS
                .iter()
                .find(|beginning| stands_alone(line, beginning))
            {
                violations.push(Violation::at(
                    &file.path,
                    number,
                    format!("a path of a machine: {beginning}..."),
                ));
            }
        }
    }
    violations
}

/// Whether the path begins here and is not the middle of a longer one, such as an address.
fn stands_alone(line: &str, beginning: &str) -> bool {
    line.match_indices(beginning).any(|(at, _)| {
        line[..at]
            .chars()
            .next_back()
            .is_none_or(|before| !(before.is_alphanumeric() || "._-}".contains(before)))
    })
}

#[cfg(test)]
mod tests {
    use super::super::tree::Tree;
    use super::find;

    #[test]
    fn a_path_of_a_machine_is_found_and_a_part_of_an_address_is_not() {
        let bad = concat!("see /", "root/notes.txt");
        assert_eq!(find(&Tree::of(&[("README.md", bad)])).len(), 1);
        let good = concat!("https://example.org/", "work/1 and data/", "home/x");
        assert_eq!(find(&Tree::of(&[("README.md", good)])).len(), 0);
    }
}

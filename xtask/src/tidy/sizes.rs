//! A file holds one idea: at most 400 lines of Rust that are not tests, and a first line that says its purpose.

use super::rust_text;
use super::tree::{File, Tree, Violation};

const MOST_LINES: usize = 400;

/// Files that may be longer, each with the reason; tables grow with what they list.
const EXCEPTIONS: &[(&str, &str)] = &[];

/// Every file that is too long or does not say what it is for, and every exception that is no longer needed.
pub(super) fn find(tree: &Tree) -> Vec<Violation> {
    let mut violations = Vec::new();
    for file in tree.rust_files() {
        if !file.text.starts_with("//!") && !file.path.ends_with("/tests.rs") {
            violations.push(Violation::at(
                &file.path,
                1,
                "begin with a line `//! ...` that says what this is for",
            ));
        }
        let lines = lines_beside_tests(file);
        let excepted = EXCEPTIONS.iter().any(|(path, _)| *path == file.path);
        if lines > MOST_LINES && !excepted {
            violations.push(Violation::of_file(
                &file.path,
                format!("{lines} lines beside tests, at most {MOST_LINES}; divide it by idea"),
            ));
        }
        if lines <= MOST_LINES && excepted {
            violations.push(Violation::of_file(
                &file.path,
                "no longer needs its exception in xtask/src/tidy/sizes.rs",
            ));
        }
    }
    violations
}

fn lines_beside_tests(file: &File) -> usize {
    if file.is_test() {
        return 0;
    }
    let code = rust_text::without_comments_and_text(&file.text);
    let kept = rust_text::without_tests(&code);
    // A line of a test module had code and has none left.
    let of_tests = code
        .lines()
        .zip(kept.lines())
        .filter(|(before, after)| !before.trim().is_empty() && after.trim().is_empty())
        .count();
    file.text.lines().count() - of_tests
}

#[cfg(test)]
mod tests {
    use super::super::tree::Tree;
    use super::find;

    #[test]
    fn a_long_file_is_found_and_its_tests_do_not_count() {
        let long = format!("//! A.\n{}", "fn a() {}\n".repeat(400));
        assert_eq!(find(&Tree::of(&[("crates/web/src/a.rs", &long)])).len(), 1);
        let tests = "fn a() {}\n".repeat(500);
        let short = format!("//! A.\nfn b() {{}}\n#[cfg(test)]\nmod tests {{\n{tests}}}\n");
        assert_eq!(find(&Tree::of(&[("crates/web/src/a.rs", &short)])).len(), 0);
    }

    #[test]
    fn a_file_without_its_purpose_is_found() {
        assert_eq!(
            find(&Tree::of(&[("crates/web/src/a.rs", "fn a() {}\n")])).len(),
            1
        );
    }
}

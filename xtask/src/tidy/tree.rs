//! The tree that the rules look at: every file that git knows or would take, and what cargo says about the workspace.

use std::fmt;
use std::fs;

use anyhow::{Context, Result};

use super::metadata::Metadata;
use super::rust_text;
use crate::shell::{files_of_the_tree, root};

/// One text file, by its path from the root.
pub(super) struct File {
    pub(super) path: String,
    pub(super) text: String,
}

/// All that the rules may look at.
pub(super) struct Tree {
    pub(super) files: Vec<File>,
    pub(super) metadata: Metadata,
}

/// One place that breaks a rule, with what to do about it.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Violation {
    pub(super) path: String,
    /// Counted from one; zero where the whole file is meant.
    pub(super) line: usize,
    pub(super) what: String,
}

impl fmt::Display for Violation {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            0 => write!(out, "{}: {}", self.path, self.what),
            line => write!(out, "{}:{line}: {}", self.path, self.what),
        }
    }
}

impl Violation {
    pub(super) fn at(path: &str, line: usize, what: impl Into<String>) -> Violation {
        Violation {
            path: path.to_owned(),
            line,
            what: what.into(),
        }
    }

    pub(super) fn of_file(path: &str, what: impl Into<String>) -> Violation {
        Violation::at(path, 0, what)
    }
}

impl Tree {
    /// Reads the tree as it stands on disk, so that a file is seen before it is committed.
    pub(super) fn read() -> Result<Tree> {
        let root = root();
        let mut files = Vec::new();
        for path in files_of_the_tree()? {
            let bytes = fs::read(root.join(&path)).with_context(|| format!("reading {path}"))?;
            // Pictures and fonts hold nothing that a rule is about.
            if let Ok(text) = String::from_utf8(bytes) {
                files.push(File { path, text });
            }
        }
        Ok(Tree {
            files,
            metadata: Metadata::read()?,
        })
    }

    /// A tree of the files given, for tests of the rules.
    #[cfg(test)]
    pub(super) fn of(files: &[(&str, &str)]) -> Tree {
        let files = files
            .iter()
            .map(|(path, text)| File {
                path: (*path).to_owned(),
                text: (*text).to_owned(),
            })
            .collect();
        Tree {
            files,
            metadata: Metadata::default(),
        }
    }

    pub(super) fn file(&self, path: &str) -> Option<&File> {
        self.files.iter().find(|file| file.path == path)
    }

    pub(super) fn rust_files(&self) -> impl Iterator<Item = &File> {
        self.files.iter().filter(|file| file.path.ends_with(".rs"))
    }

    pub(super) fn files_under<'a>(
        &'a self,
        folder: &'a str,
        extension: &'a str,
    ) -> impl Iterator<Item = &'a File> {
        self.files
            .iter()
            .filter(move |file| file.path.starts_with(folder) && file.path.ends_with(extension))
    }
}

impl File {
    /// Whether the whole file belongs to tests.
    pub(super) fn is_test(&self) -> bool {
        self.path.starts_with("tests/")
            || self.path.contains("/tests/")
            || self.path.ends_with("/tests.rs")
    }

    /// The Rust of this file without comments, text literals and test modules; lines stay where they are.
    pub(super) fn plain_code(&self) -> String {
        rust_text::without_tests(&rust_text::without_comments_and_text(&self.text))
    }
}

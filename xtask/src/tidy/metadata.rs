//! What `cargo metadata` says about the workspace and all that it depends on.

use anyhow::{Context, Result};
use serde::Deserialize;

use crate::shell::{cargo, read};

#[derive(Default, Deserialize)]
pub(super) struct Metadata {
    pub(super) packages: Vec<Package>,
}

#[derive(Deserialize)]
pub(super) struct Package {
    pub(super) name: String,
    pub(super) version: String,
    pub(super) license: Option<String>,
    /// Where the package was taken from; none for the crates of this workspace.
    pub(super) source: Option<String>,
    #[serde(default)]
    pub(super) dependencies: Vec<Dependency>,
    #[serde(default)]
    pub(super) targets: Vec<Target>,
}

#[derive(Deserialize)]
pub(super) struct Dependency {
    pub(super) name: String,
    /// None for an ordinary dependency, otherwise `dev` or `build`.
    pub(super) kind: Option<String>,
}

#[derive(Deserialize)]
pub(super) struct Target {
    pub(super) name: String,
    pub(super) kind: Vec<String>,
}

impl Metadata {
    pub(super) fn read() -> Result<Metadata> {
        let text = read(cargo().args(["metadata", "--format-version", "1", "--locked"]))?;
        serde_json::from_str(&text).context("reading what cargo metadata printed")
    }

    /// The crates of this workspace.
    pub(super) fn ours(&self) -> impl Iterator<Item = &Package> {
        self.packages.iter().filter(|package| package.is_ours())
    }
}

impl Package {
    pub(super) fn is_ours(&self) -> bool {
        self.source.is_none()
    }
}

#[cfg(test)]
impl Package {
    /// A crate of the workspace with ordinary dependencies, for tests of the rules.
    pub(super) fn sample(name: &str, dependencies: &[&str]) -> Package {
        Package {
            name: name.to_owned(),
            version: "0.1.0".to_owned(),
            license: Some("MIT OR Apache-2.0".to_owned()),
            source: None,
            dependencies: dependencies
                .iter()
                .map(|name| Dependency {
                    name: (*name).to_owned(),
                    kind: None,
                })
                .collect(),
            targets: Vec::new(),
        }
    }
}

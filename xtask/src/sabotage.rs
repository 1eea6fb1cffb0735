//! Breaks a copy of the program one place at a time and sees that the test of that hazard notices.
//!
//! A test that stays green whatever the program does proves nothing. Each entry of `xtask/sabotage.toml` takes one control
//! away (a ceiling, the cool-down, the order of writing and confirming); its test must then fail.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail, ensure};
use serde::Deserialize;

use crate::count;
use crate::shell::{cargo, files_of_the_tree, root};

/// Where the list of patches stands, from the root.
pub(crate) const LIST: &str = "xtask/sabotage.toml";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Patches {
    #[serde(default)]
    pub(crate) patch: Vec<Patch>,
}

/// One place where the copy is broken.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Patch {
    /// Short name of what is taken away.
    pub(crate) id: String,
    /// The hazard whose control this is, by its id in HAZARDS.md.
    pub(crate) hazard: String,
    pub(crate) file: String,
    /// Text that stands exactly once in the file.
    pub(crate) find: String,
    pub(crate) replace: String,
    pub(crate) package: String,
    /// Features that build the test, where it needs any.
    #[serde(default)]
    pub(crate) features: Vec<String>,
    /// Name of the test, or a part of it that selects several.
    pub(crate) test: String,
}

/// What became of a run of tests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ran {
    Green,
    Red,
    /// It did not compile, or no test had that name: nothing was shown.
    Nothing,
}

/// Runs the patches named, or all; true when every one was noticed.
pub(crate) fn run(ids: &[String]) -> Result<bool> {
    let text = fs::read_to_string(root().join(LIST)).with_context(|| format!("reading {LIST}"))?;
    let patches: Patches = toml::from_str(&text).with_context(|| format!("reading {LIST}"))?;
    if let Some(unknown) = ids
        .iter()
        .find(|id| patches.patch.iter().all(|patch| patch.id != **id))
    {
        bail!("{LIST} has no patch `{unknown}`");
    }
    let wanted: Vec<&Patch> = patches
        .patch
        .iter()
        .filter(|patch| ids.is_empty() || ids.contains(&patch.id))
        .collect();
    ensure!(!wanted.is_empty(), "{LIST} lists no patch");

    let copy = Copy::refresh()?;
    // All tests run on the sound copy first, so that each patch then costs one compilation and not two.
    let sound = copy.tests_that_are_green(&wanted)?;
    let mut survivors = 0;
    for patch in &wanted {
        let (noticed, words) = if sound.contains(&(patch.package.as_str(), patch.test.as_str())) {
            copy.try_patch(patch)?
        } else {
            (
                false,
                format!("`{}` IS NOT GREEN WITHOUT THE PATCH", patch.test),
            )
        };
        survivors += usize::from(!noticed);
        println!("{:<8} {:<44} {words}", patch.hazard, patch.id);
    }
    println!("{} noticed, {survivors} not", wanted.len() - survivors);
    Ok(survivors == 0)
}

/// A copy of the tree with a build folder of its own, kept from run to run so that little is compiled again.
struct Copy {
    tree: PathBuf,
    target: PathBuf,
}

impl Copy {
    fn refresh() -> Result<Copy> {
        let folder = root().join("target/sabotage");
        let copy = Copy {
            tree: folder.join("tree"),
            target: folder.join("target"),
        };
        let wanted: BTreeSet<PathBuf> = files_of_the_tree()?
            .into_iter()
            .map(PathBuf::from)
            .collect();
        remove_others(&copy.tree, &copy.tree, &wanted)?;
        for path in &wanted {
            let bytes = fs::read(root().join(path))
                .with_context(|| format!("reading {}", path.display()))?;
            write_if_different(&copy.tree.join(path), &bytes)?;
        }
        Ok(copy)
    }

    /// Package and name of every test that passes on the sound copy.
    fn tests_that_are_green<'a>(
        &self,
        patches: &[&'a Patch],
    ) -> Result<BTreeSet<(&'a str, &'a str)>> {
        let mut tried = BTreeSet::new();
        let mut green = BTreeSet::new();
        for patch in patches {
            let name = (patch.package.as_str(), patch.test.as_str());
            if tried.insert(name) && self.run_test(patch)? == Ran::Green {
                green.insert(name);
            }
        }
        Ok(green)
    }

    /// Whether the patch was noticed, and in words what happened.
    fn try_patch(&self, patch: &Patch) -> Result<(bool, String)> {
        let path = self.tree.join(&patch.file);
        let Ok(source) = fs::read_to_string(&path) else {
            return Ok((false, format!("THERE IS NO {}", patch.file)));
        };
        let places = source.matches(&patch.find).count();
        if places != 1 {
            return Ok((
                false,
                format!("ITS TEXT STANDS {places} TIMES IN {}", patch.file),
            ));
        }
        fs::write(&path, source.replacen(&patch.find, &patch.replace, 1))
            .context("writing the patched file")?;
        let ran = self.run_test(patch);
        fs::write(&path, source).context("writing the file back")?;
        Ok(match ran? {
            Ran::Red => (true, "noticed".to_owned()),
            Ran::Green => (false, format!("SURVIVED: `{}` stays green", patch.test)),
            Ran::Nothing => (
                false,
                "DOES NOT COMPILE: a patch must leave a program that runs".to_owned(),
            ),
        })
    }

    fn run_test(&self, patch: &Patch) -> Result<Ran> {
        let compiled = self
            .cargo_test(patch)
            .arg("--no-run")
            .output()
            .context("compiling the copy")?;
        if !compiled.status.success() {
            return Ok(Ran::Nothing);
        }
        let ran = self
            .cargo_test(patch)
            .args(["--", &patch.test])
            .output()
            .context("testing the copy")?;
        let count = count::of_harness(&String::from_utf8_lossy(&ran.stdout)).unwrap_or_default();
        Ok(match (ran.status.success(), count.passed) {
            (true, 0) => Ran::Nothing,
            (true, _) => Ran::Green,
            (false, _) => Ran::Red,
        })
    }

    fn cargo_test(&self, patch: &Patch) -> Command {
        let mut command = cargo();
        command
            .current_dir(&self.tree)
            .env("CARGO_TARGET_DIR", &self.target)
            .env_remove("HEARTHPACE_PROGRAM")
            .args([
                "test",
                "--locked",
                "--no-fail-fast",
                "--package",
                &patch.package,
            ]);
        if !patch.features.is_empty() {
            command.args(["--features", &patch.features.join(",")]);
        }
        command
    }
}

/// Leaves an unchanged file alone, so that cargo does not compile it again.
fn write_if_different(path: &Path, bytes: &[u8]) -> Result<()> {
    if fs::read(path).is_ok_and(|present| present == bytes) {
        return Ok(());
    }
    let folder = path
        .parent()
        .expect("a file of the tree stands in a folder");
    fs::create_dir_all(folder).with_context(|| format!("making {}", folder.display()))?;
    fs::write(path, bytes).with_context(|| format!("writing {}", path.display()))
}

/// Removes what an earlier copy had and the tree no longer has.
fn remove_others(top: &Path, folder: &Path, wanted: &BTreeSet<PathBuf>) -> Result<()> {
    let Ok(entries) = fs::read_dir(folder) else {
        return Ok(());
    };
    for entry in entries {
        let path = entry.context("reading the copy")?.path();
        if path.is_dir() {
            remove_others(top, &path, wanted)?;
        } else if path
            .strip_prefix(top)
            .is_ok_and(|inside| !wanted.contains(inside))
        {
            fs::remove_file(&path).with_context(|| format!("removing {}", path.display()))?;
        }
    }
    Ok(())
}

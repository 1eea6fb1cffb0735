//! Where the program and the tools of `cargo xtask setup` stand. Every function here panics with what to do when its tool is
//! missing: a test that needs a tool and does not find it has failed.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

/// The root of the workspace.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("the tests stand one folder below the root")
        .to_path_buf()
}

/// The program `hearthpace`: the one that `cargo xtask check` has just built, otherwise built now in the profile of this test.
pub fn hearthpace() -> PathBuf {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    PROGRAM
        .get_or_init(|| match std::env::var_os("HEARTHPACE_PROGRAM") {
            Some(path) => existing(PathBuf::from(path), "cargo xtask check builds it"),
            None => build_hearthpace(),
        })
        .clone()
}

/// Whether this test was built without optimisation, in the profile `dev`.
///
/// # Panics
/// Never in a test that cargo started.
pub fn unoptimised() -> bool {
    let test = std::env::current_exe().expect("a running test has a path");
    // A test stands in target/<profile>/deps.
    test.ancestors()
        .nth(2)
        .is_none_or(|folder| folder.ends_with("debug"))
}

/// Built by cargo itself, so that a test never meets a program older than the source.
fn build_hearthpace() -> PathBuf {
    let test = std::env::current_exe().expect("a running test has a path");
    // A test stands in target/<profile>/deps.
    let folder = test
        .ancestors()
        .nth(2)
        .expect("two folders above a test is the folder of its profile");
    let profile = match folder.file_name().and_then(|name| name.to_str()) {
        Some("debug") | None => "dev",
        Some(profile) => profile,
    };
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let status = Command::new(cargo)
        .current_dir(root())
        .args([
            "build",
            "--quiet",
            "--package",
            "hearthpace",
            "--profile",
            profile,
        ])
        .stdin(Stdio::null())
        .status()
        .expect("cargo can be started from a test that cargo started");
    assert!(status.success(), "hearthpace did not build");
    existing(
        folder.join("hearthpace"),
        "cargo build --package hearthpace",
    )
}

/// The Python of the environment that holds `xtask/requirements.txt`.
pub fn python() -> PathBuf {
    existing(root().join("target/python/bin/python"), "cargo xtask setup")
}

/// The folder `node_modules` with the packages of `xtask/npm`.
pub fn node_modules() -> PathBuf {
    existing(root().join("target/npm/node_modules"), "cargo xtask setup")
}

/// An open data file that setup takes out of a package, by its name in `target/data`.
pub fn open_data(name: &str) -> PathBuf {
    existing(root().join("target/data").join(name), "cargo xtask setup")
}

/// A program of the system by the first of these names that is there.
///
/// # Panics
/// When there is none.
pub fn system(names: &[&str]) -> PathBuf {
    let folders = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&folders)
        .flat_map(|folder| names.iter().map(move |name| folder.join(name)))
        .find(|path| path.is_file())
        .unwrap_or_else(|| {
            panic!(
                "{} is not installed; run `cargo xtask setup`",
                names.join(" or ")
            )
        })
}

/// Runs a Python script with these arguments and hands back its standard output.
///
/// # Panics
/// With what the script wrote to standard error, when it fails.
pub fn run_python(script: &str, arguments: &[&str]) -> String {
    run(Command::new(python()).args(["-c", script]).args(arguments))
}

/// Runs a script in node, where `require` finds the packages of `xtask/npm`, and hands back its standard output.
///
/// # Panics
/// With what the script wrote to standard error, when it fails.
pub fn run_node(script: &str, arguments: &[&str]) -> String {
    let mut command = Command::new(system(&["node"]));
    command
        .env("NODE_PATH", node_modules())
        .args(["-e", script, "--"])
        .args(arguments);
    run(&mut command)
}

fn run(command: &mut Command) -> String {
    let output = command
        .current_dir(root())
        .stdin(Stdio::null())
        .output()
        .expect("the program was found a moment ago");
    assert!(
        output.status.success(),
        "{}\n{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).expect("scripts of ours print UTF-8")
}

fn existing(path: PathBuf, made_by: &str) -> PathBuf {
    assert!(
        path.exists(),
        "{} is missing; run `{made_by}`",
        path.display()
    );
    path
}

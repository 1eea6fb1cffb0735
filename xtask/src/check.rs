//! The whole of continuous integration, step by step, on any machine.

use std::process::Command;
use std::time::Instant;

use anyhow::{Result, bail};

use crate::count::{self, Count};
use crate::shell::{cargo, root, show};
use crate::tidy;
use crate::tools::{self, Serves};
use crate::{setup, shell};

/// The crates whose examples in the documentation are run.
const PURE_CRATES: [&str; 2] = ["rehab", "motion"];

/// Switches on the tests that need tools beyond cargo; they then build together with everything else, once.
const FEATURES: [&str; 2] = ["--features", "tests/outside,tests/browser"];

/// What a step found.
enum Verdict {
    Counted(Count),
    /// Not run, with the reason; allowed only where `CI` is not set.
    LeftOut(String),
}

struct Step {
    name: &'static str,
    what: &'static str,
    work: fn() -> Result<Verdict>,
}

const STEPS: [Step; 9] = [
    Step {
        name: "setup",
        what: "tools that the tests need",
        work: check_setup,
    },
    Step {
        name: "format",
        what: "cargo fmt --check",
        work: check_format,
    },
    Step {
        name: "lint",
        what: "clippy, warnings are errors",
        work: check_lints,
    },
    Step {
        name: "tidy",
        what: "the rules of the house",
        work: check_tidy,
    },
    Step {
        name: "build",
        what: "the program and all tests, once",
        work: build,
    },
    Step {
        name: "test",
        what: "all tests that need only cargo",
        work: run_tests,
    },
    Step {
        name: "doc-test",
        what: "examples in the documentation of the pure crates",
        work: run_doc_tests,
    },
    Step {
        name: "reference",
        what: "other people's libraries and data",
        work: run_reference_tests,
    },
    Step {
        name: "browser",
        what: "pages in a real browser",
        work: run_browser_tests,
    },
];

/// Runs the steps named, or all of them; true when nothing failed.
pub(crate) fn run(names: &[String]) -> Result<bool> {
    if let Some(unknown) = names
        .iter()
        .find(|name| STEPS.iter().all(|step| step.name != name.as_str()))
    {
        let known: Vec<&str> = STEPS.iter().map(|step| step.name).collect();
        bail!(
            "there is no step `{unknown}`; the steps are {}",
            known.join(", ")
        );
    }
    let mut sum = Count::default();
    let mut lines = Vec::new();
    for step in STEPS.iter().filter(|step| is_wanted(step.name, names)) {
        println!("\n== {}: {}", step.name, step.what);
        let started = Instant::now();
        let verdict = (step.work)();
        let seconds = started.elapsed().as_secs_f64();
        let (count, words) = tell(verdict);
        sum.add(count);
        let line = format!("{:>8.1} s  {:<10} {words}", seconds, step.name);
        println!("{line}");
        lines.push(line);
    }
    println!("\n== seconds per step");
    for line in lines {
        println!("{line}");
    }
    println!("{} passed, {} failed", sum.passed, sum.failed);
    Ok(sum.failed == 0)
}

/// A step that runs tests brings the build with it, so that no test meets an old program.
fn is_wanted(step: &str, names: &[String]) -> bool {
    let named = |wanted: &str| names.iter().any(|name| name == wanted);
    names.is_empty()
        || named(step)
        || (step == "build" && ["test", "reference", "browser"].into_iter().any(named))
}

fn tell(verdict: Result<Verdict>) -> (Count, String) {
    match verdict {
        Ok(Verdict::Counted(count)) => (
            count,
            format!("{} passed, {} failed", count.passed, count.failed),
        ),
        Ok(Verdict::LeftOut(reason)) if tools::in_ci() => {
            (Count::one(false), format!("FAILED: {reason}"))
        }
        Ok(Verdict::LeftOut(reason)) => (Count::default(), format!("NOT RUN: {reason}")),
        Err(error) => (Count::one(false), format!("FAILED: {error:#}")),
    }
}

fn check_setup() -> Result<Verdict> {
    if tools::in_ci() {
        setup::install_missing()?;
        return Ok(Verdict::Counted(Count::one(true)));
    }
    let mut missing = tools::missing_for(Serves::Reference);
    missing.extend(tools::missing_for(Serves::Browser));
    missing.sort();
    missing.dedup();
    if missing.is_empty() {
        return Ok(Verdict::Counted(Count::one(true)));
    }
    Ok(Verdict::LeftOut(format!(
        "missing: {}; `cargo xtask setup` installs them",
        missing.join(", ")
    )))
}

fn check_format() -> Result<Verdict> {
    one(cargo().args(["fmt", "--all", "--check"]))
}

/// Uses the profile of the tests, so that build scripts and macros are compiled for one profile only.
fn check_lints() -> Result<Verdict> {
    one(cargo()
        .args([
            "clippy",
            "--locked",
            "--workspace",
            "--all-targets",
            "--profile",
            "checked",
        ])
        .args(FEATURES)
        .args(["--", "--deny", "warnings"]))
}

fn check_tidy() -> Result<Verdict> {
    tidy::count().map(Verdict::Counted)
}

fn build() -> Result<Verdict> {
    one(cargo()
        .args([
            "build",
            "--locked",
            "--workspace",
            "--all-targets",
            "--profile",
            "checked",
        ])
        .args(FEATURES))
}

fn run_tests() -> Result<Verdict> {
    let filter = "not (package(tests) & (binary(reference) | binary(browser)))";
    if has_nextest() {
        return counted(&mut nextest(filter), count::of_nextest);
    }
    // Without a filter language every other target is named.
    let mut command = harness();
    command.args(["--workspace", "--lib", "--bins"]);
    for target in tidy::other_test_targets(&["reference", "browser"])? {
        command.args(["--test", &target]);
    }
    counted(&mut command, count::of_harness)
}

fn run_doc_tests() -> Result<Verdict> {
    let mut command = cargo();
    command.args(["test", "--locked", "--doc", "--profile", "checked"]);
    for name in PURE_CRATES {
        command.args(["--package", name]);
    }
    counted(&mut command, count::of_harness)
}

fn run_reference_tests() -> Result<Verdict> {
    run_with_tools(Serves::Reference, "reference")
}

fn run_browser_tests() -> Result<Verdict> {
    run_with_tools(Serves::Browser, "browser")
}

fn run_with_tools(serves: Serves, target: &str) -> Result<Verdict> {
    let missing = tools::missing_for(serves);
    if !missing.is_empty() {
        return Ok(Verdict::LeftOut(format!("missing: {}", missing.join(", "))));
    }
    if has_nextest() {
        return counted(
            &mut nextest(&format!("package(tests) & binary({target})")),
            count::of_nextest,
        );
    }
    counted(
        harness().args(["--workspace", "--test", target]),
        count::of_harness,
    )
}

fn has_nextest() -> bool {
    std::env::var_os("HEARTHPACE_PLAIN_TESTS").is_none()
        && shell::read(cargo().args(["nextest", "--version"])).is_ok()
}

fn nextest(filter: &str) -> Command {
    let mut command = cargo();
    command
        .args([
            "nextest",
            "run",
            "--locked",
            "--workspace",
            "--cargo-profile",
            "checked",
        ])
        .args(FEATURES)
        .args([
            "--no-fail-fast",
            "--status-level",
            "fail",
            "--final-status-level",
            "slow",
        ])
        .args(["--filterset", filter]);
    prepared(command)
}

fn harness() -> Command {
    let mut command = cargo();
    command
        .args(["test", "--locked", "--no-fail-fast", "--profile", "checked"])
        .args(FEATURES);
    prepared(command)
}

/// Tells the tests where the program just built stands, and keeps the output readable for the count.
fn prepared(mut command: Command) -> Command {
    command
        .env(
            "HEARTHPACE_PROGRAM",
            root().join("target/checked/hearthpace"),
        )
        .env("CARGO_TERM_COLOR", "never");
    command
}

/// A step that is one check: it holds when the program succeeds.
fn one(command: &mut Command) -> Result<Verdict> {
    Ok(Verdict::Counted(Count::one(show(command)?.succeeded)))
}

/// A step that runs tests. A run that failed without a failed test (it did not compile, say) is one failure.
fn counted(command: &mut Command, count_of: fn(&str) -> Option<Count>) -> Result<Verdict> {
    let outcome = show(command)?;
    let Some(mut count) = count_of(&outcome.printed) else {
        bail!("the test runner printed no summary");
    };
    if !outcome.succeeded && count.failed == 0 {
        count.failed = 1;
    }
    Ok(Verdict::Counted(count))
}

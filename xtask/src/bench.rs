//! Figures for a person to read: how long things take, how many inputs a first page needs, and the long checks.

use anyhow::Result;

use crate::shell::{cargo, root};

/// The test of the crate `web` that counts the inputs, and what it prints.
const COUNTED_INPUTS: &str =
    "from_referral_to_a_page_that_can_be_signed_takes_at_most_sixty_inputs";
const INPUTS: &str = "inputs from referral to a page that can be signed";

/// How many people the long checks take.
const LONG: [(&str, &str); 2] = [
    ("HEARTHPACE_LIMITS", "1000000"),
    ("HEARTHPACE_CHAINS", "20000"),
];

/// Prints the table: all rows, or those whose name holds one of the words; with `--long` the long checks after it.
pub(crate) fn run(words: &[String]) -> Result<bool> {
    let (options, words): (Vec<&String>, Vec<&String>) =
        words.iter().partition(|word| word.starts_with("--"));
    if let Some(unknown) = options.iter().find(|option| option.as_str() != "--long") {
        anyhow::bail!("bench has no option `{unknown}`; it has --long");
    }
    let wants = |what: &str| words.is_empty() || words.iter().any(|word| what.contains(*word));
    let mut sound = time(&words)?;
    if wants(INPUTS) {
        sound &= count_inputs()?;
    }
    if !options.is_empty() {
        sound &= check_long()?;
    }
    Ok(sound)
}

/// In the release profile: the program first, since some rows start it.
fn time(words: &[&String]) -> Result<bool> {
    let built = cargo()
        .args(["build", "--quiet", "--locked", "--release"])
        .args(["--package", "hearthpace"])
        .status()?;
    if !built.success() {
        return Ok(false);
    }
    let timed = cargo()
        .env(
            "HEARTHPACE_PROGRAM",
            root().join("target/release/hearthpace"),
        )
        .args(["bench", "--quiet", "--locked", "--package", "tests"])
        .args(["--bench", "figures", "--"])
        .args(words)
        .status()?;
    Ok(timed.success())
}

/// The number stands in the output of the test that walks the way and counts.
fn count_inputs() -> Result<bool> {
    let counted = cargo()
        .args(["test", "--quiet", "--locked", "--profile", "checked"])
        .args(["--package", "web", "--test", "pages", "--"])
        .args(["--nocapture", COUNTED_INPUTS])
        .output()?;
    let printed = String::from_utf8_lossy(&counted.stdout);
    let line = printed.lines().find(|line| line.contains(INPUTS));
    println!("{}", line.unwrap_or("the inputs were not counted"));
    Ok(counted.status.success() && line.is_some())
}

fn check_long() -> Result<bool> {
    let checked = cargo()
        .envs(LONG)
        .args(["test", "--locked", "--profile", "checked"])
        .args(["--package", "tests", "--test", "checks", "--"])
        .args(["--nocapture", "of_random_people"])
        .status()?;
    Ok(checked.success())
}

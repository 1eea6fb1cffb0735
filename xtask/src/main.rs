//! Development tasks of Hearthpace: everything that is done to the tree rather than by the program.

mod bench;
mod check;
mod count;
mod sabotage;
mod setup;
mod shell;
mod tidy;
mod tools;

use std::process::ExitCode;

const USAGE: &str = "\
cargo xtask TASK

  setup              install the tools that the tests need and that are missing
  check [STEP...]    everything that continuous integration does, or only the steps named
  tidy               the rules of the house that no compiler checks
  bench [WORD...]    how long things take, in a table; all rows or those whose name holds a word
  bench --long       the same, then the checks of a million limits and of 20,000 whole chains
  sabotage [ID...]   break the program one line at a time and see that its tests notice";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let rest = arguments.get(1..).unwrap_or_default();
    let outcome = match arguments.first().map(String::as_str) {
        Some("setup") => setup::install_missing().map(|()| true),
        Some("check") => check::run(rest),
        Some("tidy") => tidy::run(),
        Some("bench") => bench::run(rest),
        Some("sabotage") => sabotage::run(rest),
        Some("help" | "--help" | "-h") => {
            println!("{USAGE}");
            return ExitCode::SUCCESS;
        }
        _ => {
            eprintln!("{USAGE}");
            return ExitCode::from(2);
        }
    };
    match outcome {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error:#}");
            ExitCode::FAILURE
        }
    }
}

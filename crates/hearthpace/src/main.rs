//! The program: commands and wiring.

mod commands;
mod course;
mod demo;
mod failure;
mod inputs;
mod output;
mod place;
mod text;

use clap::Parser;
use std::process::ExitCode;

/// Decision support for community cardiac rehabilitation at home.
///
/// For trained staff; not a certified medical device. Local protocol and the treating doctor come first.
/// The program computes, shows its reasons and proposes; a trained person decides.
#[derive(Parser)]
#[command(name = "hearthpace", version, disable_help_subcommand = true)]
struct Arguments {
    #[command(flatten)]
    common: commands::Common,
    #[command(subcommand)]
    command: commands::Command,
}

fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => return output::wrong_usage(&error),
    };
    match commands::run(&arguments.command, &arguments.common) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            output::failure(&failure, arguments.common.json);
            failure.exit_code()
        }
    }
}

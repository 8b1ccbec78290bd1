//! Ebbline: from a runner's base week and a goal race to a taper block.
//!
//! The binary only wires: a file under `commands` for each command, which reads its arguments,
//! calls the crates that do the work, and says what went wrong.

mod commands;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

use commands::Failure;

/// From an athlete's usual week and a goal race to a day-by-day taper block.
#[derive(Debug, Parser)]
#[command(version, arg_required_else_help = true)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    Plan(commands::plan::Arguments),
}

fn main() -> ExitCode {
    let outcome = match Cli::parse().command {
        Some(Command::Plan(arguments)) => commands::plan::run(&arguments),
        None => Err(Failure::Usage("give a command; ebbline --help lists them".to_owned())),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.tell(),
    }
}

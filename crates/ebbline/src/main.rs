//! Ebbline: from a runner's base week and a goal race to a taper block.
//!
//! The binary only wires: a file under `commands` for each command, which reads its arguments,
//! calls the crates that do the work, and says what went wrong.

mod commands;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// From an athlete's usual week and a goal race to a day-by-day taper block.
#[derive(Debug, Parser)]
#[command(version, args_conflicts_with_subcommands = true)]
struct Cli {
    #[command(flatten)]
    serve: commands::serve::Arguments,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    Serve(commands::serve::Arguments),
    Demo(commands::demo::Arguments),
    Plan(commands::plan::Arguments),
    Publish(commands::publish::Arguments),
    Backup(commands::data::BackupArguments),
    Restore(commands::data::RestoreArguments),
    Check(commands::data::CheckArguments),
}

fn main() -> ExitCode {
    let cli = Cli::parse();
    let outcome = match cli.command {
        // Without a command the app is served: that is what a coach starts it for.
        None => commands::serve::run(&cli.serve),
        Some(Command::Serve(arguments)) => commands::serve::run(&arguments),
        Some(Command::Demo(arguments)) => commands::demo::run(&arguments),
        Some(Command::Plan(arguments)) => commands::plan::run(&arguments),
        Some(Command::Publish(arguments)) => commands::publish::run(&arguments),
        Some(Command::Backup(arguments)) => commands::data::backup(&arguments),
        Some(Command::Restore(arguments)) => commands::data::restore(&arguments),
        Some(Command::Check(arguments)) => commands::data::check(&arguments),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.tell(),
    }
}

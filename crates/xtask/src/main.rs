//! `cargo xtask`: the commands for those who work on Ebbline, one module a command.
//!
//! What the commands print of their own goes to standard error, what they run prints as it likes.

mod arrows;
mod bench;
mod check;
mod explore;
mod needs;
mod package;
mod reference;
mod scale;
mod steps;
mod test;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// Work on Ebbline.
#[derive(Parser)]
#[command(bin_name = "cargo xtask")]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Everything that must hold before a change is kept; installs what the tests need.
    Test,
    /// The quick part of it: format, lints, dependency arrows.
    Check,
    /// The property tests on many new random cases; says how to repeat what it finds.
    Explore(explore::Exploration),
    /// What a block and a page cost, beside the name of this machine.
    Bench,
    /// What the program costs with ten thousand athletes, and planning beside a spreadsheet, which it installs.
    Scale,
    /// The pictures of the README, taken anew from real pages.
    Pictures,
    /// One archive to hand on: the program, how it is started, README, licences.
    Package,
    /// Our results beside those of outside libraries, which it installs.
    Reference,
    /// Known weaknesses, licences and sources of every dependency; fetches the list of weaknesses.
    Audit,
}

fn main() -> ExitCode {
    let outcome = match Arguments::parse().command {
        Command::Test => test::run(),
        Command::Check => check::run(),
        Command::Explore(exploration) => explore::run(&exploration),
        Command::Bench => bench::run(),
        Command::Scale => scale::run(),
        Command::Pictures => test::take_pictures(),
        Command::Package => package::run(),
        Command::Reference => reference::run(),
        Command::Audit => reference::audit(),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("xtask: {error:#}");
            ExitCode::FAILURE
        }
    }
}

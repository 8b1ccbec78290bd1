//! One file a command: its arguments and what it does with them.

pub(crate) mod plan;

use std::process::ExitCode;

/// Why a command came to nothing.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The request or the data is wrong: exit code 1.
    Data(String),
    /// The command was used wrongly: exit code 2.
    Usage(String),
}

impl Failure {
    /// Says it on standard error and gives the exit code.
    pub(crate) fn tell(&self) -> ExitCode {
        let (message, code) = match self {
            Self::Data(message) => (message, 1),
            Self::Usage(message) => (message, 2),
        };
        eprintln!("{message}");
        ExitCode::from(code)
    }
}

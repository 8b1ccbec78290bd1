//! One file a command: its arguments and what it does with them.

mod browser;
pub(crate) mod data;
pub(crate) mod demo;
pub(crate) mod plan;
pub(crate) mod publish;
pub(crate) mod serve;

use std::future::Future;
use std::path::{Path, PathBuf};
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

/// The data file that was asked for, or the one where this machine keeps user data.
pub(crate) fn data_file(asked: Option<&Path>) -> Result<PathBuf, Failure> {
    if let Some(asked) = asked {
        return Ok(asked.to_owned());
    }
    directories::ProjectDirs::from("", "", "Ebbline").map(|folders| folders.data_dir().join("ebbline.db")).ok_or_else(
        || Failure::Usage("this machine names no folder for user data: give the file with --data".to_owned()),
    )
}

/// Runs what waits for files and sockets.
pub(crate) fn block_on<T>(work: impl Future<Output = Result<T, Failure>>) -> Result<T, Failure> {
    tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(|error| Failure::Data(format!("the program could not start: {error}")))?
        .block_on(work)
}

/// Writes what goes wrong to standard error; `EBBLINE_LOG=debug` says more.
pub(crate) fn start_log() {
    let filter = tracing_subscriber::EnvFilter::try_from_env("EBBLINE_LOG")
        .unwrap_or_else(|_| tracing_subscriber::EnvFilter::new("warn"));
    // Only the first call in a process counts.
    let _ = tracing_subscriber::fmt().with_env_filter(filter).with_writer(std::io::stderr).try_init();
}

//! Opens the machine's browser, each system in its own way.

use std::process::{Command, Stdio};

/// Opens an address; a machine without a browser only loses the convenience.
pub(crate) fn open(address: &str) {
    let mut command = command(address);
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    if let Err(error) = command.spawn() {
        eprintln!("The browser could not be opened ({error}). Open {address} yourself.");
    }
}

#[cfg(target_os = "macos")]
fn command(address: &str) -> Command {
    let mut command = Command::new("open");
    command.arg(address);
    command
}

#[cfg(windows)]
fn command(address: &str) -> Command {
    let mut command = Command::new("cmd");
    command.args(["/C", "start", "", address]);
    command
}

#[cfg(not(any(target_os = "macos", windows)))]
fn command(address: &str) -> Command {
    let mut command = Command::new("xdg-open");
    command.arg(address);
    command
}

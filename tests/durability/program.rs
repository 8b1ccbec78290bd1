//! The program as a child process.

use std::io::{BufRead, BufReader};
use std::net::SocketAddr;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};

/// A program that serves; killed when it is dropped.
pub(crate) struct Program {
    child: Child,
    pub(crate) address: SocketAddr,
    /// Held open: who prints into a pipe that nobody holds is ended by that.
    _said: Box<dyn Send + Sync>,
}

impl Program {
    /// Starts it on a free port and waits until it says where it is.
    pub(crate) fn start(data: &Path) -> Self {
        let mut child = command(data)
            .args(["--listen", "127.0.0.1:0"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts");
        let mut lines = BufReader::new(child.stdout.take().expect("a pipe")).lines();
        let said = lines.by_ref().map_while(Result::ok).find_map(|line| Some(line.split_once("http://")?.1.to_owned()));
        let address = said.expect("the program says where it is").parse().expect("an address");
        Self { child, address, _said: Box::new(lines) }
    }

    /// Ends it in the middle of whatever it does, as a power cut would.
    pub(crate) fn kill(&mut self) {
        self.child.kill().expect("a program to kill");
        self.child.wait().expect("an end");
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        // It may have been killed already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// `ebbline serve` on a data file, with nothing from the environment.
fn command(data: &Path) -> Command {
    let mut command = ebbline();
    command.arg("serve").arg("--data").arg(data);
    command
}

/// The program without arguments.
pub(crate) fn ebbline() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ebbline"));
    for variable in ["EBBLINE_DATA", "EBBLINE_LISTEN", "EBBLINE_SHARE", "EBBLINE_SHARE_URL", "EBBLINE_OPEN"] {
        command.env_remove(variable);
    }
    command.stdin(Stdio::null());
    command
}

/// Runs `ebbline serve` with a fixed address to its end.
pub(crate) fn serve_at(data: &Path, address: SocketAddr) -> Output {
    command(data).args(["--listen", &address.to_string()]).output().expect("the program ends")
}

/// Asks the program itself whether all is well.
pub(crate) fn assert_well(data: &Path, when: &str) {
    let output = ebbline().arg("check").arg("--data").arg(data).output().expect("a check");
    assert!(output.status.success(), "{when}: {}", String::from_utf8_lossy(&output.stderr));
}

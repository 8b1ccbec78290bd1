//! `cargo xtask reference`: our results beside those of libraries that we did not write.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, Result};

use crate::steps::{self, Step};

/// From the npm registry; the Python packages stand in `tests/reference/requirements.txt`.
const ICAL_JS: &str = "ical.js@2.2.1";

/// Installs the outside libraries and compares.
pub(crate) fn run() -> Result<()> {
    steps::run_all(vec![
        Step::new("outside libraries", install),
        Step::new("the amounts of a week, against an integer solver", || {
            // As it is used, not as it is tested: both sides are timed.
            let tests = [
                "test",
                "--release",
                "--package",
                "planning",
                "--lib",
                "--",
                "--ignored",
                "--nocapture",
                "an_outside_solver",
            ];
            steps::run(steps::cargo().args(tests).env("EBBLINE_REFERENCE_PYTHON", python()))
        }),
        Step::new("calendar files, read by two other libraries", || {
            let tests =
                ["test", "--package", "formats", "--lib", "--", "--ignored", "--nocapture", "outside_libraries_read"];
            let readers = [
                ("EBBLINE_REFERENCE_PYTHON", python()),
                ("EBBLINE_REFERENCE_NODE", "node".into()),
                ("EBBLINE_REFERENCE_MODULES", folder().join("node_modules")),
            ];
            steps::run(steps::cargo().args(tests).envs(readers))
        }),
        Step::new("killed a hundred times, and a minute of sixteen clients", || {
            let tests = ["test", "--package", "ebbline", "--test", "durability", "--", "--nocapture"];
            steps::run(steps::cargo().args(tests).env("EBBLINE_ROUNDS", "100").env("EBBLINE_SECONDS", "60"))
        }),
    ])
}

/// Makes an environment of its own, so that nothing is installed anywhere else.
fn install() -> Result<()> {
    let system = if cfg!(windows) { "python" } else { "python3" };
    if !python().exists() {
        steps::run(Command::new(system).args(["-m", "venv"]).arg(folder()))
            .context("Python 3.10 or newer with its venv module is needed (Debian package python3-venv)")?;
    }
    let wanted = steps::workspace().join("tests/reference/requirements.txt");
    steps::run(Command::new(python()).args(["-m", "pip", "install", "--quiet", "--requirement"]).arg(wanted))?;
    let npm = if cfg!(windows) { "npm.cmd" } else { "npm" };
    steps::run(Command::new(npm).args(["install", "--silent", "--no-save", "--prefix"]).arg(folder()).arg(ICAL_JS))
        .context("Node.js 20 or newer with npm is needed")
}

fn folder() -> PathBuf {
    steps::workspace().join("target/reference")
}

fn python() -> PathBuf {
    folder().join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" })
}

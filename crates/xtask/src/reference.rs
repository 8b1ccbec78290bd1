//! `cargo xtask reference`: our results beside those of libraries that we did not write.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, Result};

use crate::needs::NPM;
use crate::steps::{self, Step};

/// From the npm registry; the Python packages stand in `tests/reference/requirements.txt`.
const FROM_NPM: [&str; 2] = ["ical.js@2.2.1", "vnu-jar@26.9.27"];

/// What weighs the dependencies, built once from its source.
const CARGO_DENY: &str = "0.20.2";

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
        Step::new("distances over the ellipsoid, by the author's library", || {
            let beside = steps::workspace().join("tests/reference");
            steps::run(Command::new(python()).arg(beside.join("geodesic.py")).arg(beside.join("geodesic.csv")))
        }),
        Step::new("times of a race, by numpy and scipy", || {
            let beside = steps::workspace().join("tests/reference");
            for name in ["pacing", "noise", "equivalents"] {
                // Beside the script lies one that it uses: what Python makes of that is not to lie there.
                let script = beside.join(name).with_extension("py");
                steps::run(Command::new(python()).arg("-B").arg(script).arg(beside.join(name).with_extension("csv")))?;
            }
            Ok(())
        }),
        Step::new("every page, by an HTML checker", || {
            let tests = ["test", "--package", "server", "--lib", "--", "--ignored", "an_outside_checker"];
            let jar = folder().join("node_modules/vnu-jar/build/dist/vnu.jar");
            steps::run(steps::cargo().args(tests).env("EBBLINE_HTML_CHECKER", jar))
        }),
        Step::new("licences and sources of every dependency", weigh_dependencies),
        Step::new("ten thousand requests that no page sends, at each door", || {
            let tests = ["test", "--package", "ebbline-tests", "--test", "web", "hostile"];
            steps::run(steps::cargo().args(tests).env("EBBLINE_REQUESTS", "10000"))
        }),
        Step::new("killed a hundred times, and a minute of sixteen clients", || {
            let tests = ["test", "--package", "ebbline", "--test", "durability", "--", "--nocapture"];
            steps::run(steps::cargo().args(tests).env("EBBLINE_ROUNDS", "100").env("EBBLINE_SECONDS", "60"))
        }),
    ])
}

/// Everything that `deny.toml` asks of the dependencies, the list of known weaknesses included.
pub(crate) fn audit() -> Result<()> {
    steps::run(deny()?.arg("check"))
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
    let silently = ["install", "--silent", "--no-save", "--prefix"];
    steps::run(Command::new(NPM).args(silently).arg(folder()).args(FROM_NPM))
        .context("Node.js 20 or newer with npm is needed")
}

/// Licences, sources and versions of every dependency, as `deny.toml` wants them. Known weaknesses are
/// asked for by `cargo xtask audit`, which needs their list from the network.
fn weigh_dependencies() -> Result<()> {
    steps::run(deny()?.args(["check", "bans", "licenses", "sources"]))
}

/// The program that weighs dependencies, built if it is not there.
fn deny() -> Result<Command> {
    let root = folder().join("cargo");
    let program = root.join(if cfg!(windows) { "bin/cargo-deny.exe" } else { "bin/cargo-deny" });
    if !program.exists() {
        let install = ["install", "cargo-deny", "--locked", "--quiet", "--version", CARGO_DENY, "--root"];
        steps::run(steps::cargo().args(install).arg(&root))?;
    }
    Ok(Command::new(program))
}

fn folder() -> PathBuf {
    steps::workspace().join("target/reference")
}

fn python() -> PathBuf {
    folder().join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" })
}

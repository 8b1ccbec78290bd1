//! `cargo xtask scale`: what the program costs as the squad grows, and planning beside a spreadsheet.

use std::path::Path;
use std::process::Command;

use anyhow::{Result, bail};

use crate::steps::{self, Step};
use crate::{bench, needs};

/// Brings `soffice`, and the module that talks to it for the system's Python.
const PACKAGES: [&str; 2] = ["libreoffice-calc-nogui", "python3-uno"];

/// Builds the program as it is used and measures it.
pub(crate) fn run() -> Result<()> {
    let measured = steps::run_all(vec![
        Step::new("a spreadsheet to compare with", || {
            if Path::new("/usr/bin/soffice").exists() {
                return Ok(());
            }
            if !needs::can_install() {
                bail!("LibreOffice Calc is missing; Debian packages {}", PACKAGES.join(" and "));
            }
            needs::install_packages(&PACKAGES)
        }),
        Step::cargo("the program", "build --release --package ebbline"),
        Step::cargo("what measures it", "build --release --package ebbline-scale"),
        Step::new("a hundred, a thousand, ten thousand athletes", || {
            let folder = steps::release_folder()?;
            let program = folder.join(format!("ebbline{}", std::env::consts::EXE_SUFFIX));
            steps::run(Command::new(folder.join("scale")).env("EBBLINE_PROGRAM", program))
        }),
    ]);
    println!("\n{}", bench::machine());
    measured
}

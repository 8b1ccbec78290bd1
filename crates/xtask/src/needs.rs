//! Programs that the tests start and that cargo cannot bring.

use std::env;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::steps;

/// A program, the Debian package that holds it, and what it is for.
struct Need {
    program: &'static str,
    package: &'static str,
    purpose: &'static str,
}

/// In Debian the driver's package brings the browser of the same version.
const NEEDS: [Need; 4] = [
    Need { program: "chromedriver", package: "chromium-driver", purpose: "drives Chromium or Chrome" },
    Need { program: "pdfinfo", package: "poppler-utils", purpose: "counts the pages of a printed sheet" },
    Need { program: "pdftotext", package: "poppler-utils", purpose: "reads a printed sheet" },
    Need { program: NPM, package: "npm", purpose: "fetches the rules of accessibility" },
];

/// Brings packages of Node.js.
pub(crate) const NPM: &str = if cfg!(windows) { "npm.cmd" } else { "npm" };

/// The rules of accessibility that every page is held to, from the npm registry.
const RULES: (&str, &str) = ("axe-core", "4.14.1");

/// A machine without any font prints sheets without letters.
const FONTS: &str = "fonts-dejavu-core";

/// Installs the missing programs where that can be done by name, and says which are missing elsewhere;
/// then fetches the rules of accessibility.
///
/// # Errors
///
/// The missing programs with their Debian packages; what `apt-get` and `npm` say.
pub(crate) fn install() -> Result<()> {
    install_programs()?;
    fetch_rules()
}

/// Puts the rules where the browser tests look for them, once for each version.
fn fetch_rules() -> Result<()> {
    let (name, version) = RULES;
    let folder = steps::workspace().join("target/needs");
    let told = std::fs::read_to_string(folder.join("node_modules").join(name).join("package.json"));
    if told.is_ok_and(|told| told.contains(&format!("\"version\": \"{version}\""))) {
        return Ok(());
    }
    std::fs::create_dir_all(&folder)?;
    let mut npm = Command::new(NPM);
    npm.args(["install", "--silent", "--no-save", "--prefix"]).arg(folder).arg(format!("{name}@{version}"));
    steps::run(&mut npm).context("the rules of accessibility come from the npm registry")
}

fn install_programs() -> Result<()> {
    let missing = missing(&search_path());
    if missing.is_empty() {
        return Ok(());
    }
    if !can_install() {
        bail!("{}", sentence(&missing));
    }
    let mut packages: Vec<&str> = missing.iter().map(|need| need.package).collect();
    packages.push(FONTS);
    packages.dedup();
    install_packages(&packages)?;
    let still = self::missing(&search_path());
    if !still.is_empty() {
        bail!("apt-get installed the packages, and yet: {}", sentence(&still));
    }
    Ok(())
}

/// Whether this machine lets us install packages of Debian.
pub(crate) fn can_install() -> bool {
    find("apt-get", &search_path()).is_some() && is_root()
}

/// Installs packages of Debian by their names.
///
/// # Errors
///
/// What `apt-get` says.
pub(crate) fn install_packages(packages: &[&str]) -> Result<()> {
    steps::run(apt_get().args(["update", "--quiet"]))?;
    steps::run(apt_get().args(["install", "--yes", "--quiet", "--no-install-recommends"]).args(packages))
}

fn apt_get() -> Command {
    let mut command = Command::new("apt-get");
    command.env("DEBIAN_FRONTEND", "noninteractive");
    command
}

fn search_path() -> Vec<PathBuf> {
    env::var_os("PATH").map(|path| env::split_paths(&path).collect()).unwrap_or_default()
}

fn missing(folders: &[PathBuf]) -> Vec<&'static Need> {
    NEEDS.iter().filter(|need| find(need.program, folders).is_none()).collect()
}

fn find(program: &str, folders: &[PathBuf]) -> Option<PathBuf> {
    let suffix = if program.contains('.') { "" } else { env::consts::EXE_SUFFIX };
    let name = format!("{program}{suffix}");
    folders.iter().map(|folder| folder.join(&name)).find(|path| Path::is_file(path))
}

/// Asked of `id`, because the standard library does not know and a crate for one number is too much.
fn is_root() -> bool {
    steps::output(Command::new("id").arg("-u")).is_ok_and(|id| id.trim() == "0")
}

fn sentence(missing: &[&Need]) -> String {
    let mut lines = vec!["these programs are missing from the search path:".to_owned()];
    for need in missing {
        lines.push(format!("  {} ({}; Debian package {})", need.program, need.purpose, need.package));
    }
    lines.push("Install them and run the command again. Root on Debian: they are installed for you.".to_owned());
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_program_missing_from_the_path_is_named_with_its_package() {
        let missing = missing(&[]);

        assert_eq!(missing.len(), NEEDS.len());
        let sentence = sentence(&missing);
        for need in NEEDS {
            assert!(sentence.contains(need.program) && sentence.contains(need.package), "{sentence}");
        }
    }

    #[test]
    fn a_program_on_the_path_is_found() {
        let cargo = env::var_os("CARGO").map(PathBuf::from).unwrap();
        let folder = cargo.parent().unwrap().to_path_buf();

        assert_eq!(find("cargo", &[PathBuf::from("no such folder"), folder]), Some(cargo));
    }
}

//! `cargo xtask package`: one archive that a coach unpacks and starts with a double click.

use std::fmt::Write as _;
use std::fs::File;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use chrono::{DateTime, Datelike, Timelike, Utc};
use serde_json::Value;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use crate::steps::{self, Step};

/// Where the README finds its pictures, and where they lie in the archive.
const PICTURES: (&str, &str) = ("tests/pictures/", "pictures/");

/// Builds the program as it is used and packs it.
pub(crate) fn run() -> Result<()> {
    steps::run_all(vec![
        Step::cargo("the program", "build --release --locked --package ebbline"),
        Step::new("the archive", || {
            let path = pack()?;
            println!("{}", path.display());
            Ok(())
        }),
    ])
}

/// One file of the archive.
struct Packed {
    name: String,
    bytes: Vec<u8>,
    starts: bool,
}

impl Packed {
    fn text(name: &str, text: impl Into<String>) -> Self {
        Self { name: name.to_owned(), bytes: text.into().into_bytes(), starts: false }
    }

    fn program(name: &str, bytes: impl Into<Vec<u8>>) -> Self {
        Self { name: name.to_owned(), bytes: bytes.into(), starts: true }
    }
}

fn pack() -> Result<PathBuf> {
    let root = steps::workspace();
    let program = format!("ebbline{}", std::env::consts::EXE_SUFFIX);
    let built = steps::release_folder()?.join(&program);
    let day = built_on(&built)?;
    let mut files = vec![Packed::program(&program, std::fs::read(&built)?)];
    files.extend(start_entries(std::env::consts::OS));
    let readme = std::fs::read_to_string(root.join("README.md"))?;
    files.push(Packed::text("README.md", readme.replace(PICTURES.0, PICTURES.1)));
    for picture in pictures(&readme) {
        let bytes = std::fs::read(root.join(PICTURES.0).join(picture)).with_context(|| format!("picture {picture}"))?;
        files.push(Packed { name: format!("{}{picture}", PICTURES.1), bytes, starts: false });
    }
    files.push(Packed::text("LICENSE", std::fs::read_to_string(root.join("LICENSE"))?));
    files.push(Packed::text("ebbline.svg", std::fs::read_to_string(root.join("static/icons/ebbline.svg"))?));
    files.push(Packed::text("LICENCES-OF-PARTS.txt", licences(&metadata()?)?));

    let folder = format!("ebbline-{}-{}-{}", version(), std::env::consts::OS, std::env::consts::ARCH);
    let path = steps::release_folder()?.with_file_name("package").join(format!("{folder}.zip"));
    std::fs::create_dir_all(path.parent().context("a folder")?)?;
    let mut archive = ZipWriter::new(File::create(&path)?);
    for file in files {
        let mode = if file.starts { 0o755 } else { 0o644 };
        let options = SimpleFileOptions::default().unix_permissions(mode).last_modified_time(day);
        archive.start_file(format!("{folder}/{}", file.name), options)?;
        archive.write_all(&file.bytes)?;
    }
    archive.finish()?;
    Ok(path)
}

/// When the program was built: the day that whoever unpacks the archive sees beside its files.
fn built_on(program: &Path) -> Result<zip::DateTime> {
    let built = DateTime::<Utc>::from(std::fs::metadata(program)?.modified()?);
    let (day, time) = (built.date_naive(), built.time());
    let part = |number: u32| u8::try_from(number).unwrap_or_default();
    Ok(zip::DateTime::from_date_and_time(
        u16::try_from(day.year())?,
        part(day.month()),
        part(day.day()),
        part(time.hour()),
        part(time.minute()),
        part(time.second()),
    )?)
}

/// xtask is released with the program.
const fn version() -> &'static str {
    env!("CARGO_PKG_VERSION")
}

/// What is double-clicked on a system. Each starts the program that lies beside it and opens the browser; a
/// second double click opens the browser on the one that runs. The window that stays open stops it when closed.
fn start_entries(system: &str) -> Vec<Packed> {
    match system {
        "windows" => vec![Packed::program(
            "Start Ebbline.cmd",
            "@echo off\r\n\"%~dp0ebbline.exe\" serve --open\r\nif errorlevel 1 pause\r\n",
        )],
        "macos" => vec![Packed::program("Start Ebbline.command", shell_entry())],
        _ => {
            vec![Packed::program("start-ebbline.sh", shell_entry()), Packed::program("Ebbline.desktop", DESKTOP_ENTRY)]
        }
    }
}

/// `%k` is where this file lies. Quoted as the Desktop Entry Specification wants it: `desktop-file-validate` passes it.
const DESKTOP_ENTRY: &str = r#"[Desktop Entry]
Type=Application
Name=Ebbline
Comment=Plans the last weeks before a race
Exec=sh -c "exec \\"\\$(dirname \\"\\$1\\")/start-ebbline.sh\\"" sh %k
Terminal=true
Categories=Office;
"#;

fn shell_entry() -> &'static str {
    "#!/bin/sh\n# Starts Ebbline and opens the browser; close this window to stop it.\ncd \"$(dirname \"$0\")\" || exit 1\n\
     exec ./ebbline serve --open\n"
}

/// The pictures that a README shows.
fn pictures(readme: &str) -> Vec<&str> {
    readme.split(PICTURES.0).skip(1).filter_map(|rest| rest.split([')', ' ', '"']).next()).collect()
}

fn metadata() -> Result<Value> {
    let mut command = steps::cargo();
    command.args(["metadata", "--format-version", "1", "--locked", "--filter-platform", &host()?]);
    serde_json::from_str(&steps::output(&mut command)?).context("cargo metadata gave no JSON")
}

/// The system that the program is built for.
fn host() -> Result<String> {
    let told = steps::output(std::process::Command::new("rustc").arg("-vV"))?;
    let host = told.lines().find_map(|line| line.strip_prefix("host: "));
    Ok(host.context("rustc does not say its host")?.to_owned())
}

/// Who wrote the parts that the program is built from, with the licences as they came: most of them ask for that.
fn licences(metadata: &Value) -> Result<String> {
    let mut text =
        "Ebbline is built from these parts. Each is used under the licence that stands with it.\n".to_owned();
    let within = within(metadata)?;
    let packages = metadata["packages"].as_array().context("packages")?;
    let mut parts: Vec<&Value> = packages.iter().filter(|part| within.contains(&part["id"])).collect();
    parts.sort_by_key(|part| (part["name"].as_str(), part["version"].as_str()));
    for part in parts.into_iter().filter(|part| !part["source"].is_null()) {
        let said = |field: &str| part[field].as_str().unwrap_or("not said").to_owned();
        write!(text, "\n\n{} {}\nLicence: {}\n", said("name"), said("version"), said("license"))?;
        let folder = part["manifest_path"].as_str().map(Path::new).and_then(Path::parent);
        for file in licence_files(folder.context("a folder")?)? {
            let words = String::from_utf8_lossy(&std::fs::read(&file)?).replace("\r\n", "\n");
            let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
            write!(text, "\n--- {name}\n\n{}\n", words.trim_end())?;
        }
    }
    Ok(text)
}

/// What the program is linked from: everything that it reaches by dependencies that are not of tests or of builds.
fn within(metadata: &Value) -> Result<Vec<Value>> {
    let nodes = metadata["resolve"]["nodes"].as_array().context("a graph of dependencies")?;
    let packages = metadata["packages"].as_array().context("packages")?;
    let program = packages.iter().find(|part| part["name"] == "ebbline").context("the program")?;
    let mut found = vec![program["id"].clone()];
    let mut next = 0;
    while let Some(id) = found.get(next).cloned() {
        next += 1;
        let node = nodes.iter().find(|node| node["id"] == id).context("a part of the graph")?;
        for on in node["deps"].as_array().into_iter().flatten() {
            let is_linked =
                on["dep_kinds"].as_array().is_none_or(|kinds| kinds.iter().any(|one| one["kind"].is_null()));
            if is_linked && !found.contains(&on["pkg"]) {
                found.push(on["pkg"].clone());
            }
        }
    }
    Ok(found)
}

/// The files of a part that hold its licence and who wrote it.
fn licence_files(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).with_context(|| folder.display().to_string())? {
        let path = entry?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().to_ascii_uppercase();
        let is_one = ["LICENSE", "LICENCE", "COPYING", "COPYRIGHT", "NOTICE", "UNLICENSE"];
        if path.is_file() && is_one.iter().any(|start| name.starts_with(start)) {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_of_the_archive_carry_the_day_of_the_build() {
        let program = tempfile::NamedTempFile::new().unwrap();
        let built: DateTime<Utc> = "2027-04-20T12:30:10Z".parse().unwrap();
        program.as_file().set_modified(built.into()).unwrap();
        let day = built_on(program.path()).unwrap();
        assert_eq!((day.year(), day.month(), day.day(), day.hour(), day.minute()), (2027, 4, 20, 12, 30));
    }

    #[test]
    fn every_system_has_something_to_double_click_that_opens_the_browser() {
        for system in ["linux", "macos", "windows"] {
            let entries = start_entries(system);
            let opens = entries.iter().any(|entry| String::from_utf8_lossy(&entry.bytes).contains("serve --open"));
            assert!(opens && entries.iter().all(|entry| entry.starts), "{system}");
        }
    }

    #[test]
    fn the_pictures_of_the_readme_are_packed() {
        let readme = "![The board](tests/pictures/board.png)\n![A block](tests/pictures/block.png \"A block\")";
        assert_eq!(pictures(readme), ["board.png", "block.png"]);
        let ours = std::fs::read_to_string(steps::workspace().join("README.md")).unwrap();
        for picture in pictures(&ours) {
            assert!(steps::workspace().join(PICTURES.0).join(picture).is_file(), "{picture}");
        }
    }

    #[test]
    fn the_parts_of_the_program_come_with_their_licences_and_those_of_tests_do_not() {
        let text = licences(&metadata().unwrap()).unwrap();
        for part in ["\naxum ", "\nsqlx ", "\nchrono "] {
            assert!(text.contains(part), "{part}");
        }
        assert!(!text.contains("\nproptest "), "no part of the program");
        assert!(text.contains("Permission is hereby granted"), "with the words of the licence");
    }
}

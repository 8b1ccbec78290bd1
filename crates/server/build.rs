//! Reads the rules of training with their sources out of the code's own documentation, so that the page that
//! lists them cannot forget one: every item whose comment has a part `# Source`.

use std::error::Error;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

/// Where rules of training stand, from this crate; what lies elsewhere is about files and addresses.
const ROOTS: [&str; 5] = [
    "../planning/src",
    "../formats/src/words/pacing.rs",
    "../formats/src/words/race_day",
    "src/board",
    "src/races/figures.rs",
];

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=build.rs");
    let here = Path::new(env!("CARGO_MANIFEST_DIR")).canonicalize()?;
    let crates = here.parent().ok_or("this crate lies among others")?;
    let mut rules = String::from("&[\n");
    for root in ROOTS {
        let root = here.join(root).canonicalize()?;
        println!("cargo::rerun-if-changed={}", root.display());
        let mut files = Vec::new();
        find(&root, &mut files)?;
        files.sort();
        for file in files {
            let text = std::fs::read_to_string(&file)?;
            let name = file.strip_prefix(crates)?.display().to_string().replace('\\', "/");
            for rule in rules_of(&text) {
                writeln!(
                    rules,
                    "Rule {{ file: {name:?}, says: {:?}, value: {:?}, source: {:?} }},",
                    rule.says, rule.value, rule.source
                )?;
            }
        }
    }
    rules.push(']');
    let to = PathBuf::from(std::env::var_os("OUT_DIR").ok_or("cargo sets OUT_DIR")?).join("rules.rs");
    std::fs::write(to, rules)?;
    Ok(())
}

/// Every file of code under a path, but those of tests.
fn find(path: &Path, files: &mut Vec<PathBuf>) -> Result<(), Box<dyn Error>> {
    if path.is_dir() {
        for entry in std::fs::read_dir(path)? {
            find(&entry?.path(), files)?;
        }
    } else if path.extension().is_some_and(|ending| ending == "rs") && !path.ends_with("tests.rs") {
        files.push(path.to_owned());
    }
    Ok(())
}

/// One rule as its comment says it.
struct Rule {
    says: String,
    /// The number of a constant, else nothing.
    value: String,
    source: String,
}

fn rules_of(text: &str) -> Vec<Rule> {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < lines.len() {
        let rest = &lines[at..];
        let comment: Vec<&str> = rest.iter().map_while(|line| line.strip_prefix("///")).map(str::trim).collect();
        if comment.is_empty() {
            at += 1;
            continue;
        }
        let item = rest[comment.len()..].iter().find(|line| !line.starts_with("#[")).copied().unwrap_or_default();
        at += comment.len();
        let Some(head) = comment.iter().position(|line| *line == "# Source") else { continue };
        let source: Vec<&str> = comment[head + 1..].iter().copied().take_while(|line| !line.starts_with('#')).collect();
        let source = plain(&source.join(" "));
        // What only points elsewhere says nothing here.
        if source.starts_with("See ") || source.contains("in the modules below") {
            continue;
        }
        let first: Vec<&str> = comment[..head].iter().copied().take_while(|line| !line.is_empty()).collect();
        found.push(Rule { says: plain(&first.join(" ")), value: value(item), source });
    }
    found
}

/// A comment without the marks of code: `[`Curve`]` is "curve".
fn plain(text: &str) -> String {
    let mut said = String::new();
    for (index, part) in text.trim().split('`').enumerate() {
        let is_code = index % 2 == 1;
        if is_code && part.chars().all(|letter| letter.is_alphanumeric() || "_:".contains(letter)) && part.len() > 1 {
            let name = part.rsplit("::").next().unwrap_or(part);
            said.push_str(&name.replace('_', " ").to_lowercase());
        } else {
            said.push_str(part);
        }
    }
    said.replace(['[', ']'], "")
}

/// The number or the numbers of a constant: `const MOST: Share = Share(0.70);` is `0.70`.
fn value(item: &str) -> String {
    let Some((_, value)) = item.split_once(" = ").filter(|_| item.contains("const ") && item.ends_with(';')) else {
        return String::new();
    };
    let value = value.trim_end_matches(';');
    let within = |name: &str| value.strip_prefix(name).and_then(|rest| rest.strip_suffix(')'));
    let (inner, unit) = match (within("Share("), within("minutes("), within("Distance::metres(")) {
        (Some(share), ..) => (share, ""),
        (_, Some(minutes), _) => (minutes, " minutes"),
        (.., Some(metres)) => (metres, " m"),
        _ => (value, ""),
    };
    let is_number =
        |text: &str| !text.is_empty() && text.chars().all(|letter| letter.is_ascii_digit() || ".-_".contains(letter));
    match inner.split_once("..=") {
        Some((from, to)) if is_number(from) && is_number(to) => format!("{from} to {to}{unit}"),
        None if within("Share(").is_some_and(is_number) => {
            format!("{}%", inner.parse::<f64>().unwrap_or_default() * 100.0)
        }
        None if is_number(inner) => format!("{}{unit}", inner.replace('_', ",")),
        _ => String::new(),
    }
}

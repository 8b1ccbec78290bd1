//! The dependency arrows: which crate of ours may know which, and who may touch SQL.
//!
//! ebbline -> server -> store -> planning; server -> formats -> planning.

use anyhow::{Context, Result, bail};
use serde_json::Value;

use crate::steps;

/// What one of our crates may depend on.
struct Rule {
    name: &'static str,
    /// Crates of ours.
    ours: &'static [&'static str],
    /// Crates of others: these only, or any but these.
    others: Others,
}

enum Others {
    Only(&'static [&'static str]),
    AnyBut(&'static [&'static str]),
}

/// Anything that speaks SQL. Only `store` may.
const SQL: &[&str] = &["sqlx", "sqlx-core", "sqlx-sqlite", "libsqlite3-sys", "rusqlite"];

const RULES: &[Rule] = &[
    // Pure: no file, no socket, no clock, no serialisation. What is not in this list is not needed.
    Rule { name: "planning", ours: &[], others: Others::Only(&["chrono", "rayon", "thiserror"]) },
    // Text in and out, without files and sockets.
    Rule {
        name: "formats",
        ours: &["planning"],
        others: Others::AnyBut(&["axum", "sqlx", "sqlx-core", "sqlx-sqlite", "libsqlite3-sys", "rusqlite", "tokio"]),
    },
    Rule { name: "store", ours: &["planning"], others: Others::AnyBut(&["askama", "axum", "tower-http"]) },
    Rule { name: "server", ours: &["formats", "planning", "store"], others: Others::AnyBut(SQL) },
    Rule { name: "ebbline", ours: &["formats", "planning", "server", "store"], others: Others::AnyBut(SQL) },
    Rule { name: "ebbline-client", ours: &[], others: Others::AnyBut(SQL) },
    Rule {
        name: "ebbline-tests",
        ours: &["ebbline-client", "formats", "planning", "server", "store"],
        others: Others::AnyBut(SQL),
    },
    Rule {
        name: "ebbline-scale",
        ours: &["ebbline-client", "planning", "server", "store"],
        others: Others::AnyBut(SQL),
    },
    Rule { name: "xtask", ours: &[], others: Others::Only(&["anyhow", "chrono", "clap", "serde_json", "zip"]) },
];

/// Checks the workspace as it is.
///
/// # Errors
///
/// Every arrow that is not allowed, in words.
pub(crate) fn check() -> Result<()> {
    let mut metadata = steps::cargo();
    metadata.args(["metadata", "--format-version", "1", "--no-deps", "--locked"]);
    let metadata = serde_json::from_str(&steps::output(&mut metadata)?).context("cargo metadata gave no JSON")?;
    let faults = faults(&metadata)?;
    if !faults.is_empty() {
        bail!("{}", faults.join("\n"));
    }
    Ok(())
}

/// What is wrong in the answer of `cargo metadata`. Dependencies of tests and benches are free.
fn faults(metadata: &Value) -> Result<Vec<String>> {
    let packages = list(metadata, "packages")?;
    let ours = packages.iter().map(|package| text(package, "name")).collect::<Result<Vec<_>>>()?;
    let mut found = Vec::new();
    for package in packages {
        let name = text(package, "name")?;
        let Some(rule) = RULES.iter().find(|rule| rule.name == name) else {
            found.push(format!("{name}: a new crate; say in {} what it may depend on", file!()));
            continue;
        };
        for dependency in list(package, "dependencies")? {
            let other = text(dependency, "name")?;
            let allowed = if dependency.get("kind").and_then(Value::as_str) == Some("dev") {
                true
            } else if ours.contains(&other) {
                rule.ours.contains(&other)
            } else {
                match rule.others {
                    Others::Only(names) => names.contains(&other),
                    Others::AnyBut(names) => !names.contains(&other),
                }
            };
            if !allowed {
                found.push(format!("{name} must not depend on {other}"));
            }
        }
    }
    Ok(found)
}

fn list<'a>(value: &'a Value, field: &str) -> Result<&'a [Value]> {
    let list = value.get(field).and_then(Value::as_array);
    list.map(Vec::as_slice).with_context(|| format!("cargo metadata has no list \"{field}\""))
}

fn text<'a>(value: &'a Value, field: &str) -> Result<&'a str> {
    value.get(field).and_then(Value::as_str).with_context(|| format!("cargo metadata has no text \"{field}\""))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    /// A dependency by its name and kind; no kind is a normal one.
    type Dependency = (&'static str, Option<&'static str>);

    fn workspace(packages: &[(&str, &[Dependency])]) -> Value {
        let packages: Vec<Value> = packages
            .iter()
            .map(|(name, dependencies)| {
                let dependencies: Vec<Value> =
                    dependencies.iter().map(|(name, kind)| json!({ "name": name, "kind": kind })).collect();
                json!({ "name": name, "dependencies": dependencies })
            })
            .collect();
        json!({ "packages": packages })
    }

    #[test]
    fn arrows_that_point_down_are_allowed() {
        let metadata = workspace(&[
            ("planning", &[("chrono", None), ("proptest", Some("dev"))]),
            ("store", &[("planning", None), ("sqlx", None), ("sqlx", Some("build"))]),
            ("server", &[("planning", None), ("store", None), ("axum", None)]),
        ]);

        assert_eq!(faults(&metadata).unwrap(), Vec::<String>::new());
    }

    #[test]
    fn every_arrow_that_points_up_or_sideways_is_named() {
        let metadata = workspace(&[
            ("planning", &[("serde", None), ("store", None)]),
            ("formats", &[("store", None), ("tokio", None)]),
            ("store", &[("formats", None), ("axum", None)]),
            ("server", &[("sqlx", None), ("libsqlite3-sys", Some("build"))]),
            ("elsewhere", &[]),
        ]);

        let found = faults(&metadata).unwrap();

        for fault in [
            "planning must not depend on serde",
            "planning must not depend on store",
            "formats must not depend on store",
            "formats must not depend on tokio",
            "store must not depend on formats",
            "store must not depend on axum",
            "server must not depend on sqlx",
            "server must not depend on libsqlite3-sys",
        ] {
            assert!(found.iter().any(|one| one == fault), "{fault} is missing from {found:?}");
        }
        assert!(found.iter().any(|one| one.starts_with("elsewhere: a new crate")), "{found:?}");
        assert_eq!(found.len(), 9);
    }

    #[test]
    fn something_else_than_metadata_is_refused() {
        assert!(faults(&json!({ "packages": [{ "name": "planning" }] })).is_err());
    }
}

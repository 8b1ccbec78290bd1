//! The documents keep to the truth: what they name exists, and their examples run.

mod examples;
mod names;

use std::path::{Path, PathBuf};

fn read(document: &str) -> String {
    std::fs::read_to_string(root().join(document)).unwrap_or_else(|error| panic!("{document}: {error}"))
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

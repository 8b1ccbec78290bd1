//! `cargo xtask check`: what can be said without running a test.

use anyhow::Result;

use crate::arrows;
use crate::steps::{self, Step};

/// Runs the quick checks.
pub(crate) fn run() -> Result<()> {
    steps::run_all(steps())
}

/// Format, lints and arrows: also the beginning of `cargo xtask test`.
pub(crate) fn steps() -> Vec<Step> {
    vec![
        Step::cargo("format", "fmt --all --check"),
        Step::new("dependency arrows", arrows::check),
        Step::cargo("lints", "clippy --workspace --all-targets -- -D warnings"),
        // The browser tests are not among "all targets": they run only when they are asked for.
        Step::cargo("lints of the browser tests", "clippy --workspace --test browser -- -D warnings"),
    ]
}

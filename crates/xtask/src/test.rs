//! `cargo xtask test`: everything that must hold, from a clean checkout.

use anyhow::Result;

use crate::steps::{self, Step};
use crate::{check, needs};

/// Installs what the tests need and runs every check and test.
pub(crate) fn run() -> Result<()> {
    let mut all = vec![Step::new("programs that the tests need", needs::install)];
    all.extend(check::steps());
    all.extend([
        // Each crate alone: with the whole workspace a crate can lean on a feature that only its
        // neighbour asked for.
        Step::cargo("planning alone", "check --package planning"),
        Step::cargo("formats alone", "check --package formats"),
        Step::cargo("store alone", "check --package store"),
        Step::cargo("server alone", "check --package server"),
        Step::cargo("examples in the documentation", "test --workspace --doc"),
        Step::cargo("tests", "test --workspace --lib --bins --tests"),
        // One story after the other: two browsers at work on two cores make each other wait too long.
        Step::cargo("browser tests", "test --workspace --test browser -- --test-threads=1"),
    ]);
    steps::run_all(all)
}

/// Takes the pictures of the README, which are kept in the project.
pub(crate) fn take_pictures() -> Result<()> {
    steps::run_all(vec![
        Step::new("programs that the tests need", needs::install),
        Step::cargo("pictures", "test --package ebbline-tests --test browser -- --ignored pictures"),
    ])
}

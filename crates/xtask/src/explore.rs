//! `cargo xtask explore`: the property tests once more, on many random cases that no run has seen before.
//!
//! Ordinary runs draw the same cases every time, by the seed in `.cargo/config.toml`: what they say depends on
//! nothing but the code. So they never find what they did not find the first time. This does.

use std::hash::{BuildHasher, RandomState};

use anyhow::Result;
use clap::Args;

use crate::steps::{self, Step};

/// What to explore.
#[derive(Args)]
pub(crate) struct Exploration {
    /// The seed from which all cases are drawn, to repeat a run; a random one without it.
    #[arg(long)]
    seed: Option<u64>,
    /// How many cases each property is tried on.
    #[arg(long, default_value_t = 20_000)]
    cases: u32,
    /// Only tests with this in their name.
    name: Option<String>,
}

/// Tries the properties of the crates that only compute.
pub(crate) fn run(exploration: &Exploration) -> Result<()> {
    let (cases, name) = (exploration.cases, exploration.name.clone().unwrap_or_default());
    let seed = exploration.seed.unwrap_or_else(|| RandomState::new().hash_one(()));
    let again = format!("cargo xtask explore --seed {seed} --cases {cases} {name}");
    let properties = move || {
        // All tests of both, or the first that fails would hide those after it.
        let tests = ["test", "--profile", "explore", "--lib", "--tests", "--no-fail-fast"];
        let packages = ["--package", "planning", "--package", "formats"];
        steps::run(steps::cargo().args(tests).args(packages).arg(name).envs(draw(seed, cases)))
    };
    let outcome = steps::run_all(vec![Step::new("properties", properties)]);
    eprintln!("== {cases} cases a property; the same again: {}", again.trim_end());
    outcome
}

/// What tells the property tests how to draw. The limits grow with the cases: so many may fall outside of what a
/// property speaks about, and so many steps may go into making a failure small.
fn draw(seed: u64, cases: u32) -> [(&'static str, String); 5] {
    [
        ("PROPTEST_RNG_SEED", seed.to_string()),
        ("PROPTEST_CASES", cases.to_string()),
        ("PROPTEST_MAX_GLOBAL_REJECTS", cases.saturating_mul(4).to_string()),
        ("PROPTEST_MAX_LOCAL_REJECTS", cases.saturating_mul(100).max(65_536).to_string()),
        ("PROPTEST_MAX_SHRINK_ITERS", "20000".to_owned()),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_ordinary_run_draws_by_a_seed_that_stands_in_the_checkout() {
        let seed = std::env::var("PROPTEST_RNG_SEED").unwrap_or_default();

        assert!(seed.parse::<u64>().is_ok(), "cargo gives no seed: \"{seed}\"");
    }

    #[test]
    fn an_exploration_draws_by_its_own_seed() {
        let told = draw(7, 20_000);

        assert!(told.contains(&("PROPTEST_RNG_SEED", "7".to_owned())), "{told:?}");
        assert!(told.contains(&("PROPTEST_CASES", "20000".to_owned())), "{told:?}");
    }
}

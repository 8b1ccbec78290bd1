//! The program as it is killed, crowded, started twice and given files of other versions: what was
//! acknowledged is there afterwards.
//!
//! Quick by default; `cargo xtask reference` asks for more with `EBBLINE_ROUNDS` and `EBBLINE_SECONDS`.

#![expect(clippy::expect_used, reason = "these are tests: what goes wrong in them fails the test")]

mod client;
mod crowd;
mod forms;
mod killed;
mod program;
mod twice;

/// A number from the environment, or the quick one.
fn asked(variable: &str, quick: u64) -> u64 {
    std::env::var(variable).ok().and_then(|text| text.parse().ok()).unwrap_or(quick)
}

/// The same numbers in every run, so that a round that fails can be run again.
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: u64) -> u64 {
        // Knuth, The Art of Computer Programming, volume 2, 3.3.4: the multiplier of MMIX.
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

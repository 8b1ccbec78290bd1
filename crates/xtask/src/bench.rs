//! `cargo xtask bench`: what things cost, on a machine that is named beside the figures.

use std::process::Command;

use anyhow::Result;

use crate::steps::{self, Step};

/// Runs the benches one after the other, never beside each other.
pub(crate) fn run() -> Result<()> {
    let run = steps::run_all(vec![
        Step::cargo("a block, planned and reviewed", "bench --package planning --bench block"),
        Step::cargo("times on a course", "bench --package planning --bench pacing"),
        Step::cargo("the data file, read and written", "bench --package store --bench store"),
        Step::cargo("pages", "bench --package ebbline-tests --bench pages"),
        Step::cargo("the athletes' door under load", "bench --package ebbline-tests --bench athletes"),
    ]);
    println!("\n{}", machine());
    run
}

/// One line that says on what the figures were taken.
pub(crate) fn machine() -> String {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let compiler = steps::output(Command::new("rustc").arg("--version")).unwrap_or_default();
    format!(
        "Machine: {}, {cores} cores, {} {}, {}. Quiet it before you compare: noise of a fifth is usual.",
        processor().unwrap_or_else(|| "unknown processor".to_owned()),
        std::env::consts::OS,
        std::env::consts::ARCH,
        compiler.trim()
    )
}

fn processor() -> Option<String> {
    let name = match std::env::consts::OS {
        "linux" => model_name(&std::fs::read_to_string("/proc/cpuinfo").ok()?)?.to_owned(),
        "macos" => steps::output(Command::new("sysctl").args(["-n", "machdep.cpu.brand_string"])).ok()?,
        "windows" => std::env::var("PROCESSOR_IDENTIFIER").ok()?,
        _ => return None,
    };
    Some(name.trim().to_owned())
}

/// The processor's name in the list that Linux keeps of its processors; some kinds carry none.
fn model_name(list: &str) -> Option<&str> {
    list.lines().find_map(|line| line.strip_prefix("model name")?.split_once(':').map(|(_, name)| name.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_processor_is_named_as_linux_names_it() {
        assert_eq!(model_name("processor\t: 0\nmodel name\t: Some Chip @ 2 GHz\n"), Some("Some Chip @ 2 GHz"));
        assert_eq!(model_name("processor\t: 0\nBogoMIPS\t: 50.00\n"), None);
    }
}

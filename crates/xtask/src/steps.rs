//! Named steps that run one after the other, each with its time, until one fails.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};

/// One thing to do, under the name by which its failure is reported.
pub(crate) struct Step {
    name: String,
    action: Box<dyn FnOnce() -> Result<()>>,
}

impl Step {
    /// A step that does something of our own.
    pub(crate) fn new(name: &str, action: impl FnOnce() -> Result<()> + 'static) -> Self {
        Self { name: name.to_owned(), action: Box::new(action) }
    }

    /// A step that runs `cargo` with arguments given as on a command line.
    pub(crate) fn cargo(name: &str, arguments: &'static str) -> Self {
        Self::new(name, move || run(cargo().args(arguments.split_whitespace())))
    }
}

/// Runs the steps in order.
///
/// # Errors
///
/// The first step that fails, by its name; those after it are not run.
pub(crate) fn run_all(steps: Vec<Step>) -> Result<()> {
    let count = steps.len();
    let start = Instant::now();
    for (index, step) in steps.into_iter().enumerate() {
        eprintln!("== {} of {count}: {}", index + 1, step.name);
        let begin = Instant::now();
        let outcome = (step.action)();
        let took = seconds(begin.elapsed());
        outcome.with_context(|| format!("step \"{}\" failed after {took}", step.name))?;
        eprintln!("== {}: {took}", step.name);
    }
    eprintln!("== all {count} steps passed in {}", seconds(start.elapsed()));
    Ok(())
}

/// The cargo that runs us, in the workspace's folder.
pub(crate) fn cargo() -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(workspace());
    command
}

/// Runs a program to its end.
///
/// # Errors
///
/// A program that cannot be started, or that says it failed.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let shown = shown(command);
    let status = command.status().with_context(|| format!("{shown} could not be started"))?;
    if !status.success() {
        bail!("{shown} ended with {status}");
    }
    Ok(())
}

/// Runs a program and gives what it printed.
///
/// # Errors
///
/// As [`run`], and output that is not UTF-8.
pub(crate) fn output(command: &mut Command) -> Result<String> {
    let shown = shown(command);
    let output = command.output().with_context(|| format!("{shown} could not be started"))?;
    if !output.status.success() {
        bail!("{shown} ended with {}: {}", output.status, String::from_utf8_lossy(&output.stderr).trim());
    }
    String::from_utf8(output.stdout).with_context(|| format!("{shown} printed something that is not text"))
}

/// The folder of the workspace, two above this crate's.
pub(crate) fn workspace() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().nth(2).map_or_else(PathBuf::new, Path::to_path_buf)
}

/// Where cargo puts what it builds as it is used.
///
/// # Errors
///
/// What cargo says of its target folder.
pub(crate) fn release_folder() -> Result<PathBuf> {
    let told = output(cargo().args(["metadata", "--format-version", "1", "--no-deps", "--locked"]))?;
    let metadata: serde_json::Value = serde_json::from_str(&told).context("cargo metadata gave no JSON")?;
    Ok(Path::new(metadata["target_directory"].as_str().context("a target folder")?).join("release"))
}

fn shown(command: &Command) -> String {
    let program = Path::new(command.get_program()).file_name().unwrap_or_default();
    let mut words = vec![program.to_string_lossy()];
    words.extend(command.get_args().map(|argument| argument.to_string_lossy()));
    words.join(" ")
}

fn seconds(time: Duration) -> String {
    format!("{:.1} s", time.as_secs_f64())
}

#[cfg(test)]
mod tests {
    use std::cell::RefCell;
    use std::rc::Rc;

    use super::*;

    #[test]
    fn the_first_failing_step_is_named_and_the_rest_is_not_run() {
        let seen = Rc::new(RefCell::new(Vec::new()));
        let step = |name: &'static str, fails: Option<&'static str>| {
            let seen = Rc::clone(&seen);
            Step::new(name, move || {
                seen.borrow_mut().push(name);
                fails.map_or(Ok(()), |why| bail!(why))
            })
        };

        let outcome = run_all(vec![step("one", None), step("two", Some("a reason")), step("three", None)]);

        let message = format!("{:#}", outcome.unwrap_err());
        assert!(message.contains("step \"two\" failed"), "{message}");
        assert!(message.ends_with(": a reason"), "{message}");
        assert_eq!(*seen.borrow(), ["one", "two"]);
    }

    #[test]
    fn a_program_that_fails_is_shown_with_its_arguments() {
        let message = run(cargo().args(["no-such-command", "--flag"])).unwrap_err().to_string();

        assert!(message.contains("no-such-command --flag ended with"), "{message}");
    }
}

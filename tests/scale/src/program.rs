//! The program as it is started, and what it may cost.

use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail, ensure};

use crate::pages::{self, Measured};
use crate::squad::Counts;
use ebbline_client::Client;

/// How long a start may take before it is given up.
const PATIENCE: Duration = Duration::from_secs(20);
/// How often the program is started; the middle start counts.
const STARTS: usize = 5;

/// What is promised.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Limits {
    pub(crate) page_ms: f64,
    /// A file that is made of many blocks: a hundred pages in one ZIP.
    pub(crate) download_ms: f64,
    pub(crate) memory_mb: f64,
    pub(crate) start_ms: f64,
    pub(crate) program_mb: f64,
}

impl Limits {
    /// Fails with everything that is beyond its limit.
    pub(crate) fn hold(&self, seen: &Measured, program_mb: f64) -> Result<()> {
        let mut beyond = Vec::new();
        let mut ask = |what: &str, value: f64, most: f64| {
            if value > most {
                beyond.push(format!("{what}: {value:.1}, at most {most:.0}"));
            }
        };
        for page in &seen.pages {
            ask(&page.name, page.late_ms, if page.is_download { self.download_ms } else { self.page_ms });
        }
        ask("memory in MB", seen.memory_mb, self.memory_mb);
        ask("start in ms", seen.start_ms, self.start_ms);
        ask("program in MB", program_mb, self.program_mb);
        ensure!(beyond.is_empty(), "beyond what is promised:\n  {}", beyond.join("\n  "));
        Ok(())
    }
}

/// The program and its data file.
#[derive(Debug)]
pub(crate) struct Program {
    program: PathBuf,
    data: PathBuf,
}

/// A running program; it ends with this value.
struct Running {
    child: Child,
    address: String,
}

impl Drop for Running {
    fn drop(&mut self) {
        // It may have ended by itself: then there is nothing to end.
        let _ended = self.child.kill().and_then(|()| self.child.wait());
    }
}

impl Program {
    pub(crate) fn new(program: &Path, data: &Path) -> Self {
        Self { program: program.to_owned(), data: data.to_owned() }
    }

    /// Starts it several times, then asks for every page.
    pub(crate) async fn measure(&self, counts: Counts) -> Result<Measured> {
        let mut starts = Vec::new();
        for _ in 1..STARTS {
            starts.push(self.start().await?.0);
        }
        let (last, running) = self.start().await?;
        starts.push(last);
        starts.sort_unstable();
        let (pages, left_out) = pages::measure(&running.address, counts).await?;
        Ok(Measured {
            pages,
            left_out,
            start_ms: starts[starts.len() / 2].as_secs_f64() * 1e3,
            memory_mb: most_memory(running.child.id())?,
        })
    }

    /// A start up to the first board that was read whole.
    async fn start(&self) -> Result<(Duration, Running)> {
        let address = TcpListener::bind("127.0.0.1:0")?.local_addr()?.to_string();
        let begun = Instant::now();
        let child = Command::new(&self.program)
            .args(["serve", "--listen", &address, "--data"])
            .arg(&self.data)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .with_context(|| format!("{} could not be started", self.program.display()))?;
        let mut running = Running { child, address };
        loop {
            if let Ok(mut client) = Client::connect(&running.address).await {
                let answer = client.get("/").await?;
                ensure!(answer.status == 200, "the board answered {}", answer.status);
                return Ok((begun.elapsed(), running));
            }
            if let Some(status) = running.child.try_wait()? {
                bail!("the program ended with {status}");
            }
            ensure!(begun.elapsed() < PATIENCE, "the program does not answer");
            tokio::time::sleep(Duration::from_millis(1)).await;
        }
    }
}

/// The most memory that a process ever held, as Linux counts it.
fn most_memory(process: u32) -> Result<f64> {
    let told = std::fs::read_to_string(format!("/proc/{process}/status")).context("memory is read on Linux only")?;
    let line = told.lines().find_map(|line| line.strip_prefix("VmHWM:")).context("VmHWM")?;
    let kilobytes: f64 = line.trim().trim_end_matches(" kB").parse()?;
    Ok(kilobytes / 1e3)
}

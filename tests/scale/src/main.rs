//! What the program costs as the squad grows: the real program on data files of a hundred, a thousand and
//! ten thousand athletes, two past blocks each. `cargo xtask scale` builds it and runs this.
//!
//! `EBBLINE_PROGRAM` is the program; `EBBLINE_SIZES` the sizes, `100,1000,10000` unless said.

mod pages;
mod program;
mod sheet;
mod squad;

use std::path::PathBuf;

use anyhow::{Context, Result, ensure};
use server::Clock;
use store::Store;
use uuid::Uuid;

use crate::pages::Measured;
use crate::program::{Limits, Program};

/// What is promised at the largest size.
const LIMITS: Limits = Limits { page_ms: 30.0, download_ms: 60.0, memory_mb: 100.0, start_ms: 150.0, program_mb: 30.0 };

fn main() -> Result<()> {
    tokio::runtime::Builder::new_multi_thread().enable_all().build()?.block_on(run())
}

async fn run() -> Result<()> {
    let program = PathBuf::from(std::env::var_os("EBBLINE_PROGRAM").context("EBBLINE_PROGRAM names the program")?);
    let sizes = std::env::var("EBBLINE_SIZES").unwrap_or_else(|_| "100,1000,10000".to_owned());
    let sizes: Vec<usize> = sizes.split(',').map(str::parse).collect::<Result<_, _>>().context("EBBLINE_SIZES")?;
    let clock = Clock::system();
    let today = clock.today();
    let club = squad::club(today).await?;
    let folder = tempfile::tempdir()?;
    let mut columns = Vec::new();
    for size in &sizes {
        let data = folder.path().join(format!("squad-{size}.db"));
        let grown = squad::grown(&club, size.div_ceil(squad::CLUB))?;
        let store = Store::open(&data).await?;
        store.import(|name| grown.files.get(name).cloned(), Uuid::new_v4(), clock.now()).await?;
        let athletes = store.athletes().await?.len();
        ensure!(athletes >= *size, "{athletes} athletes were made, not {size}");
        squad::live_in(&store, clock.now()).await?;
        store.close().await;
        // On the disk before anything is measured: else the writing of what was just made is measured with it.
        std::fs::File::open(&data)?.sync_all()?;
        eprintln!("{athletes} athletes: {:.0} MB of data", megabytes(&data)?);
        columns.push(Program::new(&program, &data).measure(grown.counts).await?);
    }
    let sizes: Vec<String> = sizes.iter().map(ToString::to_string).collect();
    print(&sizes, &columns);
    if let Some(largest) = columns.last().filter(|largest| !largest.left_out.is_empty()) {
        println!("not asked, as this squad has nothing to show there: {}", largest.left_out.join(", "));
    }
    println!("program: {:.1} MB (limit {:.0})", megabytes(&program)?, LIMITS.program_mb);
    sheet::beside(today).await?;
    LIMITS.hold(columns.last().context("a size")?, megabytes(&program)?)
}

fn megabytes(path: &std::path::Path) -> Result<f64> {
    Ok(std::fs::metadata(path)?.len() as f64 / 1e6)
}

/// One row a page: the 99th of a hundred answers at each size.
fn print(sizes: &[String], columns: &[Measured]) {
    let head: Vec<String> = sizes.iter().map(|size| format!("{size:>9}")).collect();
    println!("{:<40} {}", "athletes", head.concat());
    let row = |name: &str, cells: Vec<String>| println!("{name:<40} {}", cells.concat());
    let Some(first) = columns.first() else { return };
    for (index, page) in first.pages.iter().enumerate() {
        let cells = columns.iter().map(|column| format!("{:>6.1} ms", column.pages[index].late_ms)).collect();
        row(&page.name, cells);
    }
    row("start to the first page", columns.iter().map(|column| format!("{:>6.0} ms", column.start_ms)).collect());
    row("memory, the most", columns.iter().map(|column| format!("{:>6.0} MB", column.memory_mb)).collect());
}

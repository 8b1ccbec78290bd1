//! Every page that the coach can open, each for many athletes, races and blocks, and the board right after a save.

use std::time::Instant;

use anyhow::{Context, Result, ensure};
use server::paths;

use crate::squad::Counts;
use ebbline_client::Client;

/// How often each page is asked for.
const TIMES: usize = 200;
/// Requests before that: what is read first is read from the disk.
const WARMING: usize = 5;

/// What was seen of one size.
#[derive(Debug)]
pub(crate) struct Measured {
    pub(crate) pages: Vec<PageTimes>,
    /// The addresses of pages that were not asked for, and why.
    pub(crate) left_out: Vec<String>,
    pub(crate) start_ms: f64,
    pub(crate) memory_mb: f64,
}

/// How long one page took.
#[derive(Debug)]
pub(crate) struct PageTimes {
    pub(crate) name: String,
    /// Whether it is a file that goes to the disk, and no page that somebody waits to read.
    pub(crate) is_download: bool,
    /// Of a hundred answers the 99th.
    pub(crate) late_ms: f64,
}

/// Asks for each page again and again, one request after the other, as a coach does.
pub(crate) async fn measure(address: &str, counts: Counts) -> Result<(Vec<PageTimes>, Vec<String>)> {
    let mut client = Client::connect(address).await?;
    let (mut measured, mut left_out) = (Vec::new(), Vec::new());
    for pattern in paths::ALL.iter().filter(|pattern| !pattern.starts_with(paths::ASSETS)) {
        match page(&mut client, pattern, counts).await? {
            Page::Asked(times) => measured.push(times),
            Page::LeftOut(why) => left_out.push(format!("{pattern} ({why})")),
            Page::TakesForms => {}
        }
    }
    // A page far down the list, and a search that finds many.
    for query in ["/?page=3", "/?sort=name&page=40", "/?text=7", "/athletes?page=70", "/athletes?text=runner"] {
        measured.push(asked(&mut client, query, |_| query.to_owned()).await?);
    }
    measured.push(after_a_save(&mut client, counts).await?);
    Ok((measured, left_out))
}

/// What became of an address.
enum Page {
    Asked(PageTimes),
    /// It needs what this squad does not have: why it was not asked for.
    LeftOut(String),
    /// It is no page.
    TakesForms,
}

/// One page, if its address is that of a page.
async fn page(client: &mut Client, pattern: &str, counts: Counts) -> Result<Page> {
    let address = if pattern.contains("{block}") && pattern.contains("{day}") {
        a_day(client, counts).await?
    } else {
        filled(pattern, counts, 0)
    };
    match client.get(&address).await?.status.as_u16() {
        200 => {}
        // Its method is not allowed.
        405 => return Ok(Page::TakesForms),
        other => return Ok(Page::LeftOut(format!("answers {other}"))),
    }
    // A day of one block is none of another's, and an entrant of one race none of another's: these stay as they are.
    let is_fixed = pattern.contains("{day}") || pattern.contains("{race}") && pattern.contains("{athlete}");
    let each = |turn| if is_fixed { address.clone() } else { filled(pattern, counts, turn) };
    Ok(Page::Asked(asked(client, pattern, each).await?))
}

/// The form of a day that may still be changed, of any block.
async fn a_day(client: &mut Client, counts: Counts) -> Result<String> {
    for turn in 0..counts.turns() {
        let days = format!("/blocks/{}/days/", counts.nth_block(turn));
        let shown = client.get(days.trim_end_matches("/days/")).await?.text();
        if let Some((_, rest)) = shown.split_once(&days) {
            return Ok(format!("{days}{}", rest.get(..10).context("a day")?));
        }
    }
    anyhow::bail!("no block has a day that may be changed")
}

fn filled(pattern: &str, counts: Counts, turn: usize) -> String {
    pattern
        .replace("{athlete}", &counts.nth_athlete(turn).to_string())
        .replace("{race}", &counts.nth_race(turn).to_string())
        .replace("{block}", &counts.nth_block(turn).to_string())
        .replace("{number}", "1")
        .replace("{moment}", "week-out")
        .replace("{day}", "2027-01-04")
        .replace("{template}", "1")
        .replace("{session}", "1")
        .replace("{event}", "1")
        .replace("{step}", "1")
}

async fn asked(client: &mut Client, name: &str, address: impl Fn(usize) -> String) -> Result<PageTimes> {
    let mut times = Vec::with_capacity(TIMES);
    let mut is_download = false;
    for turn in 0..WARMING + TIMES {
        let address = address(turn);
        let begun = Instant::now();
        let answer = client.get(&address).await?;
        let took = begun.elapsed();
        ensure!(answer.status == 200, "{address} answered {}", answer.status);
        is_download |= answer.headers.contains_key("content-disposition");
        if turn >= WARMING {
            times.push(took);
        }
    }
    times.sort_unstable();
    Ok(PageTimes { name: name.to_owned(), is_download, late_ms: times[times.len() * 99 / 100].as_secs_f64() * 1e3 })
}

/// The board as it is after each save: nothing of it may be older than the file.
async fn after_a_save(client: &mut Client, counts: Counts) -> Result<PageTimes> {
    let mut times = Vec::with_capacity(TIMES);
    for turn in 0..TIMES {
        let athlete = counts.nth_athlete(turn);
        let form = client.get(&format!("/athletes/{athlete}/week")).await?.text();
        let version = form.split_once("name=\"version\" value=\"").and_then(|(_, rest)| rest.split_once('"'));
        let (version, _) = version.context("the form of a week has a version")?;
        let body = format!("version={version}&mon=8&tue=&wed=10&thu=tempo+8&fri=&sat=6&sun=long+1{}", turn % 9);
        let saved = client.post(&format!("/athletes/{athlete}/week"), &body).await?;
        ensure!(saved.status == 303, "the week was answered with {}: {}", saved.status, saved.text());
        let begun = Instant::now();
        let answer = client.get("/").await?;
        times.push(begun.elapsed());
        ensure!(answer.status == 200, "the board answered {}", answer.status);
    }
    times.sort_unstable();
    let late_ms = times[times.len() * 99 / 100].as_secs_f64() * 1e3;
    Ok(PageTimes { name: "/ right after a save".to_owned(), is_download: false, late_ms })
}

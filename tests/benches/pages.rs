//! What a page costs: through every layer but the socket, beside a bare handler that answers with
//! the same bytes in the same run. `cargo xtask bench` runs it.

use std::hint::black_box;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, ensure};
use axum::Router;
use axum::body::{Body, Bytes};
use axum::http::header::HOST;
use axum::http::{Request, StatusCode};
use axum::routing::get;
use chrono::Days;
use ebbline_tests::{COACH_HOST, SHARE_HOST, TestApp, send};
use store::fill_demo;

/// Requests that are timed for each page.
const TIMED: usize = 300;
/// Requests before them: caches fill, branches are learnt.
const WARMING: usize = 30;
/// Athletes of a large club.
const LARGE: usize = 300;

fn main() -> Result<()> {
    tokio::runtime::Builder::new_multi_thread().enable_all().build()?.block_on(run())
}

async fn run() -> Result<()> {
    let squad = TestApp::new().await;
    fill_demo(&squad.store, squad.today(), squad.now()).await?;
    let board = squad.store.board(squad.today()).await?;
    let block = board.iter().find_map(|row| row.block.as_ref()).context("the demo squad has a block")?.state.id;
    let ends = squad.today() + Days::new(30);
    let token = squad.store.hand_over(block, store::Shows::ALL, ends, squad.now()).await?.token;
    let club = TestApp::new().await;
    club.fill_club(LARGE).await;

    println!("{:<34} {:>9} {:>9} {:>9} {:>7} {:>9}", "page", "median", "99 in 100", "bare", "ratio", "bytes");
    time("board, demo squad", squad.coach_door(), COACH_HOST, "/").await?;
    time(&format!("board, {LARGE} athletes"), club.coach_door(), COACH_HOST, "/").await?;
    time("block", squad.coach_door(), COACH_HOST, &format!("/blocks/{block}")).await?;
    time("sheet to print", squad.coach_door(), COACH_HOST, &format!("/blocks/{block}/print")).await?;
    time("athlete's page", squad.share_door().await, SHARE_HOST, &format!("/p/{token}")).await
}

/// Times a page and the same bytes from a bare handler, one after the other, again and again.
async fn time(name: &str, door: Router, host: &'static str, path: &str) -> Result<()> {
    let bytes = Bytes::from(ask(&door, host, path).await?.1);
    let (size, answer) = (bytes.len(), bytes.clone());
    let bare = Router::new().fallback(get(move || async move { answer }));
    let (mut page_times, mut bare_times) = (Vec::new(), Vec::new());
    for round in 0..WARMING + TIMED {
        let (page, _) = ask(&door, host, path).await?;
        let (same, _) = ask(&bare, host, path).await?;
        if round >= WARMING {
            page_times.push(page);
            bare_times.push(same);
        }
    }
    let (page, bare) = (at(&mut page_times, 0.5), at(&mut bare_times, 0.5));
    let (late, ratio) = (at(&mut page_times, 0.99), page.as_secs_f64() / bare.as_secs_f64());
    println!("{name:<34} {} {} {} {ratio:>7.1} {size:>9}", shown(page), shown(late), shown(bare));
    Ok(())
}

/// One request; how long its answer took, and the answer.
async fn ask(door: &Router, host: &'static str, path: &str) -> Result<(Duration, Vec<u8>)> {
    let request = Request::builder().uri(path).header(HOST, host).body(Body::empty())?;
    let door = door.clone();
    let begin = Instant::now();
    let answer = send(door, request).await;
    let took = begin.elapsed();
    ensure!(answer.status == StatusCode::OK, "{path} answered {}", answer.status);
    Ok((took, black_box(answer.bytes)))
}

fn at(times: &mut [Duration], part: f64) -> Duration {
    times.sort_unstable();
    times[((times.len() - 1) as f64 * part).round() as usize]
}

fn shown(time: Duration) -> String {
    format!("{:>6.0} µs", time.as_secs_f64() * 1e6)
}

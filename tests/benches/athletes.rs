//! The athletes' door under load, over real sockets: what its page and its feed cost beside a bare
//! handler that answers with the same bytes behind the same layers, and a thousand phones that follow
//! their calendars. `cargo xtask bench` runs it; `EBBLINE_SECONDS` sets how long the phones ask.

use std::net::SocketAddr;
use std::time::{Duration, Instant};

use anyhow::{Result, ensure};
use axum::Router;
use axum::http::header::{ETAG, IF_NONE_MATCH};
use axum::routing::get;
use ebbline_client::{Answer, Client};
use ebbline_tests::TestApp;
use server::{Hosts, ShareState};
use store::Shows;
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
use tokio::net::{TcpListener, TcpStream};

/// Phones, each with a block of its own.
const PHONES: usize = 1000;
/// How often each of them asks; real ones ask once an hour.
const EVERY: Duration = Duration::from_secs(1);
/// Connections that ask without a pause.
const CONNECTIONS: usize = 8;
/// How long each side is asked at a time.
const SLICE: Duration = Duration::from_millis(700);
/// How often the sides take turns.
const TURNS: usize = 5;
/// What the door must reach of the bare handler's throughput.
const SHARE_LEAST: f64 = 0.5;
/// What 99 in 100 phones must wait at most while nobody writes.
const WAIT_MOST: Duration = Duration::from_millis(20);

fn main() -> Result<()> {
    tokio::runtime::Builder::new_multi_thread().enable_all().build()?.block_on(run())
}

async fn run() -> Result<()> {
    let app = TestApp::new().await;
    let ends = app.today() + chrono::Days::new(30);
    let blocks = app.fill_club(PHONES).await;
    let mut paths = Vec::with_capacity(PHONES);
    for block in &blocks {
        paths.push(format!("/p/{}", app.store.hand_over(*block, Shows::ALL, ends, app.now()).await?.token));
    }
    let listener = TcpListener::bind("127.0.0.1:0").await?;
    let door = listener.local_addr()?;
    let state = ShareState::new(app.store.shared_reader().await?, app.clock);
    serve(listener, server::share_router(state, Hosts::share(door, &[])));

    println!("{:<24} {:>10} {:>10} {:>7} {:>8}", "over sockets", "a second", "bare", "share", "bytes");
    beside_bare("athlete's page", door, &paths[0]).await?;
    beside_bare("calendar feed", door, &format!("{}/calendar.ics", paths[0])).await?;

    let seconds = std::env::var("EBBLINE_SECONDS").ok().and_then(|text| text.parse().ok()).unwrap_or(60);
    let mut phones = Vec::with_capacity(PHONES);
    for path in paths {
        let path = format!("{path}/calendar.ics");
        let answer = ask_once(door, &path, "").await?;
        let tag = answer.header(ETAG).to_owned();
        ensure!(!tag.is_empty(), "{path} answered without a tag");
        phones.push((path, tag));
    }
    let quiet = poll(door, &phones, Duration::from_secs(seconds)).await?;
    println!("\n{PHONES} phones, each asking once a second for {seconds} s, a new connection each time:");
    println!("nobody writes               {}", told(&quiet));
    let writer = tokio::spawn({
        let (app, block) = (app.store.clone(), blocks[0]);
        async move {
            loop {
                tokio::time::sleep(Duration::from_secs(5)).await;
                let Ok(Some(record)) = app.block(block).await else { return };
                // A save changes nothing that is shown, and still lets every kept answer go.
                if app.save_goals(block, record.version, &record.goals, record.made).await.is_err() {
                    return;
                }
            }
        }
    });
    let busy = poll(door, &phones, Duration::from_secs(seconds.min(20))).await?;
    writer.abort();
    println!("the coach saves every 5 s   {}", told(&busy));
    let late = at(&quiet, 0.99);
    ensure!(late <= WAIT_MOST, "99 in 100 phones wait up to {late:?}, more than {WAIT_MOST:?}");
    Ok(())
}

fn serve(listener: TcpListener, router: Router) {
    tokio::spawn(async move { axum::serve(listener, router).await });
}

/// Throughput of an address beside a bare handler with the same bytes behind the same layers.
async fn beside_bare(name: &str, door: SocketAddr, path: &str) -> Result<()> {
    let answer = ask_once(door, path, "").await?;
    let (size, bytes) = (answer.body.len(), answer.body);
    let listener = TcpListener::bind("127.0.0.1:0").await?;
    let bare = listener.local_addr()?;
    let routes = Router::new().fallback(get(move || async move { bytes }));
    serve(listener, server::guard::share(routes, Hosts::share(bare, &[])));
    let (mut ours, mut theirs) = (0, 0);
    for _ in 0..TURNS {
        ours += hammer(door, path, size).await?;
        theirs += hammer(bare, path, size).await?;
    }
    let (second, share) = (SLICE.as_secs_f64() * TURNS as f64, f64::from(ours) / f64::from(theirs));
    println!(
        "{name:<24} {:>10.0} {:>10.0} {share:>7.2} {size:>8}",
        f64::from(ours) / second,
        f64::from(theirs) / second
    );
    ensure!(share >= SHARE_LEAST, "{name}: {share:.2} of the bare handler's throughput, less than {SHARE_LEAST}");
    Ok(())
}

/// How many answers several connections get in a slice of time.
async fn hammer(address: SocketAddr, path: &str, size: usize) -> Result<u32> {
    let request = format!("GET {path} HTTP/1.1\r\nHost: {address}\r\n\r\n");
    let asking: Vec<_> = (0..CONNECTIONS).map(|_| tokio::spawn(keep_asking(address, request.clone(), size))).collect();
    let mut count = 0;
    for one in asking {
        count += one.await??;
    }
    Ok(count)
}

/// By hand and without a look at the headers: what the asking costs is taken from both sides.
async fn keep_asking(address: SocketAddr, request: String, size: usize) -> Result<u32> {
    let mut stream = TcpStream::connect(address).await?;
    let (mut count, mut buffer, begun) = (0, vec![0_u8; size + 4096], Instant::now());
    while begun.elapsed() < SLICE {
        stream.write_all(request.as_bytes()).await?;
        let mut filled = 0;
        let whole = loop {
            filled += stream.read(&mut buffer[filled..]).await?;
            let head = buffer[..filled].windows(4).position(|bytes| bytes == b"\r\n\r\n");
            if let Some(head) = head.filter(|head| filled >= head + 4 + size) {
                break head + 4 + size;
            }
        };
        ensure!(filled == whole && buffer.starts_with(b"HTTP/1.1 200"), "not the answer that was asked for");
        count += 1;
    }
    Ok(count)
}

/// How long each answer took, sorted: every phone asks for its own calendar with the tag that it has.
async fn poll(door: SocketAddr, phones: &[(String, String)], time: Duration) -> Result<Vec<Duration>> {
    let begun = Instant::now();
    let asking = phones.iter().enumerate().map(|(number, (path, tag))| {
        let (path, tag) = (path.clone(), tag.clone());
        tokio::spawn(async move {
            // Spread over the second, as phones are.
            let mut tick = tokio::time::interval_at(
                tokio::time::Instant::now() + EVERY.mul_f64(number as f64 / PHONES as f64),
                EVERY,
            );
            let mut times = Vec::new();
            while begun.elapsed() < time {
                tick.tick().await;
                let asked = Instant::now();
                let answer = ask_once(door, &path, &tag).await?;
                times.push(asked.elapsed());
                ensure!(answer.status == 304, "{path} answered {}", answer.status);
            }
            Ok(times)
        })
    });
    let mut times = Vec::new();
    for phone in asking.collect::<Vec<_>>() {
        times.extend(phone.await??);
    }
    times.sort_unstable();
    Ok(times)
}

/// One request on a connection of its own, as a phone makes it.
async fn ask_once(address: SocketAddr, path: &str, tag: &str) -> Result<Answer> {
    let known: &[_] = if tag.is_empty() { &[] } else { &[(IF_NONE_MATCH, tag)] };
    Client::connect(&address.to_string()).await?.get_with(path, known).await
}

fn told(times: &[Duration]) -> String {
    let shown = |part| format!("{:.1} ms", at(times, part).as_secs_f64() * 1e3);
    format!("{} answers: median {}, 99 in 100 {}, longest {}", times.len(), shown(0.5), shown(0.99), shown(1.0))
}

fn at(sorted: &[Duration], part: f64) -> Duration {
    sorted.get(((sorted.len().max(1) - 1) as f64 * part).round() as usize).copied().unwrap_or_default()
}

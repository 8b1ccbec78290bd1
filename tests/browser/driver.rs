//! A headless browser for one story, and its end whatever happens.

use std::future::Future;
use std::io::{Read, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use tempfile::TempDir;
use thirtyfour::{ChromiumLikeCapabilities, DesiredCapabilities, WebDriver};

use crate::page::Page;

/// Long enough for a loaded machine, short enough for a person who waits for the message.
const START_WITHIN: Duration = Duration::from_secs(20);

/// Tells one story in a browser of its own and closes it at the end. A story that fails leaves a
/// picture of the page in `target/tmp/browser/`.
pub(crate) async fn tell<Told>(name: &str, story: impl FnOnce(Page) -> Told) -> Result<()>
where
    Told: Future<Output = Result<()>> + Send + 'static,
{
    let driver = Driver::start()?;
    let session = driver.session().await?;
    // A task of its own: an assertion that fails ends the task, and the picture is still taken.
    let told = tokio::spawn(story(Page::new(session.clone())?)).await;
    let picture = match told {
        Ok(Ok(())) => None,
        _ => picture(name, &session).await.ok(),
    };
    session.quit().await.context("the browser did not close")?;
    let seen = || picture.map_or_else(|| "no picture could be taken".into(), |path| format!("see {}", path.display()));
    match told {
        Ok(outcome) => outcome.with_context(seen),
        Err(ended) => {
            eprintln!("{}", seen());
            std::panic::resume_unwind(ended.into_panic())
        }
    }
}

async fn picture(name: &str, session: &WebDriver) -> Result<PathBuf> {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("browser");
    std::fs::create_dir_all(&folder)?;
    let path = folder.join(format!("{name}.png"));
    session.screenshot(&path).await?;
    Ok(path)
}

/// The program that starts browsers, on a port of its own.
struct Driver {
    process: Child,
    port: u16,
    /// What the browser would else keep in the user's own folder.
    profile: TempDir,
}

impl Driver {
    fn start() -> Result<Self> {
        let port = TcpListener::bind((Ipv4Addr::LOCALHOST, 0))?.local_addr()?.port();
        // No pipes: a browser that outlives a failed test would else keep the test's output open.
        let process = Command::new("chromedriver")
            .arg(format!("--port={port}"))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .context("chromedriver cannot be started; `cargo xtask test` installs it or says how")?;
        let mut driver = Self { process, port, profile: TempDir::new()? };
        let begin = Instant::now();
        while driver.ask("GET", "/status").is_err() {
            if let Some(status) = driver.process.try_wait()? {
                bail!("chromedriver ended with {status} before it answered");
            }
            if begin.elapsed() > START_WITHIN {
                bail!("chromedriver did not answer within {START_WITHIN:?}");
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        Ok(driver)
    }

    async fn session(&self) -> Result<WebDriver> {
        let mut wanted = DesiredCapabilities::chrome();
        let profile = format!("--user-data-dir={}", self.profile.path().display());
        for argument in [
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--disable-dev-shm-usage",
            "--lang=en-GB",
            "--window-size=1280,1600",
            &profile,
        ] {
            wanted.add_arg(argument)?;
        }
        WebDriver::new(format!("http://127.0.0.1:{}", self.port), wanted).await.context("the browser did not start")
    }

    /// A bare request: enough to see whether the driver listens, and to send it home from `drop`.
    fn ask(&self, method: &str, path: &str) -> std::io::Result<()> {
        let mut connection = TcpStream::connect((Ipv4Addr::LOCALHOST, self.port))?;
        connection.set_read_timeout(Some(Duration::from_secs(5)))?;
        let port = self.port;
        write!(connection, "{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n")?;
        let mut first = [0];
        connection.read_exact(&mut first)
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        // Killed at once, the driver would leave its browsers behind; asked, it closes them first.
        let _asked = self.ask("GET", "/shutdown");
        let _killed = self.process.kill();
        let _ended = self.process.wait();
    }
}

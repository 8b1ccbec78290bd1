//! The app as a coach starts it: both doors on real ports, a data file of its own, a fixed day.

use anyhow::{Context, Result};
use chrono::{DateTime, Utc};
use server::{Clock, Config, Server};
use store::{BlockRecord, Store, fill_demo};
use tempfile::TempDir;
use tokio::sync::oneshot;

/// Nine in the morning of a Tuesday: the now of every story.
const NOW: &str = "2027-04-20T09:00:00Z";

/// A running app. It stops when it is dropped.
pub(crate) struct App {
    /// Address of the coach's door, without a slash at the end.
    pub(crate) coach: String,
    /// Address of the athletes' door, without a slash at the end.
    pub(crate) athletes: String,
    /// The data file, to look behind the pages.
    pub(crate) store: Store,
    _stop: oneshot::Sender<()>,
    _folder: TempDir,
}

impl App {
    /// Starts an app on an empty data file.
    pub(crate) async fn start() -> Result<Self> {
        let folder = TempDir::new()?;
        let anywhere = "127.0.0.1:0".parse()?;
        let config =
            Config { data: folder.path().join("squad.db"), listen: anywhere, share: Some(anywhere), share_url: None };
        let server = Server::open(&config, Clock::fixed(now()?)).await?;
        let coach = format!("http://{}", server.address());
        let athletes = server.share().base().context("the athletes' door is open")?.to_owned();
        let store = server.store().clone();
        let (stop, stopped) = oneshot::channel::<()>();
        tokio::spawn(server.run(async {
            // Dropping the sender is the signal.
            let _dropped = stopped.await;
        }));
        Ok(Self { coach, athletes, store, _stop: stop, _folder: folder })
    }

    /// Starts an app with the demo squad.
    pub(crate) async fn with_the_demo_squad() -> Result<Self> {
        let app = Self::start().await?;
        fill_demo(&app.store, now()?.date_naive(), now()?).await?;
        Ok(app)
    }

    /// Every block of races to come.
    pub(crate) async fn blocks(&self) -> Result<Vec<BlockRecord>> {
        let mut blocks = Vec::new();
        for row in self.store.board(now()?.date_naive()).await?.iter() {
            if let Some(kept) = row.block.as_ref().map(|block| block.state) {
                blocks.push(self.store.block(kept.id).await?.context("the board knows it")?);
            }
        }
        Ok(blocks)
    }
}

pub(crate) fn now() -> Result<DateTime<Utc>> {
    Ok(NOW.parse()?)
}

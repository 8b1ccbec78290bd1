//! Opens the two doors and keeps them open until the program is told to stop.

use std::future::{Future, IntoFuture};
use std::net::SocketAddr;
use std::path::PathBuf;

use axum::Router;
use store::{Store, StoreError};
use tokio::net::TcpListener;

use crate::care;
use crate::clock::Clock;
use crate::doors::{at_home, reachable, read_share_url};
use crate::guard::Hosts;
use crate::state::{AppState, Reach, ShareDoor};

/// How the program is to be served.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Config {
    /// The data file; made if it does not exist.
    pub data: PathBuf,
    /// The coach's address: loopback, or any once a pass phrase is set. Port 0 takes any free one.
    pub listen: SocketAddr,
    /// The athletes' address; without one it is what the coach set on the page about the doors.
    pub share: Option<SocketAddr>,
    /// What links to athletes begin with where it is not the athletes' address itself, because a
    /// tunnel or a proxy stands before it: `https://runs.example`.
    pub share_url: Option<String>,
}

/// Why the program cannot be served.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// The coach's address can be reached from other machines, and there is no pass phrase.
    #[error(
        "--listen {0} can be reached from other machines, and the coach's pages have no pass phrase yet. Start on \
         127.0.0.1:{port}, set one under Settings, Sharing and pass phrase, and start again. For athletes' pages use --share", port = .0.port()
    )]
    NotLoopback(SocketAddr),
    /// The coach's address is taken.
    #[error("{address} is in use by another program, perhaps by Ebbline itself. Open http://{address}, or choose another port with --listen 127.0.0.1:{}", .address.port().wrapping_add(1))]
    InUse {
        /// The address.
        address: SocketAddr,
    },
    /// The share address is not one that links can begin with.
    #[error("--share-url {0:?} is not an address: write it like https://runs.example, without a path")]
    ShareUrl(String),
    /// The data file.
    #[error("{}", crate::said(.0))]
    Store(#[from] StoreError),
    /// The network said something else.
    #[error("{address} cannot be listened on: {source}")]
    Listen {
        /// The address.
        address: SocketAddr,
        /// What the system says.
        source: std::io::Error,
    },
    /// Serving broke off.
    #[error("serving broke off: {0}")]
    Broken(#[from] std::io::Error),
}

/// Two doors that are open; the coach's is not yet served.
#[derive(Debug)]
pub struct Server {
    coach: (TcpListener, Router),
    state: AppState,
}

impl Server {
    /// Opens the data file and both doors. A share address that is taken does not stop the coach:
    /// [`Server::share`] says so.
    pub async fn open(config: &Config, clock: Clock) -> Result<Self, ServeError> {
        let bad_url = |url: &str| ServeError::ShareUrl(url.to_owned());
        let share_url = config.share_url.as_deref();
        let share_url = share_url.map(|url| read_share_url(url).ok_or_else(|| bad_url(url))).transpose()?;
        if Reach::of(config.listen) == Reach::Network && !config.data.exists() {
            return Err(ServeError::NotLoopback(config.listen));
        }
        let listener = TcpListener::bind(config.listen).await.map_err(|source| match source.kind() {
            std::io::ErrorKind::AddrInUse => ServeError::InUse { address: at_home(config.listen) },
            _ => ServeError::Listen { address: config.listen, source },
        })?;
        let address = listener.local_addr()?;
        let store = Store::open(&config.data).await?;
        let doors = store.doors().await?;
        if Reach::of(address) == Reach::Network && doors.pass_phrase.is_none() {
            store.close().await;
            return Err(ServeError::NotLoopback(config.listen));
        }
        let state = AppState::new(store, clock, config.data.clone(), address, ShareDoor::Off);
        // What was asked for at the start goes before what was set on the page.
        let asked = config.share.or_else(|| doors.share_address.parse().ok());
        let share_url = share_url.or_else(|| read_share_url(&doors.share_url));
        state.share.open(asked, share_url.as_deref()).await?;
        care::look_around(&state).await;
        let router = crate::coach_router(state.clone(), Hosts::coach(address));
        Ok(Self { coach: (listener, router), state })
    }

    /// The coach's address as a browser on this machine opens it, with the port that was taken.
    pub fn address(&self) -> SocketAddr {
        at_home(self.state.coach)
    }

    /// The coach's address as a browser on another machine opens it, where one can.
    pub fn address_for_others(&self) -> Option<SocketAddr> {
        (self.state.reach == Reach::Network).then(|| reachable(self.state.coach))
    }

    /// The athletes' door as it is now.
    pub fn share(&self) -> ShareDoor {
        self.state.share.now()
    }

    /// What the coach should know of the place where the data file lies; mostly nothing.
    pub fn warnings(&self) -> Vec<String> {
        self.state.care.warnings()
    }

    /// The data file behind both doors.
    pub const fn store(&self) -> &Store {
        &self.state.store
    }

    /// Serves until `stop` is done, lets running requests end, and closes the data file.
    pub async fn run(self, stop: impl Future<Output = ()> + Send + 'static) -> Result<(), ServeError> {
        let Self { coach: (listener, router), state } = self;
        let service = router.into_make_service_with_connect_info::<SocketAddr>();
        let caring = tokio::spawn(care::keep(state.clone()));
        let served = axum::serve(listener, service).with_graceful_shutdown(stop).into_future().await;
        caring.abort();
        state.share.close().await;
        state.store.close().await;
        served?;
        Ok(())
    }
}

/// Done when the machine asks the program to stop.
pub async fn stop_signal() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut terminate) = signal(SignalKind::terminate()) {
            tokio::select! {
                _ = tokio::signal::ctrl_c() => {}
                _ = terminate.recv() => {}
            }
            return;
        }
    }
    if tokio::signal::ctrl_c().await.is_err() {
        // Without a signal to wait for the program runs until it is killed.
        std::future::pending::<()>().await;
    }
}

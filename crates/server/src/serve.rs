//! Opens the two doors and keeps them open until the program is told to stop.

use std::future::{Future, IntoFuture};
use std::net::{IpAddr, Ipv4Addr, SocketAddr, UdpSocket};
use std::path::PathBuf;

use axum::Router;
use store::{Store, StoreError};
use tokio::net::TcpListener;
use tokio::sync::watch;

use crate::care;
use crate::clock::Clock;
use crate::guard::Hosts;
use crate::state::{AppState, ShareDoor, ShareState};

/// How the program is to be served.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Config {
    /// The data file; made if it does not exist.
    pub data: PathBuf,
    /// The coach's address: loopback only. Port 0 takes any free one.
    pub listen: SocketAddr,
    /// The athletes' address, if athletes' pages are to be served.
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
        "--listen {0} can be reached from other machines. The coach's pages have no pass phrase yet, so they are \
         served only on this machine: use 127.0.0.1:{port}, and --share for athletes' pages", port = .0.port()
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

/// Two doors that are open but not yet served.
#[derive(Debug)]
pub struct Server {
    store: Store,
    coach: (TcpListener, Router),
    athletes: Option<(TcpListener, Router)>,
    address: SocketAddr,
    share: ShareDoor,
    state: AppState,
}

impl Server {
    /// Opens the data file and both doors. A share address that is taken does not stop the coach:
    /// [`Server::share`] says so.
    pub async fn open(config: &Config, clock: Clock) -> Result<Self, ServeError> {
        if !config.listen.ip().is_loopback() {
            return Err(ServeError::NotLoopback(config.listen));
        }
        let share_url = config.share_url.as_deref().map(read_share_url).transpose()?;
        let listener = TcpListener::bind(config.listen).await.map_err(|source| match source.kind() {
            std::io::ErrorKind::AddrInUse => ServeError::InUse { address: config.listen },
            _ => ServeError::Listen { address: config.listen, source },
        })?;
        let address = listener.local_addr()?;
        let store = Store::open(&config.data).await?;
        let (share, share_listener) = open_share(config.share, share_url.as_ref()).await?;
        let athletes = match share_listener {
            Some(listener) => {
                let state = ShareState { reader: store.shared_reader().await?, clock };
                let hosts = Hosts::share(listener.local_addr()?, &further_hosts(&share));
                Some((listener, crate::share_router(state, hosts)))
            }
            None => None,
        };
        let state = AppState::new(store.clone(), clock, config.data.clone(), share.clone());
        care::look_around(&state).await;
        let router = crate::coach_router(state.clone(), Hosts::loopback(address));
        Ok(Self { store, coach: (listener, router), athletes, address, share, state })
    }

    /// The coach's real address, with the port that was taken.
    pub const fn address(&self) -> SocketAddr {
        self.address
    }

    /// The athletes' door as it came to be.
    pub const fn share(&self) -> &ShareDoor {
        &self.share
    }

    /// What the coach should know of the place where the data file lies; mostly nothing.
    pub fn warnings(&self) -> Vec<String> {
        self.state.care.warnings()
    }

    /// The data file behind both doors.
    pub const fn store(&self) -> &Store {
        &self.store
    }

    /// Serves until `stop` is done, lets running requests end, and closes the data file.
    pub async fn run(self, stop: impl Future<Output = ()> + Send + 'static) -> Result<(), ServeError> {
        let (tell, told) = watch::channel(());
        tokio::spawn(async move {
            stop.await;
            // Nobody listens any more when both doors have broken off already.
            let _ = tell.send(());
        });
        let (listener, router) = self.coach;
        let coach = axum::serve(listener, router).with_graceful_shutdown(stopped(told.clone())).into_future();
        let athletes = async {
            match self.athletes {
                Some((listener, router)) => {
                    axum::serve(listener, router).with_graceful_shutdown(stopped(told)).into_future().await
                }
                None => Ok(()),
            }
        };
        let caring = tokio::spawn(care::keep(self.state));
        let served = tokio::try_join!(coach, athletes);
        caring.abort();
        self.store.close().await;
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

async fn stopped(mut told: watch::Receiver<()>) {
    // An error says that the sender is gone: nobody will ask any more, so serve on.
    if told.changed().await.is_err() {
        std::future::pending::<()>().await;
    }
}

/// What links begin with, and the host in it.
#[derive(Clone, Debug, PartialEq, Eq)]
struct ShareUrl {
    base: String,
}

fn read_share_url(text: &str) -> Result<ShareUrl, ServeError> {
    let base = text.trim().trim_end_matches('/').to_owned();
    let host = base.strip_prefix("https://").or_else(|| base.strip_prefix("http://"));
    let is_host = |host: &str| !host.is_empty() && !host.contains(['/', '?', '#', '@', ' ', '\\']);
    match host {
        Some(host) if is_host(host) => Ok(ShareUrl { base }),
        _ => Err(ServeError::ShareUrl(text.to_owned())),
    }
}

async fn open_share(
    asked: Option<SocketAddr>,
    url: Option<&ShareUrl>,
) -> Result<(ShareDoor, Option<TcpListener>), ServeError> {
    let Some(asked) = asked else {
        return Ok((ShareDoor::Off, None));
    };
    let listener = match TcpListener::bind(asked).await {
        Ok(listener) => listener,
        Err(source) => {
            tracing::warn!(address = %asked, %source, "athletes' pages are not served");
            return Ok((ShareDoor::Taken { address: asked }, None));
        }
    };
    let address = listener.local_addr()?;
    let base = url.map_or_else(|| format!("http://{}", reachable(address)), |url| url.base.clone());
    Ok((ShareDoor::Open { address, base: base.into() }, Some(listener)))
}

/// The address under which other machines of the network find one that listens on all of its own.
fn reachable(address: SocketAddr) -> SocketAddr {
    if !address.ip().is_unspecified() {
        return address;
    }
    SocketAddr::new(own_address().unwrap_or(IpAddr::V4(Ipv4Addr::LOCALHOST)), address.port())
}

/// Asks the system which of its addresses it would send from. Nothing is sent: connecting a UDP
/// socket only chooses a route. The address is one kept for documentation (RFC 5737).
fn own_address() -> Option<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9)).ok()?;
    socket.local_addr().ok().map(|address| address.ip())
}

/// The host of the links, as a browser sends it.
fn further_hosts(share: &ShareDoor) -> Vec<String> {
    let base = share.base().unwrap_or_default();
    base.split_once("://").map(|(_, host)| host.to_owned()).into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_url_is_scheme_and_host() {
        for good in ["https://runs.example", "http://192.168.1.20:4651/", " https://runs.example "] {
            assert!(read_share_url(good).is_ok(), "{good}");
        }
        for bad in ["runs.example", "https://", "https://runs.example/club", "ftp://runs.example", "https://a@b"] {
            assert!(read_share_url(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_door_on_all_addresses_is_linked_by_one_that_others_reach() {
        let found = reachable(SocketAddr::from(([0, 0, 0, 0], 4651)));
        assert!(!found.ip().is_unspecified());
        assert_eq!(found.port(), 4651);
    }
}

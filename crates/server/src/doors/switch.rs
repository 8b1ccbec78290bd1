//! The athletes' door: opened, moved and closed while the program runs.

use std::future::IntoFuture;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, UdpSocket};
use std::sync::{Arc, PoisonError, RwLock};
use std::time::Duration;

use store::{Store, StoreError};
use tokio::net::TcpListener;
use tokio::sync::{Mutex, watch};
use tokio::task::JoinHandle;

use super::sharing::read_share_url;
use crate::clock::Clock;
use crate::guard::Hosts;
use crate::state::{ShareDoor, ShareState};

/// How long running answers of a door that closes may still take.
const LAST_ANSWERS: Duration = Duration::from_secs(2);

/// The athletes' door as it is now, and the way to open it elsewhere.
#[derive(Clone, Debug)]
pub struct ShareSwitch {
    inner: Arc<Inner>,
}

#[derive(Debug)]
struct Inner {
    now: RwLock<ShareDoor>,
    served: Mutex<Option<Served>>,
    store: Store,
    clock: Clock,
}

/// A door that is being served.
#[derive(Debug)]
struct Served {
    stop: watch::Sender<()>,
    task: JoinHandle<()>,
}

impl ShareSwitch {
    /// A door as somebody else serves it, until it is opened here.
    pub fn new(door: ShareDoor, store: Store, clock: Clock) -> Self {
        Self { inner: Arc::new(Inner { now: RwLock::new(door), served: Mutex::new(None), store, clock }) }
    }

    /// The door as it is now.
    pub fn now(&self) -> ShareDoor {
        self.inner.now.read().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Closes the door, and opens it where it is asked for. An address that cannot be opened is told, not
    /// an error: the coach goes on without.
    pub(crate) async fn open(&self, asked: Option<SocketAddr>, url: Option<&str>) -> Result<ShareDoor, StoreError> {
        let mut served = self.inner.served.lock().await;
        if let Some(before) = served.take() {
            before.stop().await;
        }
        let door = match asked {
            None => ShareDoor::Off,
            Some(address) => match TcpListener::bind(address).await {
                Ok(listener) => {
                    let address = listener.local_addr().unwrap_or(address);
                    let own = || format!("http://{}", reachable(address));
                    let base = url.map_or_else(|| read_share_url(&own()).unwrap_or_else(own), str::to_owned);
                    *served = Some(self.serve(listener, address, &base).await?);
                    ShareDoor::Open { address, base: base.into() }
                }
                Err(source) => {
                    tracing::warn!(%address, %source, "athletes' pages are not served");
                    ShareDoor::Taken { address }
                }
            },
        };
        *self.inner.now.write().unwrap_or_else(PoisonError::into_inner) = door.clone();
        Ok(door)
    }

    /// Closes the door and lets running answers end.
    pub(crate) async fn close(&self) {
        if let Some(served) = self.inner.served.lock().await.take() {
            served.stop().await;
        }
    }

    async fn serve(&self, listener: TcpListener, address: SocketAddr, base: &str) -> Result<Served, StoreError> {
        let state = ShareState::new(self.inner.store.shared_reader().await?, self.inner.clock);
        // The host of the links, as a browser sends it.
        let host = base.split_once("://").map(|(_, host)| host.to_owned());
        let router = crate::share_router(state, Hosts::share(address, host.as_slice()));
        let (stop, mut told) = watch::channel(());
        let stopped = async move {
            // An error says that the sender is gone: the switch was dropped with the program.
            let _ = told.changed().await;
        };
        let serving = axum::serve(listener, router).with_graceful_shutdown(stopped).into_future();
        let task = tokio::spawn(async move {
            if let Err(error) = serving.await {
                tracing::error!(%error, "serving athletes' pages broke off");
            }
        });
        Ok(Served { stop, task })
    }
}

impl Served {
    async fn stop(mut self) {
        // Nobody listens any more when serving broke off already.
        let _ = self.stop.send(());
        if tokio::time::timeout(LAST_ANSWERS, &mut self.task).await.is_err() {
            self.task.abort();
        }
    }
}

/// The address under which this machine itself finds one that listens on all of its own.
pub(crate) fn at_home(address: SocketAddr) -> SocketAddr {
    match address.ip() {
        IpAddr::V4(ip) if ip.is_unspecified() => SocketAddr::new(Ipv4Addr::LOCALHOST.into(), address.port()),
        IpAddr::V6(ip) if ip.is_unspecified() => SocketAddr::new(Ipv6Addr::LOCALHOST.into(), address.port()),
        _ => address,
    }
}

/// The address under which other machines of the network find one that listens on all of its own.
pub(crate) fn reachable(address: SocketAddr) -> SocketAddr {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_door_on_all_addresses_is_linked_by_one_that_others_reach() {
        let found = reachable(SocketAddr::from(([0, 0, 0, 0], 4651)));
        assert!(!found.ip().is_unspecified());
        assert_eq!(found.port(), 4651);
    }
}

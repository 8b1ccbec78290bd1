//! What every handler of a door may reach.

use std::net::SocketAddr;
use std::path::PathBuf;
use std::sync::Arc;

use store::{SharedReader, Store};

use crate::care::Care;
use crate::clock::Clock;
use crate::doors::{Limit, ShareSwitch};
use crate::races::Jobs;
use crate::share::Kept;

/// The coach's door: reads and writes the data file.
#[derive(Clone, Debug)]
pub struct AppState {
    /// The squad's data file.
    pub store: Store,
    /// The clock.
    pub clock: Clock,
    /// Where the data file lies, to be told on the settings page.
    pub data: Arc<PathBuf>,
    /// Whether and where athletes' pages are served.
    pub share: ShareSwitch,
    /// The coach's own address.
    pub coach: SocketAddr,
    /// Who can reach it.
    pub reach: Reach,
    /// How often a pass phrase may be tried.
    pub limit: Limit,
    /// What the last look after the data file found.
    pub care: Care,
    /// Blocks that are being made beside the requests.
    pub jobs: Jobs,
}

/// Who can reach the coach's pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// Whoever sits at this machine.
    ThisMachine,
    /// Other machines too: they ask for the pass phrase.
    Network,
}

impl Reach {
    /// Who can reach an address.
    pub const fn of(address: SocketAddr) -> Self {
        if address.ip().is_loopback() { Self::ThisMachine } else { Self::Network }
    }
}

impl AppState {
    /// The state of a coach's door at an address, beside an athletes' door.
    pub fn new(store: Store, clock: Clock, data: PathBuf, coach: SocketAddr, share: ShareDoor) -> Self {
        Self {
            share: ShareSwitch::new(share, store.clone(), clock),
            store,
            clock,
            data: Arc::new(data),
            coach,
            reach: Reach::of(coach),
            limit: Limit::default(),
            care: Care::default(),
            jobs: Jobs::default(),
        }
    }
}

/// The athletes' door: read-only by construction, it holds nothing that can write.
#[derive(Clone, Debug)]
pub struct ShareState {
    /// Looks up what a token shows.
    pub reader: SharedReader,
    /// The clock.
    pub clock: Clock,
    /// Answers that are still true.
    pub(crate) kept: Kept,
}

impl ShareState {
    /// The state of an athletes' door.
    pub fn new(reader: SharedReader, clock: Clock) -> Self {
        Self { reader, clock, kept: Kept::default() }
    }
}

/// Whether athletes' pages are served, and under which address links are written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ShareDoor {
    /// Not asked for.
    Off,
    /// Served.
    Open {
        /// The address it listens on.
        address: SocketAddr,
        /// What links begin with, without a slash at the end: `http://192.168.1.20:4651`.
        base: Arc<str>,
    },
    /// Asked for, but another program holds the address.
    Taken {
        /// The address that was asked for.
        address: SocketAddr,
    },
}

impl ShareDoor {
    /// What links to athletes begin with, if athletes' pages are served.
    pub fn base(&self) -> Option<&str> {
        match self {
            Self::Open { base, .. } => Some(base),
            Self::Off | Self::Taken { .. } => None,
        }
    }

    /// A door that phones of the same network reach.
    #[cfg(test)]
    pub(crate) fn sample() -> Self {
        Self::Open { address: ([192, 168, 1, 20], 4651).into(), base: "http://192.168.1.20:4651".into() }
    }

    /// Whether links lead to an address that only this machine reaches, and no phone.
    pub fn is_for_nobody_else(&self) -> bool {
        let is_loopback =
            |host: &str| host.starts_with("127.") || host.starts_with("[::1]") || host.starts_with("localhost");
        self.base().and_then(|base| base.split_once("://")).is_some_and(|(_, host)| is_loopback(host))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn links_to_this_machine_are_known_from_links_that_phones_can_open() {
        let door = |base: &str| ShareDoor::Open { address: ([127, 0, 0, 1], 4651).into(), base: base.into() };
        for base in ["http://127.0.0.1:4651", "http://[::1]:4651", "http://localhost:4651"] {
            assert!(door(base).is_for_nobody_else(), "{base}");
        }
        for base in ["http://192.168.1.20:4651", "https://runs.example"] {
            assert!(!door(base).is_for_nobody_else(), "{base}");
        }
        assert!(!ShareDoor::Off.is_for_nobody_else());
    }
}

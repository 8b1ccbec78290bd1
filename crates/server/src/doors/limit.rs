//! How often a pass phrase may be tried.

use std::collections::HashMap;
use std::net::{IpAddr, Ipv6Addr};
use std::sync::{Arc, Mutex, PoisonError};

use chrono::{DateTime, TimeDelta, Utc};

/// Wrong tries that are free, for each address.
const FREE: u32 = 5;

/// From then on one try in so many seconds.
const PAUSE: TimeDelta = TimeDelta::seconds(30);

/// So many addresses are remembered; whoever sends from more of them waits like everybody together.
const MOST: usize = 1000;

/// The wrong tries of each address, lately.
#[derive(Clone, Debug, Default)]
pub struct Limit(Arc<Mutex<HashMap<Option<IpAddr>, Tries>>>);

#[derive(Clone, Copy, Debug)]
struct Tries {
    wrong: u32,
    last: DateTime<Utc>,
}

impl Limit {
    /// How long an address has to wait for its next try; nothing if it may try now. The try is counted
    /// at once, so that many at the same time are many.
    pub(crate) fn wait(&self, from: Option<IpAddr>, now: DateTime<Utc>) -> Option<TimeDelta> {
        let from = from.map(network);
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        // A clock that was set back starts the wait anew and never makes it longer.
        all.retain(|_, tries| (now - tries.last).abs() < PAUSE * 10);
        let key = if all.contains_key(&from) || all.len() < MOST { from } else { None };
        let tries = all.entry(key).or_insert(Tries { wrong: 0, last: now });
        if tries.wrong >= FREE {
            let left = PAUSE - (now - tries.last).abs();
            if left > TimeDelta::zero() {
                return Some(left);
            }
        }
        *tries = Tries { wrong: tries.wrong.saturating_add(1), last: now };
        None
    }

    /// The phrase was right: the address starts afresh.
    pub(crate) fn forget(&self, from: Option<IpAddr>) {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).remove(&from.map(network));
    }
}

/// Whoever has one address of the sixth kind has as many as they like: all of a network count as one.
fn network(address: IpAddr) -> IpAddr {
    match address {
        IpAddr::V6(six) if six.to_ipv4_mapped().is_none() => Ipv6Addr::from_bits(six.to_bits() >> 64 << 64).into(),
        other => other.to_canonical(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(second: i64) -> DateTime<Utc> {
        DateTime::from_timestamp(1_800_000_000 + second, 0).unwrap()
    }

    fn from(last: u8) -> IpAddr {
        IpAddr::from([192, 168, 1, last])
    }

    #[test]
    fn five_tries_are_free_then_one_in_half_a_minute() {
        let limit = Limit::default();
        for second in 0..5 {
            assert_eq!(limit.wait(Some(from(1)), at(second)), None, "{second}");
        }
        assert_eq!(limit.wait(Some(from(1)), at(5)), Some(TimeDelta::seconds(29)));
        assert_eq!(
            limit.wait(Some(from(1)), at(33)),
            Some(TimeDelta::seconds(1)),
            "waiting is not made longer by asking"
        );
        assert_eq!(limit.wait(Some(from(1)), at(34)), None);
        assert_eq!(limit.wait(Some(from(1)), at(35)), Some(TimeDelta::seconds(29)));
    }

    #[test]
    fn another_address_and_a_right_phrase_start_afresh() {
        let limit = Limit::default();
        for _ in 0..5 {
            assert_eq!(limit.wait(Some(from(1)), at(0)), None);
        }
        assert_eq!(limit.wait(Some(from(2)), at(0)), None);
        limit.forget(Some(from(1)));
        assert_eq!(limit.wait(Some(from(1)), at(0)), None);
    }

    #[test]
    fn all_addresses_of_one_network_of_the_sixth_kind_are_one() {
        let limit = Limit::default();
        for last in 0..5_u128 {
            assert_eq!(limit.wait(Some(Ipv6Addr::from_bits((0xfd00 << 112) + last).into()), at(0)), None);
        }
        assert!(limit.wait(Some(Ipv6Addr::from_bits((0xfd00 << 112) + 77).into()), at(0)).is_some());
        assert_eq!(limit.wait(Some(Ipv6Addr::from_bits((0xfd00 << 112) + (1 << 64)).into()), at(0)), None);
    }

    #[test]
    fn a_clock_set_back_locks_nobody_out() {
        let limit = Limit::default();
        for _ in 0..5 {
            assert_eq!(limit.wait(Some(from(1)), at(0)), None);
        }
        assert_eq!(limit.wait(Some(from(1)), at(-100_000)), None);
    }

    #[test]
    fn a_thousand_addresses_are_remembered_and_the_others_wait_together() {
        let limit = Limit::default();
        for number in 0..2000_u32 {
            limit.wait(Some(IpAddr::from(number.to_be_bytes())), at(0));
        }
        assert!(limit.0.lock().unwrap().len() <= MOST + 1);
        assert!(limit.wait(Some(IpAddr::from([9, 9, 9, 9])), at(1)).is_some());
    }
}

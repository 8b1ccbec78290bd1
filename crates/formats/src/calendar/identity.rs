//! Which session of one version is which session of the version that it was made from.
//!
//! An athlete's calendar knows an event by its identity alone: a session that was moved must keep it,
//! or the old entry stays beside the new one. Nothing of this is stored. It follows from the versions,
//! so it is the same on every machine and after a backup.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, Utc};
use planning::{Block, Kind, Race, Session};
use sha2::{Digest as _, Sha256};
use uuid::Uuid;

use super::Version;

/// Farther than this a session was not moved but planned anew.
const MOVED_MOST_DAYS: i64 = 7;

/// What the identities of one block begin from: nothing in it can be read back from them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BlockKey([u8; 32]);

impl BlockKey {
    /// The key of a block that is kept: its number, and when its first version was made.
    pub fn of_kept(block: i64, made: DateTime<Utc>) -> Self {
        Self(digest(&[b"block", &block.to_be_bytes(), &made.timestamp_micros().to_be_bytes()]))
    }

    /// The key of a block that is planned and not kept: the same request gives the same key.
    pub fn of_request(athlete: &str, race: &Race) -> Self {
        let distance = race.distance.distance().as_km().to_bits();
        Self(digest(&[
            b"request",
            athlete.as_bytes(),
            race.name.as_bytes(),
            race.date.to_string().as_bytes(),
            &distance.to_be_bytes(),
        ]))
    }

    /// The identity of the race.
    pub(super) fn race(self) -> Uuid {
        identity(&digest(&[b"race", &self.0]))
    }

    /// The identity of a session where it first stood.
    fn session(self, version: u32, item: &Item<'_>) -> Uuid {
        identity(&digest(&[
            b"session",
            &self.0,
            &version.to_be_bytes(),
            item.date.to_string().as_bytes(),
            item.session.kind.code().as_bytes(),
            &item.nth.to_be_bytes(),
        ]))
    }
}

/// Every part with its length before it, so that no two lists run together.
fn digest(parts: &[&[u8]]) -> [u8; 32] {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update((part.len() as u64).to_be_bytes());
        hash.update(part);
    }
    hash.finalize().into()
}

/// # Source
///
/// RFC 9562, 5.8: version 8, whose bits are the maker's own.
fn identity(digest: &[u8; 32]) -> Uuid {
    let mut bytes = [0; 16];
    bytes.copy_from_slice(&digest[..16]);
    uuid::Builder::from_custom_bytes(bytes).into_uuid()
}

/// A session in its place.
#[derive(Clone, Copy)]
struct Item<'a> {
    date: NaiveDate,
    to_race: u16,
    /// Which of its kind on its day: morning and evening differ.
    nth: u32,
    session: &'a Session,
}

impl Item<'_> {
    fn kind(&self) -> Kind {
        self.session.kind
    }
}

/// The identities of a version's sessions, in the order of days and sessions.
pub(super) fn of_versions(key: BlockKey, versions: &[Version<'_>]) -> HashMap<u32, Vec<Uuid>> {
    let mut known: HashMap<u32, (Vec<Item<'_>>, Vec<Uuid>, NaiveDate)> = HashMap::new();
    for version in versions {
        let items = items(version.block);
        let parent = version.parent.and_then(|parent| known.get(&parent));
        let kept = parent.map_or_else(
            || vec![None; items.len()],
            |(from, identities, race_day)| carry(from, identities, &items, *race_day != version.block.race_day),
        );
        let fresh = |(item, kept): (&Item<'_>, Option<Uuid>)| kept.unwrap_or_else(|| key.session(version.number, item));
        let identities = items.iter().zip(kept).map(fresh).collect();
        known.insert(version.number, (items, identities, version.block.race_day));
    }
    known.into_iter().map(|(number, (_, identities, _))| (number, identities)).collect()
}

fn items(block: &Block) -> Vec<Item<'_>> {
    let mut items: Vec<Item<'_>> = Vec::new();
    for day in &block.days {
        for planned in &day.sessions {
            let is_same = |item: &&Item<'_>| item.date == day.date && item.kind() == planned.session.kind;
            let nth = items.iter().rev().filter(is_same).count() as u32;
            items.push(Item { date: day.date, to_race: day.to_race, nth, session: &planned.session });
        }
    }
    items
}

/// For each session the identity that it had before, the surest matches first: unchanged; same day and
/// kind; moved by at most a week with kind and amount; same day; and where the race was moved, as far
/// before it.
fn carry(from: &[Item<'_>], identities: &[Uuid], to: &[Item<'_>], race_moved: bool) -> Vec<Option<Uuid>> {
    let mut free: Vec<bool> = vec![true; from.len()];
    let mut kept: Vec<Option<Uuid>> = vec![None; to.len()];
    let mut pass = |matches: &dyn Fn(&Item<'_>, &Item<'_>) -> Option<i64>| {
        let mut pairs: Vec<(i64, usize, usize)> = Vec::new();
        for (new, item) in to.iter().enumerate().filter(|(new, _)| kept[*new].is_none()) {
            for (old, before) in from.iter().enumerate().filter(|(old, _)| free[*old]) {
                pairs.extend(matches(before, item).map(|distance| (distance, new, old)));
            }
        }
        pairs.sort_unstable();
        for (_, new, old) in pairs {
            if kept[new].is_none() && free[old] {
                free[old] = false;
                kept[new] = Some(identities[old]);
            }
        }
    };
    let days = |before: &Item<'_>, now: &Item<'_>| (now.date - before.date).num_days().abs();
    pass(&|before, now| (before.date == now.date && before.session == now.session).then_some(0));
    pass(&|before, now| (before.date == now.date && before.kind() == now.kind()).then_some(0));
    pass(&|before, now| {
        let is_same = before.kind() == now.kind() && before.session.amount == now.session.amount;
        (is_same && days(before, now) <= MOVED_MOST_DAYS).then(|| days(before, now))
    });
    pass(&|before, now| (before.date == now.date).then_some(0));
    if race_moved {
        pass(&|before, now| (before.to_race == now.to_race).then(|| i64::from(before.kind() != now.kind())));
    }
    kept
}

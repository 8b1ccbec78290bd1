//! A race, and blocks for it, for the samples of pages.

use planning::{Importance, Race, RaceDistance};
use store::{BlockId, BlockRecord, RaceId, RaceRecord, Version};

use crate::blocks::Loaded;
use crate::clock::Clock;

/// A race with a name that must not become markup.
pub(super) fn race(distance: RaceDistance) -> RaceRecord {
    let race = Race {
        name: "Larkmere <b>Half".to_owned(),
        date: "2027-05-09".parse().expect("a date"),
        distance,
        start: chrono::NaiveTime::from_hms_opt(9, 30, 0),
        zone: Some("Europe/Lisbon".to_owned()),
        importance: Importance::Goal,
    };
    RaceRecord { id: RaceId(2), version: Version(1), race, place: "Harbour".to_owned(), called_off: None }
}

/// Blocks of several runners, whose names must not become markup either.
pub(super) fn loaded(records: impl IntoIterator<Item = BlockRecord>, clock: Clock) -> Vec<Loaded> {
    numbered(records).into_iter().map(|record| Loaded::sample(record, clock)).collect()
}

/// The same blocks alone.
pub(super) fn numbered(records: impl IntoIterator<Item = BlockRecord>) -> Vec<BlockRecord> {
    let numbered = (0_i64..).zip(records).map(|(number, mut record)| {
        record.id = BlockId(number);
        record.athlete.draft.athlete.name = format!("Runner {number} <b>");
        record
    });
    numbered.collect()
}

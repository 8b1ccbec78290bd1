//! What the tests of this crate share: a store on a real file, and people of our own invention.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use planning::{Athlete, Importance, Race, RaceDistance};
use uuid::Uuid;

use crate::{AthleteDraft, AthleteId, RaceId, Store};

/// A store on a file of its own; the folder goes with it.
pub(crate) struct TestStore {
    pub(crate) store: Store,
    pub(crate) folder: tempfile::TempDir,
}

impl std::ops::Deref for TestStore {
    type Target = Store;
    fn deref(&self) -> &Store {
        &self.store
    }
}

pub(crate) async fn open() -> TestStore {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(&folder.path().join("squad.db")).await.unwrap();
    TestStore { store, folder }
}

/// A fixed evening, and minutes after it.
pub(crate) fn at(minutes: i64) -> DateTime<Utc> {
    DateTime::from_timestamp(1_808_000_000, 0).unwrap() + TimeDelta::minutes(minutes)
}

pub(crate) fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

pub(crate) fn once() -> Uuid {
    Uuid::new_v4()
}

pub(crate) fn draft(name: &str) -> AthleteDraft {
    AthleteDraft { athlete: Athlete { name: name.to_owned(), ..Athlete::default() }, ..AthleteDraft::default() }
}

pub(crate) async fn add(store: &Store, name: &str) -> AthleteId {
    store.add_athlete(&draft(name), once(), at(0)).await.unwrap()
}

/// A half marathon of our own invention.
pub(crate) fn race_on(date: &str) -> Race {
    Race {
        name: "Two Bridges Half".to_owned(),
        date: day(date),
        distance: RaceDistance::Half,
        start: None,
        zone: None,
        importance: Importance::Goal,
    }
}

pub(crate) async fn add_race(store: &Store, date: &str) -> RaceId {
    store.add_race(&race_on(date), "", once(), at(0)).await.unwrap()
}

pub(crate) fn lines(lines: [&str; 7]) -> [String; 7] {
    lines.map(str::to_owned)
}

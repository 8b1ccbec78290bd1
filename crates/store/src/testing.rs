//! What the tests of this crate share: a store on a real file, and people of our own invention.

use std::path::Path;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use planning::notation::read_week;
use planning::profile::MeasuredPoint;
use planning::{
    Athlete, Block, Distance, DistanceUnit, Importance, LineShape, Race, RaceDistance, Request, Settings, plan,
};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, SqliteConnection};
use uuid::Uuid;

use crate::{AthleteDraft, AthleteId, Course, RaceFacts, RaceId, Store, Version, WeekDraft, WeekRecord};

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

impl TestStore {
    /// A connection that keeps no rules, as a stray tool's might be.
    pub(crate) async fn stray(&self) -> SqliteConnection {
        let options = SqliteConnectOptions::new().filename(self.path()).foreign_keys(false);
        options.pragma("ignore_check_constraints", "ON").connect().await.unwrap()
    }
}

pub(crate) async fn open() -> TestStore {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(&folder.path().join("squad.db")).await.unwrap();
    TestStore { store, folder }
}

/// What lies in a folder.
pub(crate) fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<_> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
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
        name: "Larkmere Half".to_owned(),
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

/// A course about as long as [`race_on`], with heights but for one.
pub(crate) fn course() -> Course {
    let point = |metres, height| MeasuredPoint { along: Distance::metres(metres), height };
    let points = vec![point(0, Some(12.5)), point(9_000, None), point(21_150, Some(-3.25))];
    Course { shape: LineShape::Track, file_name: "larkmere.gpx".to_owned(), points }
}

/// Facts of our own invention.
pub(crate) fn race_facts() -> RaceFacts {
    RaceFacts {
        stations: "12.5 km Mill: water; cut-off 2:10".to_owned(),
        stands: "8 bridge".to_owned(),
        pens_close: chrono::NaiveTime::from_hms_opt(9, 15, 0),
        bags: "Boat house".to_owned(),
        air: Some(planning::heat::Celsius::tenths(-15)),
        ..RaceFacts::default()
    }
}

pub(crate) fn lines(lines: [&str; 7]) -> [String; 7] {
    lines.map(str::to_owned)
}

/// A week of five runs, of our own invention.
pub(crate) fn usual_lines() -> [String; 7] {
    lines(["rest", "6 x 800 m 10k pace, 10 km", "8", "rest", "tempo 9, hard 4", "6-8", "long 14-16"])
}

/// The block that planning makes for a race on this day.
pub(crate) fn planned_block(date: &str) -> Block {
    let lines = usual_lines();
    let week = read_week(&lines.each_ref().map(String::as_str), "", DistanceUnit::Km).unwrap();
    let (race, athlete) = (race_on(date), draft("Ana").athlete);
    let settings = Settings::default();
    plan(&Request {
        today: None,
        athlete: &athlete,
        week: &week,
        race: &race,
        settings: &settings,
        pins: &[],
        other_races: &[],
        begun: None,
    })
    .unwrap()
}

/// One athlete with a base week, entered in one race, and the block for it, not kept yet.
pub(crate) struct Squad {
    pub(crate) store: TestStore,
    pub(crate) athlete: AthleteId,
    pub(crate) race: RaceId,
    pub(crate) week: WeekRecord,
    pub(crate) block: Block,
}

pub(crate) async fn squad() -> Squad {
    let store = open().await;
    let athlete = add(&store, "Ana").await;
    let race = store.add_race(&race_on("2027-05-09"), "Harbour", once(), at(0)).await.unwrap();
    store.enter(race, athlete, Importance::Goal, at(1)).await.unwrap();
    store.save_week(athlete, Version(0), &WeekDraft::of(usual_lines()), at(2)).await.unwrap();
    let week = store.week(athlete).await.unwrap().unwrap();
    Squad { store, athlete, race, week, block: planned_block("2027-05-09") }
}

//! What the store costs on a real file: the pages' reads, one save, and the file as a whole.
//!
//! `cargo xtask bench` runs it. The squad is invented: every athlete has a base week and a handed
//! over block for one of three races.

use std::path::PathBuf;

use chrono::{DateTime, Days, NaiveDate, Utc};
use divan::Bencher;
use planning::{Athlete, Importance, Race, RaceDistance, Request, Settings, plan};
use store::{AthleteDraft, AthleteId, BlockId, SharedReader, Store, StoreError, Version};
use tempfile::TempDir;
use tokio::runtime::Runtime;
use uuid::Uuid;

/// A small squad, and a large club.
const SQUADS: [usize; 2] = [30, 500];

fn main() {
    divan::main();
}

#[divan::bench(args = SQUADS, sample_count = 100)]
fn the_board(bencher: Bencher<'_, '_>, size: usize) {
    let club = Club::of(size);
    bencher.bench_local(|| club.wait(club.store.board(today())));
}

#[divan::bench(args = SQUADS)]
fn every_athlete(bencher: Bencher<'_, '_>, size: usize) {
    let club = Club::of(size);
    bencher.bench_local(|| club.wait(club.store.athletes()));
}

#[divan::bench]
fn one_block(bencher: Bencher<'_, '_>) {
    let club = Club::of(30);
    bencher.bench_local(|| club.wait(club.store.block(club.block)));
}

#[divan::bench]
fn what_a_link_shows(bencher: Bencher<'_, '_>) {
    let club = Club::of(30);
    bencher.bench_local(|| club.wait(club.door.shared(&club.token, today())));
}

#[divan::bench]
fn save_a_base_week(bencher: Bencher<'_, '_>) {
    let club = Club::of(30);
    let mut version = 1;
    bencher.bench_local(|| {
        club.wait(club.store.save_week(club.athlete, Version(version), &store::WeekDraft::of(lines()), now()));
        version += 1;
    });
}

#[divan::bench]
fn make_a_block_anew(bencher: Bencher<'_, '_>) {
    let club = Club::of(30);
    bencher.bench_local(|| {
        club.wait(async {
            let kept = club.store.block(club.block).await?.ok_or(StoreError::Gone)?;
            club.store
                .revise_block(kept.id, kept.version, &kept.settings, &kept.week, &kept.block, "made anew", now())
                .await
        })
    });
}

#[divan::bench(args = SQUADS, sample_count = 20)]
fn a_backup(bencher: Bencher<'_, '_>, size: usize) {
    let club = Club::of(size);
    let mut number = 0;
    let mut next = || -> PathBuf {
        number += 1;
        club.folder.path().join(format!("copy-{number}.db"))
    };
    bencher.with_inputs(&mut next).bench_local_values(|to| club.wait(club.store.backup(&to)));
}

/// A club in a file of its own.
struct Club {
    runtime: Runtime,
    store: Store,
    door: SharedReader,
    /// The last athlete, their block and the link to it.
    athlete: AthleteId,
    block: BlockId,
    token: String,
    /// Goes last, when nothing needs the file any more.
    folder: TempDir,
}

impl Club {
    fn of(size: usize) -> Self {
        match Self::filled(size) {
            Ok(club) => club,
            Err(error) => panic!("a club of {size} could not be kept: {error}"),
        }
    }

    fn filled(size: usize) -> Result<Self, StoreError> {
        let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
        let folder = tempfile::tempdir()?;
        let (store, door, (athlete, block, token)) = runtime.block_on(async {
            let store = Store::open(&folder.path().join("club.db")).await?;
            let last = fill(&store, size).await?;
            let door = store.shared_reader().await?;
            Ok::<_, StoreError>((store, door, last))
        })?;
        Ok(Self { runtime, store, door, athlete, block, token, folder })
    }

    /// Waits for what must not fail: a failure would be measured as speed.
    fn wait<T>(&self, work: impl Future<Output = Result<T, StoreError>>) -> T {
        match self.runtime.block_on(work) {
            Ok(done) => done,
            Err(error) => panic!("{error}"),
        }
    }
}

async fn fill(store: &Store, size: usize) -> Result<(AthleteId, BlockId, String), StoreError> {
    let mut races = Vec::new();
    for (days, distance) in [(9, RaceDistance::TenK), (14, RaceDistance::Half), (21, RaceDistance::Marathon)] {
        let race = Race {
            name: "Larkmere".to_owned(),
            date: today() + Days::new(days),
            distance,
            start: None,
            zone: None,
            importance: Importance::Goal,
        };
        races.push((store.add_race(&race, "", Uuid::new_v4(), now()).await?, race));
    }
    let mut last = None;
    for (number, (race_id, race)) in (0..size).zip(races.iter().cycle()) {
        let athlete = Athlete { name: format!("Runner {number}"), ..Athlete::default() };
        let draft = AthleteDraft { athlete, ..AthleteDraft::default() };
        let id = store.add_athlete(&draft, Uuid::new_v4(), now()).await?;
        store.save_week(id, Version(0), &store::WeekDraft::of(lines()), now()).await?;
        store.enter(*race_id, id, Importance::Goal, now()).await?;
        let week = store.week(id).await?.ok_or(StoreError::Gone)?;
        let settings = Settings::default();
        let request = Request {
            today: None,
            athlete: &draft.athlete,
            week: &week.week,
            race,
            settings: &settings,
            pins: &[],
            other_races: &[],
            begun: None,
        };
        let block = plan(&request).map_err(StoreError::Refused)?;
        let block = store.add_block(id, *race_id, &settings, &week, &block, now()).await?;
        let share = store.hand_over(block, store::Shows::ALL, race.date + Days::new(14), now()).await?;
        last = Some((id, block, share.token));
    }
    last.ok_or(StoreError::Gone)
}

fn lines() -> [String; 7] {
    ["8", "6 x 800 m 10k pace, 90 s jog, 11", "10", "tempo 10, hard 5", "5 + strength 30", "6", "long 16-18"]
        .map(str::to_owned)
}

/// A Monday.
fn today() -> NaiveDate {
    NaiveDate::default() + Days::new(20_925)
}

fn now() -> DateTime<Utc> {
    DateTime::default() + chrono::TimeDelta::days(20_925)
}

//! A made-up squad of any size: a club of a hundred is planned for real, and taken as often as it needs.

use std::collections::HashMap;

use anyhow::{Context, Result};
use chrono::{DateTime, Datelike, Days, NaiveDate, NaiveTime, Utc};
use planning::{Athlete, Begun, Importance, Outcome, Race, RaceDistance, Request, Settings, plan};
use serde_json::Value;
use store::{
    ArchiveFile, AthleteDraft, AthleteId, RaceId, RaceResult, ReallyRan, Shows, Store, TemplateDraft, ToHandOver,
    Version, WeekDraft,
};
use uuid::Uuid;

/// Athletes in a club.
pub(crate) const CLUB: usize = 100;
/// How many of a club have a race ahead, and a block for it.
const RACING: usize = 8;
/// How long ago the two races of the past were, and how far.
const PAST: [(u64, RaceDistance); 2] = [(200, RaceDistance::Half), (70, RaceDistance::Marathon)];
/// In how many days the race ahead is.
const AHEAD: u64 = 9;
/// Weeks of the log that each athlete has.
const LOGGED: u64 = 4;

/// Seven lines for an athlete by number: other amounts, other days.
fn week(number: usize) -> [String; 7] {
    let easy = 6 + number % 6;
    let long = 14 + number % 9;
    let mut lines = [
        easy.to_string(),
        format!("6 x 800 m 10k pace, {}", 9 + number % 4),
        format!("{} + strength 30", easy + 2),
        format!("tempo {}, hard {}", 8 + number % 3, 4 + number % 2),
        String::new(),
        easy.to_string(),
        format!("long {long}"),
    ];
    lines.rotate_right(number % 2);
    lines
}

/// Plans a club on a data file of its own and gives it as text, table by table.
pub(crate) async fn club(today: NaiveDate) -> Result<Vec<ArchiveFile>> {
    let folder = tempfile::tempdir()?;
    let store = Store::open(&folder.path().join("club.db")).await?;
    let at = |day: NaiveDate| day.and_time(NaiveTime::MIN).and_utc();
    let mut races = Vec::new();
    for (days, distance) in PAST {
        races.push(add_race(&store, today - Days::new(days), distance, at(today - Days::new(days + 90))).await?);
    }
    let ahead = add_race(&store, today + Days::new(AHEAD), RaceDistance::Half, at(today - Days::new(60))).await?;
    for number in 0..CLUB {
        let made = at(today - Days::new(300));
        let athlete = add_athlete(&store, number, made).await?;
        for ((days, _), race) in PAST.iter().zip(&races) {
            let before = today - Days::new(days + 30);
            add_block(&store, athlete, *race, before).await?;
            let result = RaceResult { outcome: Outcome::Finished, ..RaceResult::default() };
            let after = at(today - Days::new(days - 1));
            store.save_result((*race, athlete), Version(0), &result, ReallyRan::default(), after).await?;
        }
        if number < RACING {
            add_block(&store, athlete, ahead, today - Days::new(20)).await?;
        }
        let monday = today - Days::new(u64::from(today.weekday().num_days_from_monday()));
        for weeks in 1..=LOGGED {
            let first = monday - Days::new(7 * weeks);
            let line = if (number + weeks as usize).is_multiple_of(3) { "48" } else { "as planned" };
            store.save_done_week(athlete, first, Version(0), line, "", first + Days::new(6), at(first)).await?;
        }
    }
    Ok(store.export().await?)
}

async fn add_athlete(store: &Store, number: usize, now: DateTime<Utc>) -> Result<AthleteId> {
    let draft = AthleteDraft {
        athlete: Athlete { name: format!("Runner {number:03}"), ..Athlete::default() },
        group: ["Track", "Sunday", "Hill", ""][number % 4].to_owned(),
        ..AthleteDraft::default()
    };
    let id = store.add_athlete(&draft, Uuid::new_v4(), now).await?;
    let read_at = store.week(id).await?.context("an athlete")?.version;
    store.save_week(id, read_at, &WeekDraft::of(week(number)), now).await?;
    Ok(id)
}

async fn add_race(store: &Store, date: NaiveDate, distance: RaceDistance, now: DateTime<Utc>) -> Result<RaceId> {
    let race = Race {
        name: "Made-up race".to_owned(),
        date,
        distance,
        start: NaiveTime::from_hms_opt(9, 30, 0),
        zone: Some("Europe/Lisbon".to_owned()),
        importance: Importance::Goal,
    };
    Ok(store.add_race(&race, "Harbour", Uuid::new_v4(), now).await?)
}

async fn add_block(store: &Store, athlete: AthleteId, race: RaceId, on: NaiveDate) -> Result<()> {
    let now = on.and_time(NaiveTime::MIN).and_utc();
    store.enter(race, athlete, Importance::Goal, now).await?;
    let record = store.athlete(athlete).await?.context("an athlete")?;
    let week = store.week(athlete).await?.context("a week")?;
    let kept = store.race(race).await?.context("a race")?;
    let settings = Settings::default();
    let request = Request {
        today: Some(on),
        athlete: &record.draft.athlete,
        week: &week.week,
        race: &kept.race,
        settings: &settings,
        pins: &[],
        other_races: &[],
        begun: Some(Begun { on, days: &[] }),
    };
    let block = plan(&request).map_err(|found| anyhow::anyhow!("{found:?}"))?;
    store.add_block(athlete, race, &settings, &week, &block, now).await?;
    Ok(())
}

/// A template, which stands once, and blocks handed over: links are secrets, so an archive brings none. Of every second
/// race all blocks go out, of the others each tenth, so that what is still to hand over is measured, too.
pub(crate) async fn live_in(store: &Store, now: DateTime<Utc>) -> Result<()> {
    let template = TemplateDraft { name: "A usual week".to_owned(), lines: week(0), ..TemplateDraft::default() };
    store.add_template(&template, Uuid::new_v4(), now).await?;
    for (turn, (race, _)) in store.races().await?.into_iter().enumerate() {
        let blocks: Vec<_> = store.entrants(race.id).await?.into_iter().filter_map(|entry| entry.block).collect();
        let ends = race.race.date + Days::new(14);
        let some = store.blocks(&blocks).await?.into_iter().step_by(if turn % 2 == 0 { 1 } else { 10 });
        let wanted: Vec<_> = some
            .map(|one| ToHandOver { block: one.id, read_at: one.version, shows: Shows::ALL, race_day: None, ends })
            .collect();
        store.hand_over_many(race.id, &wanted, now).await?;
    }
    Ok(())
}

/// How many there are of each; their numbers run from 1 without a gap.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Counts {
    athletes: i64,
    races: i64,
    blocks: i64,
}

impl Counts {
    /// Some athlete, another one each turn.
    pub(crate) const fn nth_athlete(self, turn: usize) -> i64 {
        nth(turn, self.athletes)
    }

    /// Some race.
    pub(crate) const fn nth_race(self, turn: usize) -> i64 {
        nth(turn, self.races)
    }

    /// After so many turns the numbers come again.
    pub(crate) const fn turns(self) -> usize {
        self.blocks as usize
    }

    /// Some block.
    pub(crate) const fn nth_block(self, turn: usize) -> i64 {
        nth(turn, self.blocks)
    }
}

/// Far from the one before: what lies beside each other is read together.
const fn nth(turn: usize, count: i64) -> i64 {
    (turn as i64 * 7919) % count + 1
}

/// A squad as one text for each table.
pub(crate) struct Grown {
    pub(crate) files: HashMap<&'static str, String>,
    pub(crate) counts: Counts,
}

/// The club as often as it takes, with names and numbers of their own.
pub(crate) fn grown(club: &[ArchiveFile], clubs: usize) -> Result<Grown> {
    let mut steps = HashMap::new();
    let mut tables = Vec::new();
    for file in club {
        let rows: Vec<serde_json::Map<String, Value>> = serde_json::from_str(&file.json)?;
        let ids = rows.iter().filter_map(|row| row.get("id")?.as_i64());
        steps.insert(file.name, ids.max().unwrap_or(0));
        tables.push((file.name, rows));
    }
    let step = |name: &str| steps.get(name).copied().unwrap_or(0);
    let whose = |table: &'static str, field: &str| match field {
        "id" => step(table),
        "athlete" => step("athletes"),
        "race" => step("races"),
        "block" => step("blocks"),
        _ => 0,
    };
    let mut files = HashMap::new();
    for (name, rows) in &tables {
        // What belongs to nobody stands once.
        let belongs = |row: &serde_json::Map<String, Value>| {
            ["id", "athlete", "race", "block"].iter().any(|field| row.get(*field).is_some_and(Value::is_i64))
        };
        let mut lines = Vec::new();
        for copy in 0..clubs {
            for row in rows.iter().filter(|row| copy == 0 || belongs(row)) {
                let mut row = row.clone();
                for (field, value) in &mut row {
                    if let Some(number) = value.as_i64() {
                        *value = (number + whose(name, field) * copy as i64).into();
                    }
                }
                if *name == "athletes"
                    && let Some(told) = row.get_mut("name")
                {
                    *told = format!("{} of club {copy:03}", told.as_str().unwrap_or_default()).into();
                }
                lines.push(Value::Object(row).to_string());
            }
        }
        files.insert(*name, format!("[\n{}\n]\n", lines.join(",\n")));
    }
    let of = |table| step(table) * clubs as i64;
    let counts = Counts { athletes: of("athletes"), races: of("races"), blocks: of("blocks") };
    Ok(Grown { files, counts })
}

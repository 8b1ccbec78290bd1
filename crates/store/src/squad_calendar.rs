//! The squad's weeks ahead: who races when, and the blocks before it, for one page of athletes.
//!
//! Eight queries however large the squad. Athletes are counted and sorted by the data file; entries, and the
//! documents of blocks, are read only for those on the page.

use std::collections::HashMap;

use chrono::{Days, NaiveDate};
use planning::curve::LENGTHS;
use planning::replan::race::LONGEST_WAY_BACK;
use planning::timeline::SHAPES_DAYS;
use planning::{Block, EventKind, Importance, LifeEvent};
use sqlx::SqliteConnection;

use crate::blocks::read_document;
use crate::cell::{Place, day_text, id_list};
use crate::entries::select_entries;
use crate::life::events_of_each;
use crate::races::select_races;
use crate::{AthleteId, BlockId, Entry, EventRecord, RaceId, RaceRecord, Result, Store};

/// Which part of the calendar is looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CalendarAsked {
    /// Only this group; empty for everybody.
    pub group: String,
    /// Only who is entered in this race.
    pub race: Option<RaceId>,
    /// The first day of the first week.
    pub from: NaiveDate,
    /// How many weeks.
    pub weeks: u32,
    /// Which page, the first is 0; a page that is not there is the last.
    pub page: usize,
    /// How many athletes a page has, at least one.
    pub rows: usize,
}

impl CalendarAsked {
    /// The last day of the last week.
    pub fn to(&self) -> NaiveDate {
        self.from + Days::new(u64::from(self.weeks) * 7) - Days::new(1)
    }
}

/// One page of the squad's calendar.
#[derive(Clone, Debug, PartialEq)]
pub struct SquadCalendar {
    /// How many athletes there are, whatever was asked for.
    pub squad: usize,
    /// How many of them fit.
    pub found: usize,
    /// Which page this is, the first is 0.
    pub page: usize,
    /// The names of all groups, in order.
    pub groups: Vec<String>,
    /// Every race that lies in these weeks or is near enough to shape them, by day.
    pub races: Vec<RaceRecord>,
    /// What each week holds for those who fit, on whatever page.
    pub weeks: Vec<CalendarWeek>,
    /// The athletes of the page, by group and name; those without a group last.
    pub athletes: Vec<CalendarAthlete>,
}

/// What a week holds for a squad.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct CalendarWeek {
    /// Races that somebody runs.
    pub races: usize,
    /// Athletes who run a goal race.
    pub in_race_week: usize,
}

/// One athlete.
#[derive(Clone, Debug, PartialEq)]
pub struct CalendarAthlete {
    /// The athlete.
    pub id: AthleteId,
    /// The name.
    pub name: String,
    /// The group; empty for none.
    pub group: String,
    /// The races, by day.
    pub races: Vec<CalendarRace>,
    /// Travel in these weeks, by day.
    pub travel: Vec<LifeEvent>,
}

/// One race of an athlete.
#[derive(Clone, Debug, PartialEq)]
pub struct CalendarRace {
    /// What it is to the athlete, and how it ended.
    pub entry: Entry,
    /// The race, its importance the athlete's.
    pub race: RaceRecord,
    /// The days of the block before it; nothing where the race is not run.
    pub block: Option<Block>,
    /// Of a race that is not run, the day on which that was known and the block until then: from that day on the running
    /// comes back.
    pub off: Option<(NaiveDate, Block)>,
}

impl CalendarRace {
    /// The day on which it was known that the race is called off, or was not started.
    fn off_since(&self) -> Option<NaiveDate> {
        let not_run = || (!self.entry.is_run(&self.race)).then_some(self.race.race.date);
        self.race.called_off.or_else(not_run)
    }
}

impl Store {
    /// One page of the squad's calendar.
    pub async fn squad_calendar(&self, asked: &CalendarAsked) -> Result<SquadCalendar> {
        let mut tx = self.reading().await?;
        let groups = groups(&mut tx, asked).await?;
        let fits = |group: &&Group| asked.group.is_empty() || group.name == asked.group;
        let found: usize = groups.iter().filter(fits).map(|group| group.found).sum();
        let page = asked.page.min(found.div_ceil(asked.rows).saturating_sub(1));
        let mut athletes = page_of(&mut tx, asked, &groups, page * asked.rows).await?;
        let races = races(&mut tx, asked).await?;
        let weeks = weeks(&mut tx, asked).await?;
        let mut of = races_of(&mut tx, asked, &athletes, &races).await?;
        let mut travel = travel_of(&mut tx, asked, &athletes).await?;
        for athlete in &mut athletes {
            athlete.races = of.remove(&athlete.id).unwrap_or_default();
            athlete.travel = travel.remove(&athlete.id).unwrap_or_default();
        }
        Ok(SquadCalendar {
            squad: groups.iter().map(|group| group.athletes).sum(),
            found,
            page,
            groups: groups.into_iter().map(|group| group.name).filter(|name| !name.is_empty()).collect(),
            races,
            weeks,
            athletes,
        })
    }
}

/// The travel of some athletes that reaches into the weeks.
async fn travel_of(
    db: &mut SqliteConnection,
    asked: &CalendarAsked,
    athletes: &[CalendarAthlete],
) -> Result<HashMap<AthleteId, Vec<LifeEvent>>> {
    let ids: Vec<AthleteId> = athletes.iter().map(|athlete| athlete.id).collect();
    let is_here =
        |event: &LifeEvent| event.kind == EventKind::Travel && event.from <= asked.to() && event.to >= asked.from;
    let of = |records: Vec<EventRecord>| records.into_iter().map(|record| record.event).filter(is_here).collect();
    Ok(events_of_each(db, &ids).await?.into_iter().map(|(id, records)| (id, of(records))).collect())
}

/// How many athletes a group has.
struct Group {
    name: String,
    athletes: usize,
    /// How many of them run the race that is asked for; all where none is.
    found: usize,
}

async fn groups(db: &mut SqliteConnection, asked: &CalendarAsked) -> Result<Vec<Group>> {
    let race = asked.race.map(|race| race.0);
    let rows = sqlx::query!(
        r#"SELECT athlete.training_group, count(*) AS "athletes!: i64",
                sum(?1 IS NULL OR EXISTS (
                    SELECT 1 FROM entry
                    WHERE entry.race = ?1 AND entry.athlete = athlete.id AND entry.withdrawn_at IS NULL))
                    AS "found!: i64"
         FROM athlete WHERE athlete.removed_at IS NULL
         GROUP BY athlete.training_group ORDER BY athlete.training_group"#,
        race
    )
    .fetch_all(db)
    .await?;
    let count = |value| Place::new("athlete", 0).number("training_group", value);
    rows.into_iter()
        .map(|row| Ok(Group { name: row.training_group, athletes: count(row.athletes)?, found: count(row.found)? }))
        .collect()
}

/// So many athletes after so many: first those with a group, then those without.
async fn page_of(
    db: &mut SqliteConnection,
    asked: &CalendarAsked,
    groups: &[Group],
    before: usize,
) -> Result<Vec<CalendarAthlete>> {
    let fits = |group: &&Group| !group.name.is_empty() && (asked.group.is_empty() || group.name == asked.group);
    let grouped: usize = groups.iter().filter(fits).map(|group| group.found).sum();
    let mut found = Vec::new();
    if before < grouped {
        found = athletes(db, asked, false, before, asked.rows).await?;
    }
    if found.len() < asked.rows && asked.group.is_empty() {
        let rest = athletes(db, asked, true, before.saturating_sub(grouped), asked.rows - found.len()).await?;
        found.extend(rest);
    }
    Ok(found)
}

async fn athletes(
    db: &mut SqliteConnection,
    asked: &CalendarAsked,
    without_group: bool,
    before: usize,
    rows: usize,
) -> Result<Vec<CalendarAthlete>> {
    let race = asked.race.map(|race| race.0);
    // More than SQLite can count to is all of them.
    let (rows, before) = (i64::try_from(rows).unwrap_or(-1), i64::try_from(before).unwrap_or(i64::MAX));
    let rows = sqlx::query!(
        "SELECT athlete.id, athlete.name, athlete.training_group
         FROM athlete
         WHERE athlete.removed_at IS NULL AND (?1 = '' OR athlete.training_group = ?1)
           AND (?2 IS NULL OR EXISTS (
               SELECT 1 FROM entry
               WHERE entry.race = ?2 AND entry.athlete = athlete.id AND entry.withdrawn_at IS NULL))
           AND (athlete.training_group = '') = ?3
         ORDER BY athlete.training_group, athlete.name_key, athlete.id
         LIMIT ?4 OFFSET ?5",
        asked.group,
        race,
        without_group,
        rows,
        before
    )
    .fetch_all(db)
    .await?;
    Ok(rows
        .into_iter()
        .map(|row| CalendarAthlete {
            id: AthleteId(row.id),
            name: row.name,
            group: row.training_group,
            races: Vec::new(),
            travel: Vec::new(),
        })
        .collect())
}

async fn races(db: &mut SqliteConnection, asked: &CalendarAsked) -> Result<Vec<RaceRecord>> {
    let (from, to) = near(asked);
    let rows = select_races!("WHERE removed_at IS NULL AND day BETWEEN ? AND ? ORDER BY day, id", from, to)
        .fetch_all(db)
        .await?;
    rows.into_iter().map(crate::races::RaceRow::read).collect()
}

/// The days whose races may shape what is looked at: one that was run may still hold the running down; one ahead may
/// have its block begin here, as early as the longest block.
fn near(asked: &CalendarAsked) -> (String, String) {
    let back = Days::new(SHAPES_DAYS.unsigned_abs());
    let ahead = Days::new(u64::from(*LENGTHS.end()));
    (day_text(asked.from - back), day_text(asked.to() + ahead))
}

async fn weeks(db: &mut SqliteConnection, asked: &CalendarAsked) -> Result<Vec<CalendarWeek>> {
    let (from, to, race) = (day_text(asked.from), day_text(asked.to()), asked.race.map(|race| race.0));
    let rows = sqlx::query!(
        r#"SELECT CAST((julianday(race.day) - julianday(?1)) / 7 AS INTEGER) AS "week!: i64",
                count(DISTINCT race.id) AS "races!: i64",
                count(DISTINCT CASE WHEN entry.importance = 'goal' THEN entry.athlete END) AS "in_race_week!: i64"
         FROM race
         JOIN entry ON entry.race = race.id AND entry.withdrawn_at IS NULL
         JOIN athlete ON athlete.id = entry.athlete AND athlete.removed_at IS NULL
         LEFT JOIN result ON result.race = entry.race AND result.athlete = entry.athlete
         WHERE race.removed_at IS NULL AND race.called_off IS NULL AND race.day BETWEEN ?1 AND ?2
           AND result.outcome IS NOT 'did-not-start'
           AND (?3 = '' OR athlete.training_group = ?3)
           AND (?4 IS NULL OR EXISTS (
               SELECT 1 FROM entry AS this
               WHERE this.race = ?4 AND this.athlete = athlete.id AND this.withdrawn_at IS NULL))
         GROUP BY 1 ORDER BY 1"#,
        from,
        to,
        asked.group,
        race
    )
    .fetch_all(db)
    .await?;
    let mut weeks = vec![CalendarWeek::default(); usize::try_from(asked.weeks).unwrap_or(0)];
    for row in rows {
        let count = |value| Place::new("race", row.week).number("day", value);
        let week: usize = count(row.week)?;
        if let Some(found) = weeks.get_mut(week) {
            *found = CalendarWeek { races: count(row.races)?, in_race_week: count(row.in_race_week)? };
        }
    }
    Ok(weeks)
}

/// The races of the athletes of a page, with the blocks before those that are run.
async fn races_of(
    db: &mut SqliteConnection,
    asked: &CalendarAsked,
    athletes: &[CalendarAthlete],
    races: &[RaceRecord],
) -> Result<HashMap<AthleteId, Vec<CalendarRace>>> {
    let ids = id_list(athletes.iter().map(|athlete| athlete.id.0));
    let (from, to) = near(asked);
    let entries = select_entries!(
        "entry.athlete IN (SELECT value FROM json_each(?)) AND race.day BETWEEN ? AND ?
         ORDER BY race.day, race.id, entry.athlete",
        ids,
        from,
        to
    )
    .fetch_all(&mut *db)
    .await?;
    let by_id: HashMap<RaceId, &RaceRecord> = races.iter().map(|race| (race.id, race)).collect();
    let mut found = Vec::with_capacity(entries.len());
    for entry in entries {
        let entry = entry.read()?;
        if let Some(race) = by_id.get(&entry.race) {
            let mut race = (*race).clone();
            race.race.importance = entry.importance;
            found.push(CalendarRace { entry, race, block: None, off: None });
        }
    }
    let has_block = |one: &&CalendarRace| one.entry.importance == Importance::Goal && one.entry.is_run(&one.race);
    let in_sight = |one: &&CalendarRace| one.race.race.date >= asked.from;
    // The way back from a race that is not run may reach into the first week.
    let comes_back = |one: &&CalendarRace| {
        let back = asked.from - Days::new(u64::from(LONGEST_WAY_BACK));
        one.off_since().is_some_and(|since| (back..=asked.to()).contains(&since))
    };
    let led = found.iter().filter(|one| has_block(one) && in_sight(one));
    let shown = led.chain(found.iter().filter(comes_back)).filter_map(|one| one.entry.block);
    let mut blocks = blocks(db, &id_list(shown.map(|block| block.0))).await?;
    let mut of: HashMap<AthleteId, Vec<CalendarRace>> = HashMap::new();
    for mut one in found {
        let block = one.entry.block.and_then(|block| blocks.remove(&block));
        match one.off_since() {
            Some(since) => one.off = block.map(|block| (since, block)),
            None => one.block = block,
        }
        of.entry(one.entry.athlete).or_default().push(one);
    }
    Ok(of)
}

async fn blocks(db: &mut SqliteConnection, ids: &str) -> Result<HashMap<BlockId, Block>> {
    let rows = sqlx::query!(
        "SELECT block.id, block_revision.id AS revision, block_revision.document
         FROM block
         JOIN block_revision ON block_revision.block = block.id AND block_revision.number = block.revision
         WHERE block.id IN (SELECT value FROM json_each(?)) AND block.removed_at IS NULL
         ORDER BY block.id",
        ids
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| Ok((BlockId(row.id), read_document(row.revision, &row.document)?)));
    read.collect()
}

#[cfg(test)]
mod tests {
    use planning::{Outcome, Settings};

    use super::*;
    use crate::testing::{Squad, add, add_race, at, day, draft, once, squad};
    use crate::{AthleteDraft, RaceResult, ReallyRan, Version};

    fn asked() -> CalendarAsked {
        CalendarAsked { group: String::new(), race: None, from: day("2027-04-19"), weeks: 4, page: 0, rows: 40 }
    }

    async fn add_in(store: &Store, name: &str, group: &str) -> AthleteId {
        let draft = AthleteDraft { group: group.to_owned(), ..draft(name) };
        store.add_athlete(&draft, once(), at(0)).await.unwrap()
    }

    #[tokio::test]
    async fn a_page_has_the_races_and_blocks_of_its_athletes_and_counts_everybody() {
        let Squad { store, athlete, race, week, block } = squad().await;
        store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let track = add_in(&store, "Bo", "Track").await;
        add_in(&store, "Cy", "Hills").await;
        let gone = add(&store, "Dee").await;
        for entered in [track, gone] {
            store.enter(race, entered, Importance::TuneUp, at(6)).await.unwrap();
        }
        store.remove_athlete(gone, at(7)).await.unwrap();

        let all = store.squad_calendar(&asked()).await.unwrap();
        let names: Vec<_> = all.athletes.iter().map(|athlete| athlete.name.as_str()).collect();
        assert_eq!(names, ["Cy", "Bo", "Ana"], "by group, those without one last");
        assert_eq!((all.squad, all.found, all.page), (3, 3, 0));
        assert_eq!(all.groups, ["Hills", "Track"]);
        let ana = &all.athletes[2].races;
        assert_eq!((ana.len(), ana[0].block.as_ref()), (1, Some(&block)));
        assert_eq!(all.athletes[1].races[0].race.race.importance, Importance::TuneUp);
        let counts: Vec<_> = all.weeks.iter().map(|week| (week.races, week.in_race_week)).collect();
        assert_eq!(counts, [(0, 0), (0, 0), (1, 1), (0, 0)], "9 May is the Sunday of the third week");

        let group = store.squad_calendar(&CalendarAsked { group: "Track".to_owned(), ..asked() }).await.unwrap();
        assert_eq!((group.squad, group.found, group.athletes.len()), (3, 1, 1));
        assert_eq!((group.weeks[2].races, group.weeks[2].in_race_week), (1, 0));
        let of_race = store.squad_calendar(&CalendarAsked { race: Some(race), ..asked() }).await.unwrap();
        assert_eq!((of_race.found, of_race.weeks[2].in_race_week), (2, 1));
    }

    #[tokio::test]
    async fn a_page_holds_so_many_athletes_and_one_that_is_not_there_is_the_last() {
        let store = crate::testing::open().await;
        for number in 0..5 {
            add_in(&store, &format!("Runner {number}"), if number < 3 { "Track" } else { "" }).await;
        }
        let page = async |page| store.squad_calendar(&CalendarAsked { page, rows: 2, ..asked() }).await.unwrap();
        let names = |calendar: &SquadCalendar| -> Vec<String> {
            calendar.athletes.iter().map(|athlete| athlete.name.clone()).collect()
        };
        assert_eq!(names(&page(1).await), ["Runner 2", "Runner 3"]);
        let last = page(99).await;
        assert_eq!((names(&last), last.page, last.found), (vec!["Runner 4".to_owned()], 2, 5));
    }

    #[tokio::test]
    async fn what_is_not_run_counts_for_no_week_and_has_no_block() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let look = async || {
            let calendar = store.squad_calendar(&asked()).await.unwrap();
            let races = calendar.athletes[0].races.len();
            let has_block = calendar.athletes[0].races.first().is_some_and(|race| race.block.is_some());
            (races, has_block, calendar.weeks[2].in_race_week)
        };
        let off = async || {
            let calendar = store.squad_calendar(&asked()).await.unwrap();
            calendar.athletes[0].races[0].off.as_ref().map(|(since, _)| *since)
        };
        assert_eq!((look().await, off().await), ((1, true, 1), None));
        for (since, comes_back) in [("2027-04-08", false), ("2027-04-09", true), ("2027-05-05", true)] {
            store.call_off_race(race, Some(day(since)), at(6)).await.unwrap();
            assert_eq!(look().await, (1, false, 0), "called off, and still there");
            assert_eq!(off().await, comes_back.then(|| day(since)));
        }
        store.call_off_race(race, None, at(7)).await.unwrap();
        let none = RaceResult { outcome: Outcome::DidNotStart, ..RaceResult::default() };
        store.save_result((race, athlete), Version(0), &none, ReallyRan::default(), at(8)).await.unwrap();
        assert_eq!((look().await, off().await), ((1, false, 0), Some(day("2027-05-09"))), "not started");
        let version = store.result(race, athlete).await.unwrap().unwrap().version;
        let finished = RaceResult::default();
        store.save_result((race, athlete), version, &finished, ReallyRan::default(), at(9)).await.unwrap();
        store.remove_block(id, at(10)).await.unwrap();
        assert_eq!(look().await, (1, false, 1), "a removed block is not shown");
        store.withdraw(race, athlete, at(11)).await.unwrap();
        assert_eq!(look().await, (0, false, 0));
    }

    #[tokio::test]
    async fn races_near_enough_to_shape_the_weeks_are_read_and_no_others() {
        let Squad { store, athlete, race, .. } = squad().await;
        store.withdraw(race, athlete, at(2)).await.unwrap();
        for (date, is_near) in
            [("2027-03-07", false), ("2027-03-08", true), ("2027-06-20", true), ("2027-06-21", false)]
        {
            let race = add_race(&store, date).await;
            store.enter(race, athlete, Importance::Goal, at(3)).await.unwrap();
            let calendar = store.squad_calendar(&asked()).await.unwrap();
            let found = calendar.athletes[0].races.iter().any(|one| one.entry.race == race);
            assert_eq!(found, is_near, "{date}");
            store.withdraw(race, athlete, at(4)).await.unwrap();
        }
    }
}

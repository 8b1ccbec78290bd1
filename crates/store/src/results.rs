//! What came out of races.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, Utc};
use planning::{DistanceUnit, Milli, OutOfTen, Outcome, PastResult, RaceDistance, RaceTime};
use sqlx::SqliteConnection;

use crate::blocks::read_document;
use crate::cell::{self, Place};
use crate::entries::set_ran;
use crate::{AthleteId, BlockId, Entry, PastBlock, RaceId, RaceRecord, Result, Store, StoreError, Version};

/// What came out of a race for one athlete.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct RaceResult {
    /// How it ended.
    pub outcome: Outcome,
    /// How long it took, as far as it was run.
    pub time: Option<RaceTime>,
    /// The place as it is called: "12th", "3rd of her age".
    pub place: String,
    /// How rested at the start.
    pub rested: Option<OutOfTen>,
    /// How it felt.
    pub feeling: Option<OutOfTen>,
    /// Weather, course, company.
    pub conditions: String,
    /// Splits as typed.
    pub splits: String,
    /// How it was, in the athlete's own words.
    pub words: String,
    /// What to change next time.
    pub next_time: String,
}

/// A kept result.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ResultRecord {
    /// Its version.
    pub version: Version,
    /// What came out.
    pub result: RaceResult,
}

/// How far a race was really run, where it was less: what a form was read with, and what it says now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct ReallyRan {
    /// What was noted when the form was read.
    pub read_at: Option<RaceDistance>,
    /// What is to be noted; nothing is all of it.
    pub ran: Option<(Milli, DistanceUnit)>,
}

/// Every query for results reads the same columns into [`ResultRow`].
macro_rules! select_results {
    ($rest:literal $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            ResultRow,
            "SELECT race, athlete, version, outcome, time_seconds, place, rested, feeling, conditions, splits,
                    words, next_time
             FROM result " + $rest
            $(, $argument)*
        )
    };
}

impl Store {
    /// What came out of a race for an athlete, if it was noted.
    pub async fn result(&self, race: RaceId, athlete: AthleteId) -> Result<Option<ResultRecord>> {
        let mut db = self.read_connection().await?;
        let row = select_results!("WHERE race = ? AND athlete = ?", race.0, athlete.0).fetch_optional(&mut *db).await?;
        Ok(row.map(ResultRow::read).transpose()?.map(|(_, record)| record))
    }

    /// Every result of an athlete, by race.
    pub async fn results_of(&self, athlete: AthleteId) -> Result<Vec<(RaceId, ResultRecord)>> {
        let mut db = self.read_connection().await?;
        let rows = select_results!("WHERE athlete = ? ORDER BY race", athlete.0).fetch_all(&mut *db).await?;
        rows.into_iter().map(ResultRow::read).collect()
    }

    /// What came out of a race, of everybody for whom it was noted.
    pub async fn results_of_race(&self, race: RaceId) -> Result<HashMap<AthleteId, RaceResult>> {
        let mut db = self.read_connection().await?;
        let rows = select_results!("WHERE race = ? ORDER BY athlete", race.0).fetch_all(&mut *db).await?;
        let each = rows.into_iter().map(|row| Ok((AthleteId(row.athlete), row.read()?.1.result)));
        each.collect()
    }

    /// The blocks of an athlete whose races lie before a day, the latest first.
    pub async fn past_blocks(&self, athlete: AthleteId, before: NaiveDate) -> Result<Vec<PastBlock>> {
        let before = cell::day_text(before);
        let mut db = self.read_connection().await?;
        let rows = sqlx::query!(
            r#"SELECT block.id AS "id!", block.race, block_revision.id AS "revision!", block_revision.document,
                    coalesce(goal_notes.goal_a, '') AS "a!: String", coalesce(goal_notes.goal_b, '') AS "b!: String",
                    coalesce(goal_notes.goal_c, '') AS "c!: String"
             FROM block
             JOIN race ON race.id = block.race AND race.removed_at IS NULL
             JOIN entry ON entry.race = block.race AND entry.athlete = block.athlete AND entry.withdrawn_at IS NULL
             JOIN block_revision ON block_revision.block = block.id AND block_revision.number = block.revision
             LEFT JOIN goal_notes ON goal_notes.block = block.id
             WHERE block.athlete = ? AND race.day < ? AND block.removed_at IS NULL
             ORDER BY race.day DESC, race.id DESC"#,
            athlete.0,
            before
        )
        .fetch_all(&mut *db)
        .await?;
        rows.into_iter()
            .map(|row| {
                let block = read_document(row.revision, &row.document)?;
                Ok(PastBlock { id: BlockId(row.id), race: RaceId(row.race), block, goals: [row.a, row.b, row.c] })
            })
            .collect()
    }

    /// Saves a result read at a version (`Version(0)` for the first), and with it how far the race was really
    /// run: both or neither.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`] where either was changed meanwhile, [`StoreError::Gone`] where the athlete is
    /// not entered, [`StoreError::Refused`] where nobody races so far.
    pub async fn save_result(
        &self,
        (race, athlete): (RaceId, AthleteId),
        read_at: Version,
        result: &RaceResult,
        really_ran: ReallyRan,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let mut tx = self.writing().await?;
        set_ran(&mut tx, race, athlete, really_ran).await?;
        let kept = sqlx::query_scalar!("SELECT version FROM result WHERE race = ? AND athlete = ?", race.0, athlete.0)
            .fetch_optional(&mut *tx)
            .await?;
        if Version(kept.unwrap_or(0)) != read_at {
            return Err(StoreError::Conflict);
        }
        write(&mut tx, (race, athlete), Version(read_at.0 + 1), result, now).await?;
        tx.commit().await?;
        Ok(())
    }
}

async fn write(
    db: &mut SqliteConnection,
    (race, athlete): (RaceId, AthleteId),
    version: Version,
    result: &RaceResult,
    now: DateTime<Utc>,
) -> Result<()> {
    let (outcome, at) = (result.outcome.code(), cell::instant_text(now));
    let seconds = result.time.map(|time| i64::from(time.as_seconds()));
    let (rested, feeling) = (result.rested.map(OutOfTen::get), result.feeling.map(OutOfTen::get));
    sqlx::query!(
        "INSERT INTO result (race, athlete, version, outcome, time_seconds, place, rested, feeling, conditions,
                             splits, words, next_time, saved_at)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (race, athlete) DO UPDATE
         SET version = excluded.version, outcome = excluded.outcome, time_seconds = excluded.time_seconds,
             place = excluded.place, rested = excluded.rested, feeling = excluded.feeling,
             conditions = excluded.conditions, splits = excluded.splits, words = excluded.words,
             next_time = excluded.next_time, saved_at = excluded.saved_at",
        race.0,
        athlete.0,
        version.0,
        outcome,
        seconds,
        result.place,
        rested,
        feeling,
        result.conditions,
        result.splits,
        result.words,
        result.next_time,
        at
    )
    .execute(db)
    .await?;
    Ok(())
}

/// Every result, whatever is hidden: for the check of the whole file.
pub(crate) async fn every_result(db: &mut SqliteConnection) -> Result<Vec<Result<(RaceId, ResultRecord)>>> {
    let rows = select_results!("ORDER BY race, athlete").fetch_all(db).await?;
    Ok(rows.into_iter().map(ResultRow::read).collect())
}

/// What an athlete ran of late: recent results as typed, and the races whose result was noted, each once.
/// A race that was cut short says nothing of another.
pub fn past_results(
    typed: Vec<PastResult>,
    entries: &[(Entry, RaceRecord)],
    results: &[(RaceId, ResultRecord)],
) -> Vec<PastResult> {
    let noted = entries.iter().filter_map(|(entry, race)| {
        let (_, kept) = results.iter().find(|(id, _)| *id == race.id)?;
        let result = &kept.result;
        let time = result.time.filter(|_| result.outcome == Outcome::Finished && entry.ran.is_none())?;
        let (date, distance) = (race.race.date, race.race.distance);
        Some(PastResult { date, distance, time, note: result.conditions.clone() })
    });
    let mut found: Vec<PastResult> = noted.collect();
    for result in typed {
        let is_known = |known: &PastResult| known.date == result.date && known.distance == result.distance;
        if !found.iter().any(is_known) {
            found.push(result);
        }
    }
    found
}

struct ResultRow {
    race: i64,
    athlete: i64,
    version: i64,
    outcome: String,
    time_seconds: Option<i64>,
    place: String,
    rested: Option<i64>,
    feeling: Option<i64>,
    conditions: String,
    splits: String,
    words: String,
    next_time: String,
}

impl ResultRow {
    fn read(self) -> Result<(RaceId, ResultRecord)> {
        let place = Place::new("result", self.athlete);
        let scale = |column: &'static str, value: Option<i64>| {
            let read = |value: i64| {
                OutOfTen::new(place.number(column, value)?).ok_or_else(|| place.corrupt(column, "out of range"))
            };
            value.map(read).transpose()
        };
        let seconds = self.time_seconds.map(|seconds| place.number("time_seconds", seconds)).transpose()?;
        let result = RaceResult {
            outcome: place.word("outcome", &self.outcome, Outcome::from_code)?,
            time: seconds.map(RaceTime::seconds),
            rested: scale("rested", self.rested)?,
            feeling: scale("feeling", self.feeling)?,
            place: self.place,
            conditions: self.conditions,
            splits: self.splits,
            words: self.words,
            next_time: self.next_time,
        };
        Ok((RaceId(self.race), ResultRecord { version: Version(self.version), result }))
    }
}

#[cfg(test)]
mod tests {
    use planning::notation::read_result;
    use planning::{Importance, Settings};

    use super::*;
    use crate::GoalNotes;
    use crate::testing::{Squad, add, at, day, squad};

    fn told() -> RaceResult {
        RaceResult {
            outcome: Outcome::DidNotFinish,
            time: Some(RaceTime::seconds(3_725)),
            place: "12th".to_owned(),
            rested: OutOfTen::new(7),
            feeling: OutOfTen::new(0),
            conditions: "hot\nand windy".to_owned(),
            splits: "5 km 24:10\n10 km 49:02".to_owned(),
            words: "The calf again.".to_owned(),
            next_time: "Start slower.".to_owned(),
        }
    }

    fn finished(seconds: u32) -> RaceResult {
        RaceResult { time: Some(RaceTime::seconds(seconds)), ..RaceResult::default() }
    }

    #[tokio::test]
    async fn a_result_comes_back_as_it_was_told_with_what_was_really_run() {
        let Squad { store, athlete, race, .. } = squad().await;
        let both = (race, athlete);
        assert_eq!(store.result(race, athlete).await.unwrap(), None);
        let fifteen = (Milli::whole(15), DistanceUnit::Km);
        let ran = ReallyRan { read_at: None, ran: Some(fifteen) };
        store.save_result(both, Version(0), &told(), ran, at(5)).await.unwrap();
        let kept = ResultRecord { version: Version(1), result: told() };
        assert_eq!(store.result(race, athlete).await.unwrap(), Some(kept.clone()));
        assert_eq!(store.results_of(athlete).await.unwrap(), [(race, kept)]);
        assert_eq!(store.results_of_race(race).await.unwrap(), HashMap::from([(athlete, told())]));
        let entry = store.entrants(race).await.unwrap().remove(0);
        assert_eq!(
            (entry.outcome, entry.ran),
            (Some(Outcome::DidNotFinish), Some(RaceDistance::Own(fifteen.0, fifteen.1)))
        );

        let back = ReallyRan { read_at: entry.ran, ran: None };
        store.save_result(both, Version(1), &finished(5_400), back, at(6)).await.unwrap();
        let kept = store.result(race, athlete).await.unwrap().unwrap();
        assert_eq!((kept.version, kept.result), (Version(2), finished(5_400)));
        assert_eq!(store.entrants(race).await.unwrap()[0].ran, None);
    }

    #[tokio::test]
    async fn a_stale_save_of_either_half_writes_neither() {
        let Squad { store, athlete, race, .. } = squad().await;
        let both = (race, athlete);
        store.save_result(both, Version(0), &finished(5_400), ReallyRan::default(), at(5)).await.unwrap();
        let ten = (Milli::whole(10), DistanceUnit::Km);
        let ran = ReallyRan { read_at: None, ran: Some(ten) };
        let stale = store.save_result(both, Version(0), &told(), ran, at(6)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        assert_eq!(store.entrants(race).await.unwrap()[0].ran, None, "the distance is not written alone");
        store.ran_of_race(race, athlete, None, Some(ten)).await.unwrap();
        let stale = store.save_result(both, Version(1), &told(), ReallyRan::default(), at(7)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        assert_eq!(store.result(race, athlete).await.unwrap().unwrap().result, finished(5_400));
    }

    #[tokio::test]
    async fn nobody_has_a_result_who_is_not_entered() {
        let Squad { store, athlete, race, .. } = squad().await;
        let bo = add(&store, "Bo").await;
        let save = async |athlete| {
            store.save_result((race, athlete), Version(0), &finished(5_400), ReallyRan::default(), at(5)).await
        };
        assert!(matches!(save(bo).await, Err(StoreError::Gone)));
        store.withdraw(race, athlete, at(4)).await.unwrap();
        assert!(matches!(save(athlete).await, Err(StoreError::Gone)));
    }

    #[tokio::test]
    async fn past_results_are_what_was_typed_and_what_was_noted_each_once() {
        let Squad { store, athlete, race, .. } = squad().await;
        let typed =
            || ["2027-05-09 half 1:29:59", "2027-03-14 10k 42:10"].map(|line| read_result(line).unwrap()).to_vec();
        let of = async || {
            let entries = store.entries_of(athlete).await.unwrap();
            let found = past_results(typed(), &entries, &store.results_of(athlete).await.unwrap());
            found.iter().map(|result| format!("{} {}", result.date, result.time)).collect::<Vec<_>>()
        };
        assert_eq!(of().await, ["2027-05-09 1:29:59", "2027-03-14 42:10"]);
        let both = (race, athlete);
        store.save_result(both, Version(0), &finished(5_400), ReallyRan::default(), at(5)).await.unwrap();
        assert_eq!(of().await, ["2027-05-09 1:30:00", "2027-03-14 42:10"], "the noted one stands for the typed one");
        let stopped = RaceResult { outcome: Outcome::DidNotFinish, ..finished(5_400) };
        store.save_result(both, Version(1), &stopped, ReallyRan::default(), at(6)).await.unwrap();
        assert_eq!(of().await, ["2027-05-09 1:29:59", "2027-03-14 42:10"]);
    }

    #[tokio::test]
    async fn past_blocks_come_with_their_days_and_goals_once_the_race_is_over() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let goals = GoalNotes { b: "1:30".to_owned(), ..GoalNotes::default() };
        store.save_goals(id, Version(1), &goals, at(6)).await.unwrap();
        assert_eq!(store.past_blocks(athlete, day("2027-05-09")).await.unwrap(), []);
        let expected = PastBlock { id, race, block, goals: [String::new(), "1:30".to_owned(), String::new()] };
        assert_eq!(store.past_blocks(athlete, day("2027-05-10")).await.unwrap(), [expected]);
        store.withdraw(race, athlete, at(7)).await.unwrap();
        assert_eq!(store.past_blocks(athlete, day("2027-05-10")).await.unwrap(), []);
    }

    #[tokio::test]
    async fn who_did_not_start_is_still_entered_and_did_not_run() {
        let Squad { store, athlete, race, .. } = squad().await;
        store.enter(race, athlete, Importance::Goal, at(4)).await.unwrap();
        let none = RaceResult { outcome: Outcome::DidNotStart, ..RaceResult::default() };
        let (entry, record) = store.entries_of(athlete).await.unwrap().remove(0);
        assert!(entry.is_run(&record));
        store.save_result((race, athlete), Version(0), &none, ReallyRan::default(), at(5)).await.unwrap();
        let (entry, record) = store.entries_of(athlete).await.unwrap().remove(0);
        assert!(!entry.is_run(&record));
    }

    #[tokio::test]
    async fn a_row_that_cannot_be_read_names_its_place() {
        let Squad { store, athlete, race, .. } = squad().await;
        store.save_result((race, athlete), Version(0), &told(), ReallyRan::default(), at(5)).await.unwrap();
        sqlx::raw_sql("UPDATE result SET rested = 11").execute(&mut store.stray().await).await.unwrap();
        let error = store.result(race, athlete).await.unwrap_err();
        assert!(matches!(error, StoreError::Corrupt { table: "result", column: "rested", .. }), "{error}");
        assert!(store.check().await.unwrap().iter().any(|line| line.contains("result.rested")));
    }
}

//! Who runs which race, and what it means to them.

use std::collections::HashMap;

use chrono::{DateTime, TimeDelta, Utc};
use planning::{DistanceUnit, Field, Importance, Milli, Outcome, Problem, RaceDistance};
use sqlx::SqliteConnection;

use crate::athletes::athlete;
use crate::cell::{self, Place, commit_changed};
use crate::races::{race, races_of};
use crate::{AthleteId, BlockId, Entry, RaceId, RaceRecord, ReallyRan, Result, Store, StoreError};

/// Every query for entries reads the same columns into [`EntryRow`], of what is not hidden.
macro_rules! select_entries {
    ($rest:literal $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            crate::entries::EntryRow,
            r#"SELECT entry.athlete, athlete.name, entry.race, entry.importance, block.id AS "block?",
                    entry.ran_distance, entry.ran_unit, result.outcome AS "outcome?",
                    race.called_off IS NOT NULL AND entry.settled_at IS NOT NULL AS "is_settled!: bool"
             FROM entry
             JOIN athlete ON athlete.id = entry.athlete AND athlete.removed_at IS NULL
             JOIN race ON race.id = entry.race AND race.removed_at IS NULL
             LEFT JOIN block ON block.athlete = entry.athlete AND block.race = entry.race AND block.removed_at IS NULL
             LEFT JOIN result ON result.race = entry.race AND result.athlete = entry.athlete
             WHERE entry.withdrawn_at IS NULL AND "# + $rest
            $(, $argument)*
        )
    };
}
pub(crate) use select_entries;

impl Store {
    /// Who is entered in a race, by name.
    pub async fn entrants(&self, id: RaceId) -> Result<Vec<Entry>> {
        let mut db = self.read_connection().await?;
        let rows =
            select_entries!("entry.race = ? ORDER BY athlete.name_key, athlete.id", id.0).fetch_all(&mut *db).await?;
        rows.into_iter().map(EntryRow::read).collect()
    }

    /// The races that an athlete is entered in, by date; the importance of each race is the entry's.
    pub async fn entries_of(&self, id: AthleteId) -> Result<Vec<(Entry, RaceRecord)>> {
        let mut tx = self.reading().await?;
        Ok(entries_of_each(&mut tx, &[id]).await?.remove(&id).unwrap_or_default())
    }

    /// Enters an athlete in a race, or changes what the race means to the athlete.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where the athlete or the race is.
    pub async fn enter(
        &self,
        race: RaceId,
        athlete: AthleteId,
        importance: Importance,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let mut tx = self.writing().await?;
        both_there(&mut tx, race, athlete).await?;
        enter(&mut tx, race, athlete, importance, now).await?;
        tx.commit().await?;
        Ok(())
    }

    /// Notes what of a race an athlete really ran, where it was less; with nothing, all of it.
    /// `read_at` is what was noted when the form was read: it stands for a version.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] where nobody races so far, [`StoreError::Conflict`], [`StoreError::Gone`].
    pub async fn ran_of_race(
        &self,
        race: RaceId,
        athlete: AthleteId,
        read_at: Option<RaceDistance>,
        ran: Option<(Milli, DistanceUnit)>,
    ) -> Result<()> {
        let mut tx = self.writing().await?;
        set_ran(&mut tx, race, athlete, ReallyRan { read_at, ran }).await?;
        tx.commit().await?;
        Ok(())
    }

    /// Takes an athlete out of a race (its block is hidden, undoable by entering again). Twice is once.
    ///
    /// Who holds the block is to be told, until [`Store::settle`] says that this is settled; being taken off a race that
    /// is called off settles it.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where the athlete was never entered.
    pub async fn withdraw(&self, race: RaceId, athlete: AthleteId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let at = cell::instant_text(now);
        let done = sqlx::query!(
            "UPDATE entry SET withdrawn_at = coalesce(withdrawn_at, ?1),
                    settled_at = CASE WHEN withdrawn_at IS NULL AND (SELECT called_off FROM race WHERE id = ?2) IS NOT NULL
                                      THEN coalesce(settled_at, ?1) ELSE settled_at END
             WHERE race = ?2 AND athlete = ?3",
            at,
            race.0,
            athlete.0
        )
        .execute(&mut *tx)
        .await?;
        commit_changed(tx, &done).await
    }

    /// Says of athletes whose race is called off, or of one who was withdrawn, that it is settled how they go on, or that
    /// it is open again. Twice is once. Of an entry in a race that takes place nothing is to be settled, and nothing is
    /// changed.
    ///
    /// Gives the moment by which a press over everybody is known, so that it can be taken back for those whom it
    /// settled and nobody else; nothing where nothing is to be settled.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where the race is.
    pub async fn settle(
        &self,
        id: RaceId,
        whom: Settling,
        is_settled: bool,
        now: DateTime<Utc>,
    ) -> Result<Option<DateTime<Utc>>> {
        let mut tx = self.writing().await?;
        let is_off = race(&mut tx, id).await?.ok_or(StoreError::Gone)?.called_off.is_some();
        let is_out = match whom {
            Settling::One(athlete) => is_withdrawn(&mut tx, id, athlete).await?,
            Settling::Everybody | Settling::Pressed(_) => false,
        };
        if !is_off && !is_out {
            return Ok(None);
        }
        let moment = free_moment(&mut tx, id, now).await?;
        let (athlete, pressed) = match whom {
            Settling::Everybody => (None, None),
            Settling::One(athlete) => (Some(athlete.0), None),
            Settling::Pressed(moment) => (None, Some(cell::instant_text(moment))),
        };
        let at = is_settled.then(|| cell::instant_text(moment));
        sqlx::query!(
            "UPDATE entry SET settled_at = ?1
             WHERE race = ?2 AND (?3 IS NULL OR athlete = ?3) AND (?4 IS NULL OR settled_at = ?4)
               AND (withdrawn_at IS NOT NULL) = ?5 AND (settled_at IS NULL) <> (?1 IS NULL)",
            at,
            id.0,
            athlete,
            pressed,
            is_out
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(Some(moment))
    }
}

/// Of whom it is settled how they go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Settling {
    /// Everybody who is entered.
    Everybody,
    /// One athlete, entered or withdrawn.
    One(AthleteId),
    /// Whom one press settled, by its moment as [`Store::settle`] gave it.
    Pressed(DateTime<Utc>),
}

/// Whether an athlete was entered in a race and is withdrawn.
async fn is_withdrawn(db: &mut SqliteConnection, race: RaceId, athlete: AthleteId) -> Result<bool> {
    let found = sqlx::query_scalar!(
        r#"SELECT EXISTS (SELECT 1 FROM entry
                         WHERE race = ? AND athlete = ? AND withdrawn_at IS NOT NULL) AS "found!: bool""#,
        race.0,
        athlete.0
    );
    Ok(found.fetch_one(db).await?)
}

/// A moment at which nothing of a race was settled yet: now, or just after the last such moment.
async fn free_moment(db: &mut SqliteConnection, race: RaceId, now: DateTime<Utc>) -> Result<DateTime<Utc>> {
    let last = sqlx::query_scalar!(r#"SELECT max(settled_at) AS "last: String" FROM entry WHERE race = ?"#, race.0)
        .fetch_one(db)
        .await?;
    let last = last.map(|text| Place::new("entry", race.0).instant("settled_at", &text)).transpose()?;
    // As it is kept.
    let now = DateTime::from_timestamp_micros(now.timestamp_micros()).unwrap_or(now);
    Ok(last.map_or(now, |last| now.max(last + TimeDelta::microseconds(1))))
}

/// The races that some athletes are entered in, see [`Store::entries_of`].
pub(crate) async fn entries_of_each(
    db: &mut SqliteConnection,
    ids: &[AthleteId],
) -> Result<HashMap<AthleteId, Vec<(Entry, RaceRecord)>>> {
    let ids = cell::id_list(ids.iter().copied());
    let entries = select_entries!(
        "entry.athlete IN (SELECT value FROM json_each(?)) ORDER BY entry.athlete, race.day, race.id",
        ids
    )
    .fetch_all(&mut *db)
    .await?;
    let entries = entries.into_iter().map(EntryRow::read).collect::<Result<Vec<Entry>>>()?;
    let entered: Vec<RaceId> = entries.iter().map(|entry| entry.race).collect();
    let races = races_of(db, &entered).await?;
    cell::grouped(entries.into_iter().filter_map(|entry| {
        let mut race = races.get(&entry.race)?.clone();
        race.race.importance = entry.importance;
        Some(Ok((entry.athlete, (entry, race))))
    }))
}

/// Enters an athlete who is there in a race that is, see [`Store::enter`].
pub(crate) async fn enter(
    db: &mut SqliteConnection,
    race: RaceId,
    athlete: AthleteId,
    importance: Importance,
    now: DateTime<Utc>,
) -> Result<()> {
    let (importance, at) = (importance.code(), cell::instant_text(now));
    sqlx::query!(
        "INSERT INTO entry (race, athlete, importance, entered_at) VALUES (?, ?, ?, ?)
         ON CONFLICT (race, athlete) DO UPDATE SET importance = excluded.importance, withdrawn_at = NULL,
             settled_at = CASE WHEN entry.withdrawn_at IS NULL THEN entry.settled_at END",
        race.0,
        athlete.0,
        importance,
        at
    )
    .execute(db)
    .await?;
    Ok(())
}

/// Notes what of a race an athlete really ran, see [`Store::ran_of_race`].
pub(crate) async fn set_ran(
    db: &mut SqliteConnection,
    race: RaceId,
    athlete: AthleteId,
    ReallyRan { read_at, ran }: ReallyRan,
) -> Result<()> {
    if let Some(kind) = ran.and_then(|(value, unit)| RaceDistance::Own(value, unit).problem_as_run()) {
        return Err(StoreError::Refused(vec![Problem::new(Field::RaceDistance, kind)]));
    }
    let (value, unit) = (ran.map(|(value, _)| value.0), ran.map(|(_, unit)| unit.symbol()));
    let kept = select_entries!("entry.race = ? AND entry.athlete = ?", race.0, athlete.0)
        .fetch_optional(&mut *db)
        .await?
        .ok_or(StoreError::Gone)?
        .read()?
        .ran;
    if kept != read_at && kept != ran.map(|(value, unit)| RaceDistance::Own(value, unit)) {
        return Err(StoreError::Conflict);
    }
    sqlx::query!(
        "UPDATE entry SET ran_distance = ?, ran_unit = ? WHERE race = ? AND athlete = ?",
        value,
        unit,
        race.0,
        athlete.0
    )
    .execute(db)
    .await?;
    Ok(())
}

pub(crate) async fn both_there(db: &mut SqliteConnection, race_id: RaceId, athlete_id: AthleteId) -> Result<()> {
    race(db, race_id).await?.ok_or(StoreError::Gone)?;
    athlete(db, athlete_id).await?.ok_or(StoreError::Gone)?;
    Ok(())
}

/// What every entry means to its athlete, hidden or not: for the check of the whole file.
pub(crate) async fn every_entry(db: &mut SqliteConnection) -> Result<Vec<Result<Importance>>> {
    let rows = sqlx::query!("SELECT athlete, importance FROM entry ORDER BY race, athlete").fetch_all(db).await?;
    Ok(rows.into_iter().map(|row| importance(row.athlete, &row.importance)).collect())
}

/// What the cell says that a race means to an athlete.
pub(crate) fn importance(athlete: i64, text: &str) -> Result<Importance> {
    Place::new("entry", athlete).word("importance", text, Importance::from_code)
}

/// What the cells say of how far a race was really run.
pub(crate) fn ran(athlete: i64, value: Option<i64>, unit: Option<&str>) -> Result<Option<RaceDistance>> {
    let place = Place::new("entry", athlete);
    let (Some(value), Some(unit)) = (value, unit) else {
        return Ok(None);
    };
    Ok(Some(RaceDistance::Own(Milli(place.number("ran_distance", value)?), place.units("ran_unit", unit)?)))
}

pub(crate) struct EntryRow {
    pub(crate) athlete: i64,
    pub(crate) name: String,
    pub(crate) race: i64,
    pub(crate) importance: String,
    pub(crate) block: Option<i64>,
    pub(crate) ran_distance: Option<i64>,
    pub(crate) ran_unit: Option<String>,
    pub(crate) outcome: Option<String>,
    pub(crate) is_settled: bool,
}

impl EntryRow {
    pub(crate) fn read(self) -> Result<Entry> {
        let place = Place::new("entry", self.athlete);
        Ok(Entry {
            athlete: AthleteId(self.athlete),
            name: self.name,
            race: RaceId(self.race),
            importance: importance(self.athlete, &self.importance)?,
            block: self.block.map(BlockId),
            ran: ran(self.athlete, self.ran_distance, self.ran_unit.as_deref())?,
            outcome: self.outcome.map(|code| place.word("outcome", &code, Outcome::from_code)).transpose()?,
            is_settled: self.is_settled,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{add, add_race, at, open};

    #[tokio::test]
    async fn entering_again_changes_the_importance_and_makes_no_second_entry() {
        let store = open().await;
        let (athlete, race) = (add(&store, "Ana").await, add_race(&store, "2027-05-09").await);
        store.enter(race, athlete, Importance::TuneUp, at(1)).await.unwrap();
        store.enter(race, athlete, Importance::Goal, at(2)).await.unwrap();
        let expected = Entry {
            athlete,
            name: "Ana".to_owned(),
            race,
            importance: Importance::Goal,
            block: None,
            ran: None,
            outcome: None,
            is_settled: false,
        };
        assert_eq!(store.entrants(race).await.unwrap(), [expected]);
    }

    #[tokio::test]
    async fn what_was_really_run_of_a_race_is_noted_and_taken_back() {
        let store = open().await;
        let (athlete, race) = (add(&store, "Ana").await, add_race(&store, "2027-05-09").await);
        store.enter(race, athlete, Importance::Goal, at(1)).await.unwrap();
        let fifteen = (Milli::whole(15), DistanceUnit::Km);
        store.ran_of_race(race, athlete, None, Some(fifteen)).await.unwrap();
        assert_eq!(store.entrants(race).await.unwrap()[0].ran, Some(RaceDistance::Own(fifteen.0, fifteen.1)));
        let ten = (Milli::whole(10), DistanceUnit::Km);
        let stale = store.ran_of_race(race, athlete, None, Some(ten)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        store.ran_of_race(race, athlete, None, Some(fifteen)).await.unwrap();
        store.ran_of_race(race, athlete, Some(RaceDistance::Own(fifteen.0, fifteen.1)), None).await.unwrap();
        assert_eq!(store.entrants(race).await.unwrap()[0].ran, None);
        let far = store.ran_of_race(race, athlete, None, Some((Milli::whole(900), DistanceUnit::Km))).await;
        assert!(matches!(far, Err(StoreError::Refused(_))), "{far:?}");
    }

    #[tokio::test]
    async fn who_is_withdrawn_is_out_until_entered_again() {
        let store = open().await;
        let (athlete, race) = (add(&store, "Ana").await, add_race(&store, "2027-05-09").await);
        let never = store.withdraw(race, athlete, at(0)).await;
        assert!(matches!(never, Err(StoreError::Gone)), "{never:?}");
        store.enter(race, athlete, Importance::Goal, at(1)).await.unwrap();
        store.withdraw(race, athlete, at(2)).await.unwrap();
        store.withdraw(race, athlete, at(3)).await.unwrap();
        assert_eq!(store.entrants(race).await.unwrap(), []);
        assert_eq!(store.entries_of(athlete).await.unwrap(), []);
        store.enter(race, athlete, Importance::Goal, at(4)).await.unwrap();
        assert_eq!(store.entrants(race).await.unwrap().len(), 1);
    }

    #[tokio::test]
    async fn what_is_settled_of_a_race_called_off_is_open_again_once_it_takes_place() {
        let store = open().await;
        let race = add_race(&store, "2027-05-09").await;
        let (ana, bo) = (add(&store, "Ana").await, add(&store, "Bo").await);
        for athlete in [ana, bo] {
            store.enter(race, athlete, Importance::Goal, at(1)).await.unwrap();
        }
        let settled = async || -> Vec<bool> {
            store.entrants(race).await.unwrap().into_iter().map(|entry| entry.is_settled).collect()
        };
        assert_eq!(store.settle(race, Settling::One(ana), true, at(2)).await.unwrap(), None, "it takes place");
        let since = Some(crate::testing::day("2027-05-01"));
        store.call_off_race(race, since, at(2)).await.unwrap();
        assert_eq!(settled().await, [false, false], "what was said of a race that takes place is not kept");
        for _ in 0..2 {
            assert!(store.settle(race, Settling::One(ana), true, at(3)).await.unwrap().is_some());
            assert_eq!(settled().await, [true, false]);
        }
        let again = store.settle(race, Settling::Everybody, true, at(3)).await.unwrap().unwrap();
        assert_eq!(settled().await, [true, true]);
        let none = store.settle(race, Settling::Everybody, true, at(3)).await.unwrap().unwrap();
        store.settle(race, Settling::Pressed(none), false, at(4)).await.unwrap();
        assert_eq!(settled().await, [true, true], "the second press settled nobody");
        store.settle(race, Settling::Pressed(again), false, at(4)).await.unwrap();
        assert_eq!(settled().await, [true, false], "who was settled before stays so, be it at the same moment");
        store.settle(race, Settling::Everybody, true, at(5)).await.unwrap();
        store.settle(race, Settling::One(bo), false, at(5)).await.unwrap();
        assert_eq!(settled().await, [true, false]);
        store.call_off_race(race, None, at(6)).await.unwrap();
        store.call_off_race(race, since, at(7)).await.unwrap();
        assert_eq!(settled().await, [false, false], "called off once more it asks once more");
        let gone = store.settle(RaceId(99), Settling::Everybody, true, at(8)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
    }

    #[tokio::test]
    async fn entries_of_an_athlete_come_by_date_with_the_athletes_own_stake() {
        let store = open().await;
        let athlete = add(&store, "Ana").await;
        let (late, early) = (add_race(&store, "2027-06-06").await, add_race(&store, "2027-05-09").await);
        let gone = add_race(&store, "2027-05-30").await;
        for (race, importance) in
            [(late, Importance::Goal), (gone, Importance::Goal), (early, Importance::TrainingThrough)]
        {
            store.enter(race, athlete, importance, at(1)).await.unwrap();
        }
        store.remove_race(gone, at(2)).await.unwrap();
        let found: Vec<_> = store
            .entries_of(athlete)
            .await
            .unwrap()
            .into_iter()
            .map(|(entry, race)| (entry.race, race.id, race.race.importance))
            .collect();
        assert_eq!(found, [(early, early, Importance::TrainingThrough), (late, late, Importance::Goal)]);
    }

    #[tokio::test]
    async fn nobody_is_entered_who_is_gone() {
        let store = open().await;
        let (athlete, race) = (add(&store, "Ana").await, add_race(&store, "2027-05-09").await);
        store.remove_race(race, at(1)).await.unwrap();
        let gone = store.enter(race, athlete, Importance::Goal, at(2)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
        let never = store.enter(race, AthleteId(99), Importance::Goal, at(2)).await;
        assert!(matches!(never, Err(StoreError::Gone)), "{never:?}");
    }
}

//! Races of the squad's calendar.

use std::collections::HashMap;

use chrono::{DateTime, NaiveDate, Utc};
use planning::{DistanceUnit, Importance, Milli, Race, RaceDistance};
use sqlx::SqliteConnection;

use crate::cell::{self, Place, commit_changed};
use crate::once::{self, Made};
use crate::{RaceId, RaceRecord, Result, Store, StoreError, Version};

/// Every query for races reads the same columns into [`RaceRow`].
macro_rules! select_races {
    ($rest:literal $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            crate::races::RaceRow,
            "SELECT race.id, race.version, race.name, race.day, race.distance, race.own_distance, race.own_unit,
                    race.start, race.zone, race.place, race.called_off
             FROM race " + $rest
            $(, $argument)*
        )
    };
}
pub(crate) use select_races;

impl Store {
    /// Every race, by date, with how many are entered.
    pub async fn races(&self) -> Result<Vec<(RaceRecord, u32)>> {
        let mut tx = self.reading().await?;
        let rows = select_races!("WHERE removed_at IS NULL ORDER BY day, id").fetch_all(&mut *tx).await?;
        let counted = sqlx::query!(
            r#"SELECT race, count(*) AS "entrants!: u32" FROM entry WHERE withdrawn_at IS NULL
               GROUP BY race ORDER BY race"#
        )
        .fetch_all(&mut *tx)
        .await?;
        let mut counts: HashMap<i64, u32> = counted.into_iter().map(|row| (row.race, row.entrants)).collect();
        // Few are removed: they are taken away, rather than everybody looked up.
        let removed = sqlx::query!(
            r#"SELECT entry.race AS "race!", count(*) AS "entrants!: u32"
               FROM athlete JOIN entry ON entry.athlete = athlete.id
               WHERE athlete.removed_at IS NOT NULL AND entry.withdrawn_at IS NULL
               GROUP BY entry.race ORDER BY entry.race"#
        )
        .fetch_all(&mut *tx)
        .await?;
        for row in removed {
            counts.entry(row.race).and_modify(|count| *count = count.saturating_sub(row.entrants));
        }
        rows.into_iter()
            .map(|row| {
                let entrants = counts.get(&row.id).copied().unwrap_or(0);
                Ok((row.read()?, entrants))
            })
            .collect()
    }

    /// The races of a day and after it, by date.
    pub async fn races_from(&self, day: NaiveDate) -> Result<Vec<RaceRecord>> {
        let day = cell::day_text(day);
        let mut db = self.read_connection().await?;
        let rows =
            select_races!("WHERE removed_at IS NULL AND day >= ? ORDER BY day, id", day).fetch_all(&mut *db).await?;
        rows.into_iter().map(RaceRow::read).collect()
    }

    /// One race.
    pub async fn race(&self, id: RaceId) -> Result<Option<RaceRecord>> {
        let mut db = self.read_connection().await?;
        race(&mut db, id).await
    }

    /// Adds a race. `once` is the form's own key: the same key again gives the same race.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] where planning finds problems.
    pub async fn add_race(&self, race: &Race, place: &str, once: uuid::Uuid, now: DateTime<Utc>) -> Result<RaceId> {
        let row = Written::of(race)?;
        let mut tx = self.writing().await?;
        if let Some(id) = once::made_before(&mut tx, once, Made::Race).await? {
            return Ok(RaceId(id));
        }
        let now_text = cell::instant_text(now);
        let id = sqlx::query_scalar!(
            "INSERT INTO race (version, name, day, distance, own_distance, own_unit, start, zone, place,
                               made_at, saved_at)
             VALUES (1, ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?9)
             RETURNING id",
            race.name,
            row.day,
            row.distance,
            row.own_distance,
            row.own_unit,
            row.start,
            race.zone,
            place,
            now_text
        )
        .fetch_one(&mut *tx)
        .await?;
        once::remember(&mut tx, once, Made::Race, id, now).await?;
        tx.commit().await?;
        Ok(RaceId(id))
    }

    /// Saves a race read at a version.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`], [`StoreError::Refused`].
    pub async fn save_race(
        &self,
        id: RaceId,
        read_at: Version,
        race: &Race,
        place: &str,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let row = Written::of(race)?;
        let mut tx = self.writing().await?;
        let before = self::race(&mut tx, id).await?.ok_or(StoreError::Gone)?;
        if before.version != read_at {
            return Err(StoreError::Conflict);
        }
        let saved_at = cell::instant_text(now);
        sqlx::query!(
            "UPDATE race
             SET version = version + 1, name = ?, day = ?, distance = ?, own_distance = ?, own_unit = ?, start = ?,
                 zone = ?, place = ?, saved_at = ?
             WHERE id = ?",
            race.name,
            row.day,
            row.distance,
            row.own_distance,
            row.own_unit,
            row.start,
            race.zone,
            place,
            saved_at,
            id.0
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(())
    }

    /// Notes that a race is called off, known since a day, or (with nothing) that it takes place after
    /// all. It stays visible as called off, and so do its blocks.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`].
    pub async fn call_off_race(&self, id: RaceId, since: Option<NaiveDate>, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let (since, saved_at) = (since.map(cell::day_text), cell::instant_text(now));
        let done = sqlx::query!(
            "UPDATE race SET called_off = ?, version = version + 1, saved_at = ?
             WHERE id = ? AND removed_at IS NULL",
            since,
            saved_at,
            id.0
        )
        .execute(&mut *tx)
        .await?;
        if since.is_none() {
            // Who was withdrawn is out all the same.
            sqlx::query!(
                "UPDATE entry SET settled_at = NULL
                 WHERE race = ? AND settled_at IS NOT NULL AND withdrawn_at IS NULL",
                id.0
            )
            .execute(&mut *tx)
            .await?;
        }
        commit_changed(tx, &done).await
    }

    /// Hides a race, its entries and blocks, links included; undoable. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there never was such a race.
    pub async fn remove_race(&self, id: RaceId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let at = cell::instant_text(now);
        let done = sqlx::query!("UPDATE race SET removed_at = coalesce(removed_at, ?) WHERE id = ?", at, id.0)
            .execute(&mut *tx)
            .await?;
        commit_changed(tx, &done).await
    }

    /// Brings a removed race back.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there never was such a race.
    pub async fn restore_race(&self, id: RaceId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let at = cell::instant_text(now);
        let done = sqlx::query!("UPDATE race SET removed_at = NULL, saved_at = ? WHERE id = ?", at, id.0)
            .execute(&mut *tx)
            .await?;
        commit_changed(tx, &done).await
    }
}

/// A race that is not removed.
pub(crate) async fn race(db: &mut SqliteConnection, id: RaceId) -> Result<Option<RaceRecord>> {
    Ok(races_of(db, &[id]).await?.remove(&id))
}

/// Some races; nothing for one that is removed.
pub(crate) async fn races_of(db: &mut SqliteConnection, ids: &[RaceId]) -> Result<HashMap<RaceId, RaceRecord>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows = select_races!("WHERE removed_at IS NULL AND id IN (SELECT value FROM json_each(?))", ids);
    rows.fetch_all(db).await?.into_iter().map(|row| Ok((RaceId(row.id), row.read()?))).collect()
}

/// Every race, removed or not: for the check of the whole file.
pub(crate) async fn every_race(db: &mut SqliteConnection) -> Result<Vec<Result<RaceRecord>>> {
    let rows = select_races!("ORDER BY id").fetch_all(db).await?;
    Ok(rows.into_iter().map(RaceRow::read).collect())
}

/// A race as its row holds it.
pub(crate) struct RaceRow {
    pub(crate) id: i64,
    pub(crate) version: i64,
    pub(crate) name: String,
    pub(crate) day: String,
    pub(crate) distance: Option<String>,
    pub(crate) own_distance: Option<i64>,
    pub(crate) own_unit: Option<String>,
    pub(crate) start: Option<String>,
    pub(crate) zone: Option<String>,
    pub(crate) place: String,
    pub(crate) called_off: Option<String>,
}

impl RaceRow {
    pub(crate) fn read(self) -> Result<RaceRecord> {
        let place = Place::new("race", self.id);
        let distance = match (self.distance, self.own_distance, self.own_unit) {
            (Some(code), None, None) => place.word("distance", &code, RaceDistance::from_code)?,
            (None, Some(value), Some(unit)) => {
                RaceDistance::Own(Milli(place.number("own_distance", value)?), place.units("own_unit", &unit)?)
            }
            _ => return Err(place.corrupt("distance", "neither a standard distance nor one of its own")),
        };
        let race = Race {
            name: self.name,
            date: place.day("day", &self.day)?,
            distance,
            start: self.start.map(|text| place.time("start", &text)).transpose()?,
            zone: self.zone,
            importance: Importance::Goal,
        };
        let called_off = self.called_off.map(|text| place.day("called_off", &text)).transpose()?;
        Ok(RaceRecord { id: RaceId(self.id), version: Version(self.version), race, place: self.place, called_off })
    }
}

/// The cells of a race that are not in it as they are.
struct Written {
    day: String,
    distance: Option<&'static str>,
    own_distance: Option<i64>,
    own_unit: Option<&'static str>,
    start: Option<String>,
}

impl Written {
    fn of(race: &Race) -> Result<Self> {
        let problems = race.problems();
        if !problems.is_empty() {
            return Err(StoreError::Refused(problems));
        }
        let (own_distance, own_unit) = match race.distance {
            RaceDistance::Own(value, unit) => (Some(i64::from(value.0)), Some(DistanceUnit::symbol(unit))),
            _ => (None, None),
        };
        Ok(Self {
            day: cell::day_text(race.date),
            distance: race.distance.code(),
            own_distance,
            own_unit,
            start: race.start.map(cell::time_text),
        })
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveTime;

    use super::*;
    use crate::testing::{add, add_race, at, day, once, open, race_on};

    #[tokio::test]
    async fn a_race_comes_back_as_it_was_told() {
        let store = open().await;
        let start = NaiveTime::from_hms_opt(9, 30, 0);
        for (distance, start, zone) in [
            (RaceDistance::TenMiles, start, Some("Europe/Lisbon".to_owned())),
            (RaceDistance::Own(Milli(50_250), DistanceUnit::Mi), None, None),
        ] {
            let told = Race { distance, start, zone, ..race_on("2027-05-09") };
            let id = store.add_race(&told, "Harbour", once(), at(0)).await.unwrap();
            let kept = store.race(id).await.unwrap().unwrap();
            let place = "Harbour".to_owned();
            assert_eq!(kept, RaceRecord { id, version: Version(1), race: told, place, called_off: None });
        }
    }

    #[tokio::test]
    async fn a_race_follows_the_same_rules_as_an_athlete() {
        let store = open().await;
        let (told, key) = (race_on("2027-05-09"), once());
        let id = store.add_race(&told, "", key, at(0)).await.unwrap();
        assert_eq!(store.add_race(&told, "", key, at(1)).await.unwrap(), id, "one form, one race");

        let moved = Race { date: day("2027-05-16"), ..told.clone() };
        store.save_race(id, Version(1), &moved, "", at(2)).await.unwrap();
        let stale = store.save_race(id, Version(1), &told, "", at(3)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        assert_eq!(store.race(id).await.unwrap().unwrap().race, moved);

        store.remove_race(id, at(4)).await.unwrap();
        assert_eq!(store.race(id).await.unwrap(), None);
        assert_eq!(store.removed().await.unwrap().races[0].id, id);
        let gone = store.save_race(id, Version(2), &told, "", at(5)).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
        store.restore_race(id, at(6)).await.unwrap();
        assert_eq!(store.races().await.unwrap().len(), 1);

        let huge = Race { distance: RaceDistance::Own(Milli::whole(500), DistanceUnit::Km), ..told };
        let refused = store.add_race(&huge, "", once(), at(7)).await;
        assert!(matches!(refused, Err(StoreError::Refused(_))), "{refused:?}");
    }

    #[tokio::test]
    async fn a_race_called_off_stays_visible_and_may_take_place_after_all() {
        let store = open().await;
        let id = add_race(&store, "2027-05-09").await;
        store.call_off_race(id, Some(day("2027-05-06")), at(1)).await.unwrap();
        assert_eq!(store.race(id).await.unwrap().unwrap().called_off, Some(day("2027-05-06")));
        assert_eq!(store.races().await.unwrap().len(), 1);
        store.call_off_race(id, None, at(2)).await.unwrap();
        assert_eq!(store.race(id).await.unwrap().unwrap().called_off, None);
        assert!(matches!(store.call_off_race(RaceId(99), None, at(3)).await, Err(StoreError::Gone)));
    }

    #[tokio::test]
    async fn a_key_that_made_an_athlete_makes_no_race() {
        let store = open().await;
        let key = once();
        store.add_athlete(&crate::testing::draft("Ana"), key, at(0)).await.unwrap();
        let refused = store.add_race(&race_on("2027-05-09"), "", key, at(1)).await;
        assert!(matches!(refused, Err(StoreError::Exists)), "{refused:?}");
    }

    #[tokio::test]
    async fn races_come_by_date_and_count_who_is_really_entered() {
        let store = open().await;
        let (late, early) = (add_race(&store, "2027-06-06").await, add_race(&store, "2027-05-09").await);
        for name in ["Ana", "Bo", "Cy"] {
            let athlete = add(&store, name).await;
            store.enter(early, athlete, Importance::Goal, at(1)).await.unwrap();
            match name {
                "Bo" => store.withdraw(early, athlete, at(2)).await.unwrap(),
                "Cy" => store.remove_athlete(athlete, at(2)).await.unwrap(),
                _ => {}
            }
        }
        let found: Vec<_> =
            store.races().await.unwrap().into_iter().map(|(race, entrants)| (race.id, entrants)).collect();
        assert_eq!(found, [(early, 1), (late, 0)]);
    }
}

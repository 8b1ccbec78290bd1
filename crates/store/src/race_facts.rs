//! What everybody who runs a race has to know on the day.

use chrono::{DateTime, Utc};
use planning::heat::Celsius;
use planning::notation::{read_stands, read_stations};
use sqlx::SqliteConnection;

use crate::cell::{self, Place, commit_as_read};
use crate::races::race;
use crate::{RaceFacts, RaceFactsRecord, RaceId, Result, Store, StoreError, Version};

/// Both queries read the same columns into [`FactsRow`].
macro_rules! select_facts {
    ($rest:literal $(, $argument:expr)*) => {
        sqlx::query_as!(
            FactsRow,
            "SELECT race, version, stations, stands, units, pens_close, bags_close, bags, toilets, meeting, contact,
                    afterwards, air_tenths, wbgt_tenths
             FROM race_facts " + $rest
            $(, $argument)*
        )
    };
}

impl Store {
    /// The facts of a race, if any were saved.
    pub async fn race_facts(&self, race: RaceId) -> Result<Option<RaceFactsRecord>> {
        let mut db = self.read_connection().await?;
        race_facts(&mut db, race).await
    }

    /// Saves the facts of a race, read at a version: `Version(0)` where there were none.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`]; [`StoreError::Refused`] where a line is no place of the
    /// race as it is now.
    pub async fn save_race_facts(
        &self,
        id: RaceId,
        read_at: Version,
        facts: &RaceFacts,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let mut tx = self.writing().await?;
        let length = race(&mut tx, id).await?.ok_or(StoreError::Gone)?.race.distance.distance();
        let mut problems = read_stations(&facts.stations, facts.units, length).err().unwrap_or_default();
        problems.extend(read_stands(&facts.stands, facts.units, length).err().unwrap_or_default());
        if !problems.is_empty() {
            return Err(StoreError::Refused(problems));
        }
        let (units, saved_at) = (facts.units.symbol(), cell::instant_text(now));
        let (air, wbgt) = (facts.air.map(Celsius::as_tenths), facts.wbgt.map(Celsius::as_tenths));
        let (pens_close, bags_close) = (facts.pens_close.map(cell::time_text), facts.bags_close.map(cell::time_text));
        // Nothing is inserted for a version that is not there, nothing is replaced but the version that was read.
        let saved = sqlx::query!(
            "INSERT INTO race_facts (race, version, stations, stands, units, pens_close, bags_close, bags, toilets,
                                     meeting, contact, afterwards, air_tenths, wbgt_tenths, saved_at)
             SELECT ?1, 1, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15
             WHERE ?2 = 0 OR EXISTS (SELECT 1 FROM race_facts WHERE race = ?1)
             ON CONFLICT (race) DO UPDATE
             SET version = version + 1, stations = excluded.stations, stands = excluded.stands, units = excluded.units,
                 pens_close = excluded.pens_close, bags_close = excluded.bags_close, bags = excluded.bags,
                 toilets = excluded.toilets, meeting = excluded.meeting, contact = excluded.contact,
                 afterwards = excluded.afterwards, air_tenths = excluded.air_tenths,
                 wbgt_tenths = excluded.wbgt_tenths, saved_at = excluded.saved_at
             WHERE version = ?2",
            id.0,
            read_at.0,
            facts.stations,
            facts.stands,
            units,
            pens_close,
            bags_close,
            facts.bags,
            facts.toilets,
            facts.meeting,
            facts.contact,
            facts.afterwards,
            air,
            wbgt,
            saved_at
        )
        .execute(&mut *tx)
        .await?;
        commit_as_read(tx, &saved).await
    }
}

pub(crate) async fn race_facts(db: &mut SqliteConnection, race: RaceId) -> Result<Option<RaceFactsRecord>> {
    select_facts!("WHERE race = ?", race.0).fetch_optional(db).await?.map(FactsRow::read).transpose()
}

/// The facts of every race: for the check of the whole file.
pub(crate) async fn every_race_facts(db: &mut SqliteConnection) -> Result<Vec<Result<RaceFactsRecord>>> {
    Ok(select_facts!("ORDER BY race").fetch_all(db).await?.into_iter().map(FactsRow::read).collect())
}

struct FactsRow {
    race: i64,
    version: i64,
    stations: String,
    stands: String,
    units: String,
    pens_close: Option<String>,
    bags_close: Option<String>,
    bags: String,
    toilets: String,
    meeting: String,
    contact: String,
    afterwards: String,
    air_tenths: Option<i64>,
    wbgt_tenths: Option<i64>,
}

impl FactsRow {
    fn read(self) -> Result<RaceFactsRecord> {
        let place = Place::new("race_facts", self.race);
        let time = |column, text: Option<String>| text.map(|text| place.time(column, &text)).transpose();
        let tenths = |column, value: Option<i64>| {
            value.map(|value| place.number(column, value).map(Celsius::tenths)).transpose()
        };
        let facts = RaceFacts {
            stations: self.stations,
            stands: self.stands,
            units: place.units("units", &self.units)?,
            pens_close: time("pens_close", self.pens_close)?,
            bags_close: time("bags_close", self.bags_close)?,
            bags: self.bags,
            toilets: self.toilets,
            meeting: self.meeting,
            contact: self.contact,
            afterwards: self.afterwards,
            air: tenths("air_tenths", self.air_tenths)?,
            wbgt: tenths("wbgt_tenths", self.wbgt_tenths)?,
        };
        Ok(RaceFactsRecord { version: Version(self.version), facts })
    }
}

#[cfg(test)]
mod tests {
    use planning::{Field, ProblemKind};

    use super::*;
    use crate::testing::{add_race, at, open, race_facts};

    #[tokio::test]
    async fn facts_come_back_as_they_were_told_with_their_version() {
        let store = open().await;
        let race = add_race(&store, "2027-05-09").await;
        assert_eq!(store.race_facts(race).await.unwrap(), None);
        store.save_race_facts(race, Version(0), &race_facts(), at(1)).await.unwrap();
        let kept = store.race_facts(race).await.unwrap();
        assert_eq!(kept, Some(RaceFactsRecord { version: Version(1), facts: race_facts() }));
        let other =
            RaceFacts { units: planning::DistanceUnit::Mi, wbgt: Some(Celsius::tenths(225)), ..RaceFacts::default() };
        store.save_race_facts(race, Version(1), &other, at(2)).await.unwrap();
        let kept = store.race_facts(race).await.unwrap();
        assert_eq!(kept, Some(RaceFactsRecord { version: Version(2), facts: other }));
    }

    #[tokio::test]
    async fn a_stale_save_writes_nothing() {
        let store = open().await;
        let race = add_race(&store, "2027-05-09").await;
        let early = store.save_race_facts(race, Version(1), &race_facts(), at(1)).await;
        assert!(matches!(early, Err(StoreError::Conflict)), "{early:?}");
        store.save_race_facts(race, Version(0), &race_facts(), at(1)).await.unwrap();
        for stale in [Version(0), Version(2), Version(-1)] {
            let saved = store.save_race_facts(race, stale, &RaceFacts::default(), at(2)).await;
            assert!(matches!(saved, Err(StoreError::Conflict)), "{stale}: {saved:?}");
        }
        assert_eq!(store.race_facts(race).await.unwrap().unwrap().facts, race_facts());
    }

    #[tokio::test]
    async fn a_line_that_is_no_place_of_the_race_is_refused_but_stays_once_it_is_kept() {
        let store = open().await;
        let race = add_race(&store, "2027-05-09").await;
        let facts = RaceFacts { stations: "30 km".to_owned(), stands: "x".to_owned(), ..RaceFacts::default() };
        let Err(StoreError::Refused(found)) = store.save_race_facts(race, Version(0), &facts, at(1)).await else {
            panic!("taken")
        };
        assert!(matches!(found[0].kind, ProblemKind::OutsideRace { .. }), "{found:?}");
        assert_eq!(found[1].at, Field::StandLine(1));
        store.save_race_facts(race, Version(0), &race_facts(), at(1)).await.unwrap();
        let mut shorter = store.race(race).await.unwrap().unwrap();
        shorter.race.distance = planning::RaceDistance::TenK;
        store.save_race(race, shorter.version, &shorter.race, "", at(2)).await.unwrap();
        assert_eq!(store.race_facts(race).await.unwrap().unwrap().facts, race_facts(), "the race is shorter now");
        assert_eq!(store.check().await.unwrap(), Vec::<String>::new());
    }
}

//! Base weeks: the lines as the coach typed them, and what they say.

use chrono::{DateTime, Utc};
use planning::notation::{read_amount, read_day, read_week, write_day};
use planning::week::WEEKDAYS;
use planning::{BaseWeek, DistanceUnit};
use sqlx::SqliteConnection;

use crate::athletes::athlete;
use crate::cell::{self, Place};
use crate::{AthleteId, Result, Store, StoreError, Version, WeekRecord};

impl Store {
    /// The base week of an athlete; an empty one at `Version(0)` where none was saved. `None`: no such athlete.
    ///
    /// Where the athlete's unit changed since the lines were typed, they are written out with their
    /// units, so that no number changes its meaning.
    pub async fn week(&self, id: AthleteId) -> Result<Option<WeekRecord>> {
        let mut tx = self.reading().await?;
        let Some(athlete) = athlete(&mut tx, id).await? else {
            return Ok(None);
        };
        let units = athlete.draft.athlete.units;
        let week = kept_week(&mut tx, id).await?.map_or_else(|| nothing_kept(units), |week| in_units(week, units));
        Ok(Some(week))
    }

    /// Saves a base week: lines as typed (they must read without a problem) and the weekly range.
    ///
    /// Numbers without a unit are in the athlete's unit.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] with every problem of the lines, [`StoreError::Conflict`],
    /// [`StoreError::Gone`].
    pub async fn save_week(
        &self,
        id: AthleteId,
        read_at: Version,
        lines: &[String; 7],
        range: &str,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let mut tx = self.writing().await?;
        let athlete = athlete(&mut tx, id).await?.ok_or(StoreError::Gone)?;
        let kept = sqlx::query_scalar!("SELECT version FROM base_week WHERE athlete = ?", id.0)
            .fetch_optional(&mut *tx)
            .await?;
        if kept.unwrap_or(0) != read_at.0 {
            return Err(StoreError::Conflict);
        }
        let units = athlete.draft.athlete.units;
        read_week(&lines.each_ref().map(String::as_str), range, units).map_err(StoreError::Refused)?;
        let (units, saved_at) = (units.symbol(), cell::instant_text(now));
        let [mon, tue, wed, thu, fri, sat, sun] = lines;
        sqlx::query!(
            "INSERT INTO base_week (athlete, version, units, mon, tue, wed, thu, fri, sat, sun, week_range, saved_at)
             VALUES (?, 1, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
             ON CONFLICT (athlete) DO UPDATE
             SET version = version + 1, units = excluded.units, mon = excluded.mon, tue = excluded.tue,
                 wed = excluded.wed, thu = excluded.thu, fri = excluded.fri, sat = excluded.sat,
                 sun = excluded.sun, week_range = excluded.week_range, saved_at = excluded.saved_at",
            id.0,
            units,
            mon,
            tue,
            wed,
            thu,
            fri,
            sat,
            sun,
            range,
            saved_at
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(())
    }
}

/// The week as it was typed, whatever the athlete's unit is now.
pub(crate) async fn kept_week(db: &mut SqliteConnection, id: AthleteId) -> Result<Option<WeekRecord>> {
    let Some(row) = sqlx::query!(
        "SELECT version, units, mon, tue, wed, thu, fri, sat, sun, week_range, saved_at
         FROM base_week WHERE athlete = ?",
        id.0
    )
    .fetch_optional(db)
    .await?
    else {
        return Ok(None);
    };
    let place = Place::new("base_week", id.0);
    let lines = WeekLines {
        units: place.units("units", &row.units)?,
        lines: [row.mon, row.tue, row.wed, row.thu, row.fri, row.sat, row.sun],
        range: row.week_range,
    };
    let saved = place.instant("saved_at", &row.saved_at)?;
    let columns = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
    lines.read(Version(row.version), Some(saved), place, columns).map(Some)
}

/// A week as text, and the unit in which it was meant.
pub(crate) struct WeekLines {
    pub(crate) units: DistanceUnit,
    pub(crate) lines: [String; 7],
    pub(crate) range: String,
}

impl WeekLines {
    /// Reads the lines; `columns` say where each stands.
    ///
    /// Only what cannot be read at all is corrupt. A week that a later release would not accept any
    /// more is still what the coach wrote.
    pub(crate) fn read(
        self,
        version: Version,
        saved: Option<DateTime<Utc>>,
        place: Place,
        columns: [&'static str; 7],
    ) -> Result<WeekRecord> {
        let Self { units, lines, range } = self;
        let mut days: [_; 7] = Default::default();
        for ((line, column), day) in lines.iter().zip(columns).zip(&mut days) {
            *day = read_day(line, units)
                .map_err(|problems| place.corrupt(column, format_args!("`{line}`: {problems:?}")))?;
        }
        let amount = if range.trim().is_empty() {
            None
        } else {
            let read = read_amount(&range, units);
            Some(read.map_err(|problem| place.corrupt("week_range", format_args!("`{range}`: {problem:?}")))?)
        };
        Ok(WeekRecord { version, units, lines, range, week: BaseWeek::new(days, amount), saved })
    }
}

fn nothing_kept(units: DistanceUnit) -> WeekRecord {
    WeekRecord {
        version: Version(0),
        units,
        lines: Default::default(),
        range: String::new(),
        week: BaseWeek::default(),
        saved: None,
    }
}

/// The same week for an athlete who now thinks in other units.
fn in_units(mut week: WeekRecord, units: DistanceUnit) -> WeekRecord {
    if week.units != units {
        week.lines = WEEKDAYS.map(|weekday| write_day(week.week.day(weekday)));
        week.range = week.week.range().map(|range| range.to_string()).unwrap_or_default();
        week.units = units;
    }
    week
}

#[cfg(test)]
mod tests {
    use chrono::Weekday;
    use planning::{Amount, Field, Milli, Unit};

    use super::*;
    use crate::testing::{add, at, draft, lines, open};

    #[tokio::test]
    async fn a_week_comes_back_in_the_words_in_which_it_was_typed() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        let empty = store.week(id).await.unwrap().unwrap();
        assert_eq!((empty.version, empty.week, empty.saved), (Version(0), BaseWeek::default(), None));

        let typed = lines(["6 x 800 m 10k pace, 10 km", "7", "", "5 + strength 30", "-", "50 min", " 10-12 easy"]);
        store.save_week(id, Version(0), &typed, "44-50", at(1)).await.unwrap();
        let kept = store.week(id).await.unwrap().unwrap();
        assert_eq!((kept.version, &kept.lines, kept.range.as_str()), (Version(1), &typed, "44-50"));
        assert_eq!(kept.saved, Some(at(1)));
        assert_eq!(kept.week.range(), Some(Amount::between(Milli::whole(44), Milli::whole(50), Unit::Km)));
        assert_eq!(kept.week.day(Weekday::Thu).len(), 2);
        assert_eq!(store.week(AthleteId(99)).await.unwrap(), None);
    }

    #[tokio::test]
    async fn lines_with_problems_are_refused_all_at_once() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        let typed = lines(["7 furlongs", "7", "", "", "900", "", ""]);
        let refused = store.save_week(id, Version(0), &typed, "lots", at(1)).await;
        let Err(StoreError::Refused(problems)) = refused else { panic!("{refused:?}") };
        let places: Vec<_> = problems.into_iter().map(|problem| problem.at).collect();
        assert_eq!(
            places,
            [Field::Session(Weekday::Mon, 0), Field::Session(Weekday::Fri, 0), Field::WeekRange],
            "every line that is wrong, none of those that are right"
        );
        assert_eq!(store.week(id).await.unwrap().unwrap().version, Version(0));
    }

    #[tokio::test]
    async fn a_stale_week_is_a_conflict() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        let (one, other) = (lines(["5"; 7]), lines(["6"; 7]));
        store.save_week(id, Version(0), &one, "", at(1)).await.unwrap();
        let stale = store.save_week(id, Version(0), &other, "", at(2)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        assert_eq!(store.week(id).await.unwrap().unwrap().lines, one);
        store.save_week(id, Version(1), &other, "", at(3)).await.unwrap();
        assert_eq!(store.week(id).await.unwrap().unwrap().lines, other);
    }

    #[tokio::test]
    async fn no_number_changes_its_meaning_when_the_athlete_changes_units() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        let typed = lines(["7", "tempo 9, hard 4", "", "", "", "", "14-16"]);
        store.save_week(id, Version(0), &typed, "35", at(1)).await.unwrap();
        let before = store.week(id).await.unwrap().unwrap();

        let mut miles = draft("Ana");
        miles.athlete.units = DistanceUnit::Mi;
        store.save_athlete(id, Version(1), &miles, at(2)).await.unwrap();
        let after = store.week(id).await.unwrap().unwrap();
        assert_eq!(after.week, before.week, "still kilometres");
        assert_eq!((after.lines[0].as_str(), after.range.as_str()), ("easy 7 km", "35 km"));

        let stale = store.save_week(id, before.version, &typed, "35", at(3)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "a form that meant kilometres: {stale:?}");
        store.save_week(id, after.version, &after.lines, &after.range, at(4)).await.unwrap();
        assert_eq!(store.week(id).await.unwrap().unwrap().week, before.week);
    }

    #[tokio::test]
    async fn a_line_that_cannot_be_read_names_its_place() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        store.save_week(id, Version(0), &lines(["5"; 7]), "", at(1)).await.unwrap();
        sqlx::raw_sql("UPDATE base_week SET fri = '5 leagues'").execute(&mut store.stray().await).await.unwrap();
        let error = store.week(id).await.unwrap_err();
        let expected = format!("base_week.fri of row {id} cannot be read: `5 leagues`");
        assert!(error.to_string().starts_with(&expected), "{error}");
    }
}

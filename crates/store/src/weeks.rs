//! Base weeks: the lines as the coach typed them, and what they say.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use planning::notation::{read_amount, read_second_week, read_week, write_day};
use planning::week::WEEKDAYS;
use planning::{BaseWeek, DistanceUnit, Problem, SevenDays, Slot, Turns};
use sqlx::SqliteConnection;

use crate::athletes::athlete;
use crate::cell::{self, Place};
use crate::lines;
use crate::{AthleteId, Result, SecondWeek, Store, StoreError, Version, WeekDraft, WeekRecord};

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
        Ok(Some(week_of(kept_week(&mut tx, id).await?, units)))
    }

    /// Saves a base week as typed (it must read without a problem), with its second week in one step.
    ///
    /// Numbers without a unit are in the athlete's unit.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] with every problem of the lines, [`StoreError::Conflict`],
    /// [`StoreError::Gone`].
    pub async fn save_week(&self, id: AthleteId, read_at: Version, week: &WeekDraft, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        save(&mut tx, id, read_at, week, now).await?;
        tx.commit().await?;
        Ok(())
    }
}

/// Saves a base week that was read at a version.
pub(crate) async fn save(
    tx: &mut SqliteConnection,
    id: AthleteId,
    read_at: Version,
    week: &WeekDraft,
    now: DateTime<Utc>,
) -> Result<()> {
    let athlete = athlete(tx, id).await?.ok_or(StoreError::Gone)?;
    let kept =
        sqlx::query_scalar!("SELECT version FROM base_week WHERE athlete = ?", id.0).fetch_optional(&mut *tx).await?;
    if kept.unwrap_or(0) != read_at.0 {
        return Err(StoreError::Conflict);
    }
    let units = athlete.draft.athlete.units;
    let problems = problems(week, units);
    if !problems.is_empty() {
        return Err(StoreError::Refused(problems));
    }
    let since = week.since.map(cell::day_text);
    let texts = WeekTexts { units: units.symbol(), lines: &week.lines, range: &week.range, since: since.as_deref() };
    write(tx, id, &texts, &cell::instant_text(now)).await?;
    let stands_on = week.second.as_ref().map(|second| cell::day_text(second.stands_on));
    write_second(tx, id, week.second.as_ref().map(|second| &second.lines).zip(stands_on.as_deref())).await
}

/// A base week as its columns hold it.
pub(crate) struct WeekTexts<'a> {
    /// The unit of a number without a unit.
    pub(crate) units: &'a str,
    pub(crate) lines: &'a [String; 7],
    pub(crate) range: &'a str,
    pub(crate) since: Option<&'a str>,
}

/// Writes a base week and counts the save. After a week that an undone step took away the count goes on: whoever
/// read that one, or made a block of it, has not seen this one.
pub(crate) async fn write(
    tx: &mut SqliteConnection,
    id: AthleteId,
    &WeekTexts { units, lines: [mon, tue, wed, thu, fri, sat, sun], range, since }: &WeekTexts<'_>,
    saved_at: &str,
) -> Result<()> {
    sqlx::query!(
        "INSERT INTO base_week (athlete, version, units, mon, tue, wed, thu, fri, sat, sun, week_range, since,
                                saved_at)
         VALUES (?1,
                 1 + coalesce((SELECT version FROM last_version WHERE thing = 'week' AND owner = ?1), 0),
                 ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12)
         ON CONFLICT (athlete) DO UPDATE
         SET version = version + 1, units = excluded.units, mon = excluded.mon, tue = excluded.tue,
             wed = excluded.wed, thu = excluded.thu, fri = excluded.fri, sat = excluded.sat,
             sun = excluded.sun, week_range = excluded.week_range, since = excluded.since,
             saved_at = excluded.saved_at",
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
        since,
        saved_at
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// Writes the lines of a second week and the day on which it stands; takes it away where there is none.
pub(crate) async fn write_second(
    tx: &mut SqliteConnection,
    id: AthleteId,
    second: Option<(&[String; 7], &str)>,
) -> Result<()> {
    let Some(([mon, tue, wed, thu, fri, sat, sun], stands_on)) = second else {
        sqlx::query!("DELETE FROM second_week WHERE athlete = ?", id.0).execute(tx).await?;
        return Ok(());
    };
    sqlx::query!(
        "INSERT INTO second_week (athlete, mon, tue, wed, thu, fri, sat, sun, stands_on)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (athlete) DO UPDATE
         SET mon = excluded.mon, tue = excluded.tue, wed = excluded.wed, thu = excluded.thu, fri = excluded.fri,
             sat = excluded.sat, sun = excluded.sun, stands_on = excluded.stands_on",
        id.0,
        mon,
        tue,
        wed,
        thu,
        fri,
        sat,
        sun,
        stands_on
    )
    .execute(tx)
    .await?;
    Ok(())
}

/// Everything that is wrong with a week as typed.
pub(crate) fn problems(week: &WeekDraft, units: DistanceUnit) -> Vec<Problem> {
    let mut found = read_week(&week.lines.each_ref().map(String::as_str), &week.range, units).err().unwrap_or_default();
    found.extend(BaseWeek::default().run_since(week.since).problems());
    if let Some(second) = &week.second {
        let lines = second.lines.each_ref().map(String::as_str);
        found.extend(read_second_week(&lines, second.stands_on, units).err().unwrap_or_default());
    }
    found
}

/// The week as it was typed, whatever the athlete's unit is now.
pub(crate) async fn kept_week(db: &mut SqliteConnection, id: AthleteId) -> Result<Option<WeekRecord>> {
    Ok(kept_weeks(db, &[id]).await?.remove(&id))
}

/// The weeks of some athletes as they were typed, by the athlete; nothing for who has none.
pub(crate) async fn kept_weeks(db: &mut SqliteConnection, ids: &[AthleteId]) -> Result<HashMap<AthleteId, WeekRecord>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows = sqlx::query!(
        r#"SELECT base_week.athlete AS "athlete!", version AS "version!", units AS "units!", week_range AS "week_range!",
                  since, saved_at AS "saved_at!",
                  base_week.mon AS "mon!", base_week.tue AS "tue!", base_week.wed AS "wed!", base_week.thu AS "thu!",
                  base_week.fri AS "fri!", base_week.sat AS "sat!", base_week.sun AS "sun!",
                  second_week.mon AS "second_mon?", second_week.tue AS "second_tue?", second_week.wed AS "second_wed?",
                  second_week.thu AS "second_thu?", second_week.fri AS "second_fri?", second_week.sat AS "second_sat?",
                  second_week.sun AS "second_sun?", stands_on AS "stands_on?"
           FROM base_week LEFT JOIN second_week ON second_week.athlete = base_week.athlete
           WHERE base_week.athlete IN (SELECT value FROM json_each(?)) ORDER BY base_week.athlete"#,
        ids
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let (place, turns) = (Place::new("base_week", row.athlete), Place::new("second_week", row.athlete));
        let second = row.stands_on.map(|text| {
            let lines = [
                row.second_mon,
                row.second_tue,
                row.second_wed,
                row.second_thu,
                row.second_fri,
                row.second_sat,
                row.second_sun,
            ]
            .map(Option::unwrap_or_default);
            Ok::<_, StoreError>(SecondWeek { lines, stands_on: turns.day("stands_on", &text)? })
        });
        let draft = WeekDraft {
            lines: [row.mon, row.tue, row.wed, row.thu, row.fri, row.sat, row.sun],
            range: row.week_range,
            second: second.transpose()?,
            since: row.since.map(|text| place.day("since", &text)).transpose()?,
        };
        let lines = WeekLines { units: place.units("units", &row.units)?, draft };
        let saved = Some(place.instant("saved_at", &row.saved_at)?);
        Ok((AthleteId(row.athlete), lines.read(Version(row.version), saved, (place, DAYS), (turns, DAYS))?))
    });
    read.collect()
}

const DAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

/// A week as text, and the unit in which it was meant.
pub(crate) struct WeekLines {
    pub(crate) units: DistanceUnit,
    pub(crate) draft: WeekDraft,
}

impl WeekLines {
    /// Reads the lines; the columns say where each of the first and of the second week stands.
    ///
    /// Only what cannot be read at all is corrupt. A week that a later release would not accept any
    /// more is still what the coach wrote.
    pub(crate) fn read(
        self,
        version: Version,
        saved: Option<DateTime<Utc>>,
        first: (Place, [&'static str; 7]),
        second: (Place, [&'static str; 7]),
    ) -> Result<WeekRecord> {
        let Self { units, draft: WeekDraft { lines, range, second: turning, since } } = self;
        let days = read_days(&lines, units, first)?;
        let amount = if range.trim().is_empty() {
            None
        } else {
            let read = read_amount(&range, units);
            Some(
                read.map_err(|_| first.0.corrupt("week_range", format_args!("`{range}` is not an amount of running")))?,
            )
        };
        let turns = turning
            .as_ref()
            .map(|SecondWeek { lines, stands_on }| {
                let week = SevenDays::new(read_days(lines, units, second)?);
                Ok::<_, StoreError>(Turns { week, stands_on: *stands_on })
            })
            .transpose()?;
        let week = BaseWeek::new(days, amount).run_since(since).taking_turns(turns);
        Ok(WeekRecord { version, units, lines, range, second: turning, since, week, saved })
    }
}

fn read_days(
    lines: &[String; 7],
    units: DistanceUnit,
    (place, columns): (Place, [&'static str; 7]),
) -> Result<[Vec<Slot>; 7]> {
    let mut days: [Vec<Slot>; 7] = Default::default();
    for ((line, column), day) in lines.iter().zip(columns).zip(&mut days) {
        let slots = lines::day(line, units);
        *day = slots.ok_or_else(|| place.corrupt(column, format_args!("`{line}` is not a day's sessions")))?.to_vec();
    }
    Ok(days)
}

/// The base week of an athlete as it is shown: what is kept, written for the athlete's unit, or nothing yet.
pub(crate) fn week_of(kept: Option<WeekRecord>, units: DistanceUnit) -> WeekRecord {
    kept.map_or_else(|| nothing_kept(units), |week| in_units(week, units))
}

fn nothing_kept(units: DistanceUnit) -> WeekRecord {
    WeekRecord {
        version: Version(0),
        units,
        lines: Default::default(),
        range: String::new(),
        second: None,
        since: None,
        week: BaseWeek::default(),
        saved: None,
    }
}

/// The same week for an athlete who now thinks in other units.
fn in_units(mut week: WeekRecord, units: DistanceUnit) -> WeekRecord {
    if week.units != units {
        week.lines = WEEKDAYS.map(|weekday| write_day(week.week.day(weekday)));
        week.range = week.week.range().map(|range| range.to_string()).unwrap_or_default();
        if let (Some(second), Some(turns)) = (&mut week.second, week.week.turns()) {
            second.lines = WEEKDAYS.map(|weekday| write_day(turns.week.day(weekday)));
        }
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

    fn of(lines: &[String; 7], range: &str) -> WeekDraft {
        WeekDraft { lines: lines.clone(), range: range.to_owned(), ..WeekDraft::default() }
    }

    #[tokio::test]
    async fn a_week_comes_back_in_the_words_in_which_it_was_typed() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        let empty = store.week(id).await.unwrap().unwrap();
        assert_eq!((empty.version, empty.week, empty.saved), (Version(0), BaseWeek::default(), None));

        let typed = lines(["6 x 800 m 10k pace, 10 km", "7", "", "5 + strength 30", "-", "50 min", " 10-12 easy"]);
        store.save_week(id, Version(0), &of(&typed, "44-50"), at(1)).await.unwrap();
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
        let refused = store.save_week(id, Version(0), &of(&typed, "lots"), at(1)).await;
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
        store.save_week(id, Version(0), &of(&one, ""), at(1)).await.unwrap();
        let stale = store.save_week(id, Version(0), &of(&other, ""), at(2)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        assert_eq!(store.week(id).await.unwrap().unwrap().lines, one);
        store.save_week(id, Version(1), &of(&other, ""), at(3)).await.unwrap();
        assert_eq!(store.week(id).await.unwrap().unwrap().lines, other);
    }

    #[tokio::test]
    async fn no_number_changes_its_meaning_when_the_athlete_changes_units() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        let typed = lines(["7", "tempo 9, hard 4", "", "", "", "", "14-16"]);
        store.save_week(id, Version(0), &of(&typed, "35"), at(1)).await.unwrap();
        let before = store.week(id).await.unwrap().unwrap();

        let mut miles = draft("Ana");
        miles.athlete.units = DistanceUnit::Mi;
        store.save_athlete(id, Version(1), &miles, at(2)).await.unwrap();
        let after = store.week(id).await.unwrap().unwrap();
        assert_eq!(after.week, before.week, "still kilometres");
        assert_eq!((after.lines[0].as_str(), after.range.as_str()), ("easy 7 km", "35 km"));

        let stale = store.save_week(id, before.version, &of(&typed, "35"), at(3)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "a form that meant kilometres: {stale:?}");
        store.save_week(id, after.version, &of(&after.lines, &after.range), at(4)).await.unwrap();
        assert_eq!(store.week(id).await.unwrap().unwrap().week, before.week);
    }

    #[tokio::test]
    async fn a_line_that_cannot_be_read_names_its_place() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        store.save_week(id, Version(0), &of(&lines(["5"; 7]), ""), at(1)).await.unwrap();
        sqlx::raw_sql("UPDATE base_week SET fri = '5 leagues'").execute(&mut store.stray().await).await.unwrap();
        let error = store.week(id).await.unwrap_err();
        let expected = format!("base_week.fri of row {id} cannot be read: `5 leagues` is not a day's sessions");
        assert!(error.to_string() == expected, "{error}");
    }

    /// The second week of a test, from Monday, 3 May 2027.
    fn turning(first: [&str; 7], second: [&str; 7]) -> WeekDraft {
        let stands_on = "2027-05-03".parse().unwrap();
        WeekDraft { second: Some(SecondWeek { lines: lines(second), stands_on }), ..WeekDraft::of(lines(first)) }
    }

    #[tokio::test]
    async fn a_second_week_and_since_when_come_back_and_go_in_one_step() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        let mut typed =
            turning(["8", "", "tempo 9, hard 4", "", "8", "", "long 16"], ["6", "", "7", "", "6", "", "12 "]);
        typed.since = "2027-03-01".parse().ok();
        store.save_week(id, Version(0), &typed, at(1)).await.unwrap();
        let kept = store.week(id).await.unwrap().unwrap();
        assert_eq!((&kept.second, kept.since, &kept.lines), (&typed.second, typed.since, &typed.lines));
        assert_eq!(kept.week.since(), typed.since);
        let on = |date: &str| kept.week.on(date.parse().unwrap())[0].chosen().running_middle();
        assert_eq!((on("2027-05-09"), on("2027-05-16")), (Milli::whole(12), Milli::whole(16)));

        store.save_week(id, Version(1), &of(&typed.lines, ""), at(2)).await.unwrap();
        let alone = store.week(id).await.unwrap().unwrap();
        assert_eq!((alone.second, alone.since, alone.week.turns()), (None, None, None));
    }

    #[tokio::test]
    async fn what_is_wrong_with_a_second_week_is_refused_all_at_once() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        let mut typed = turning(["8 furlongs"; 7], ["", "", "6 furlongs", "", "", "", ""]);
        typed.since = "1900-01-01".parse().ok();
        typed.second.as_mut().unwrap().stands_on = "2027-05-04".parse().unwrap();
        let refused = store.save_week(id, Version(0), &typed, at(1)).await;
        let Err(StoreError::Refused(problems)) = refused else { panic!("{refused:?}") };
        let places: Vec<_> = problems.into_iter().map(|problem| problem.at).collect();
        assert_eq!(places[7..], [Field::Since, Field::SecondSession(Weekday::Wed, 0), Field::StandsOn]);
        assert_eq!(store.week(id).await.unwrap().unwrap().version, Version(0));
    }

    #[tokio::test]
    async fn no_number_of_a_second_week_changes_its_meaning_either() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        store.save_week(id, Version(0), &turning(["8"; 7], ["5"; 7]), at(1)).await.unwrap();
        let before = store.week(id).await.unwrap().unwrap();
        let mut miles = draft("Ana");
        miles.athlete.units = DistanceUnit::Mi;
        store.save_athlete(id, Version(1), &miles, at(2)).await.unwrap();
        let after = store.week(id).await.unwrap().unwrap();
        assert_eq!(after.week, before.week);
        assert_eq!(after.second.unwrap().lines[6], "easy 5 km");
    }

    #[tokio::test]
    async fn a_line_of_a_second_week_that_cannot_be_read_names_its_place() {
        let store = open().await;
        let id = add(&store, "Ana").await;
        store.save_week(id, Version(0), &turning(["8"; 7], ["5"; 7]), at(1)).await.unwrap();
        sqlx::raw_sql("UPDATE second_week SET sat = '5 leagues'").execute(&mut store.stray().await).await.unwrap();
        let error = store.week(id).await.unwrap_err();
        assert!(error.to_string().starts_with(&format!("second_week.sat of row {id} cannot be read")), "{error}");
    }
}

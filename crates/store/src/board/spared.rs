//! Who cannot run as usual: ill, injured, just well again, or still in the recovery after a goal race.

use std::collections::{BTreeSet, HashMap};

use chrono::{Days, NaiveDate};
use planning::recovery;
use planning::replan::eased_until;
use planning::{EventKind, LifeEvent, Milli, Race, RaceDistance};
use sqlx::SqliteConnection;

use super::read::{Whose, races};
use super::row::Recovering;
use super::waits::WAY_BACK_DAYS;
use crate::Result;
use crate::cell::{self, Place};

/// The longest recovery, in days.
const RECOVERY_DAYS: u64 = 14;

macro_rules! select_unwell {
    ($rest:literal, $today:expr, $since:expr $(, $argument:expr)*) => {
        sqlx::query_as!(
            UnwellRow,
            r#"SELECT id AS "id!: i64", athlete AS "athlete!: i64", kind, fever AS "fever: bool", from_day, to_day, noted,
                      no_end IS 1 AS "open!: bool"
               FROM life_event
               WHERE removed_at IS NULL AND kind IN ('illness', 'injury') AND from_day <= ?
                     AND (to_day >= ? OR no_end = 1) "#
                + $rest
                + " ORDER BY athlete, from_day, id",
            $today,
            $since
            $(, $argument)*
        )
    };
}

struct UnwellRow {
    id: i64,
    athlete: i64,
    kind: String,
    fever: bool,
    from_day: String,
    to_day: String,
    noted: String,
    open: bool,
}

impl UnwellRow {
    fn read(&self) -> Result<LifeEvent> {
        let place = Place::new("life_event", self.id);
        Ok(LifeEvent {
            kind: place.word("kind", &self.kind, |code| EventKind::from_code(code, self.fever))?,
            from: place.day("from_day", &self.from_day)?,
            to: place.day("to_day", &self.to_day)?,
            noted: place.day("noted", &self.noted)?,
            open: self.open,
        })
    }
}

/// Illness and injury that last on a day, or whose easy days do, by athlete.
pub(super) async fn unwell(
    db: &mut SqliteConnection,
    whose: &Whose,
    today: NaiveDate,
) -> Result<HashMap<i64, Vec<LifeEvent>>> {
    let (day, since) = (cell::day_text(today), cell::day_text(today - Days::new(WAY_BACK_DAYS)));
    let rows = match whose {
        Whose::Everybody => select_unwell!("", day, since).fetch_all(db).await?,
        Whose::These(ids) => {
            select_unwell!("AND athlete IN (SELECT value FROM json_each(?))", day, since, ids).fetch_all(db).await?
        }
    };
    let mut found: HashMap<i64, Vec<LifeEvent>> = HashMap::new();
    for row in rows {
        let event = row.read()?.as_of(today);
        if eased_until(&event) >= today {
            found.entry(row.athlete).or_default().push(event);
        }
    }
    Ok(found)
}

/// Goal races that were run lately.
macro_rules! select_raced {
    ($from:literal, $rest:literal, $since:expr, $today:expr $(, $argument:expr)*) => {
        sqlx::query_as!(
            RacedRow,
            r#"SELECT entry.athlete, entry.race, entry.ran_distance, entry.ran_unit "#
                + $from
                + " LEFT JOIN result ON result.race = entry.race AND result.athlete = entry.athlete
               WHERE race.removed_at IS NULL AND race.called_off IS NULL AND entry.withdrawn_at IS NULL
                     AND entry.importance = 'goal' AND coalesce(result.outcome, '') <> 'did-not-start'
                     AND race.day >= ? AND race.day < ? "
                + $rest
                + " ORDER BY entry.athlete, race.day, race.id",
            $since,
            $today
            $(, $argument)*
        )
    };
}

struct RacedRow {
    athlete: i64,
    race: i64,
    ran_distance: Option<i64>,
    ran_unit: Option<String>,
}

/// The recovery that lasts on a day, by athlete; of several the one after the latest race.
pub(super) async fn recovering(
    db: &mut SqliteConnection,
    whose: &Whose,
    today: NaiveDate,
) -> Result<HashMap<i64, Recovering>> {
    let (since, day) = (cell::day_text(today - Days::new(RECOVERY_DAYS)), cell::day_text(today));
    let rows = match whose {
        Whose::Everybody => {
            select_raced!("FROM race CROSS JOIN entry ON entry.race = race.id", "", since, day)
                .fetch_all(&mut *db)
                .await?
        }
        Whose::These(ids) => {
            select_raced!(
                "FROM entry CROSS JOIN race ON race.id = entry.race",
                "AND entry.athlete IN (SELECT value FROM json_each(?))",
                since,
                day,
                ids
            )
            .fetch_all(&mut *db)
            .await?
        }
    };
    let run: BTreeSet<i64> = rows.iter().map(|row| row.race).collect();
    let races = races(db, run.into_iter()).await?;
    let mut found = HashMap::new();
    for row in rows {
        let Some(record) = races.get(&row.race) else { continue };
        let place = Place::new("entry", row.athlete);
        let distance = match (row.ran_distance, row.ran_unit) {
            (Some(value), Some(unit)) => {
                RaceDistance::Own(Milli(place.number("ran_distance", value)?), place.units("ran_unit", &unit)?)
            }
            _ => record.race.distance,
        };
        let until = recovery::ends(&Race { distance, ..record.race.clone() });
        if until >= today {
            found.insert(row.athlete, Recovering { race: record.race.name.clone(), until });
        }
    }
    Ok(found)
}

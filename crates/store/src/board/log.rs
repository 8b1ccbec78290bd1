//! What the log says lately of athletes whose block has begun.

use std::collections::HashMap;

use chrono::{Days, NaiveDate};
use planning::notation::read_week_ran;
use planning::{Amount, WeekRan};
use sqlx::SqliteConnection;

use super::row::{BoardLog, DAYS_BEFORE};
use crate::Result;
use crate::cell::{self, Place};
use crate::log::kept_session;

/// How far back it is looked whether anything was noted, in days: longer than any block.
const HEARD_DAYS: u64 = 42;

/// One athlete's log while it is read.
#[derive(Default)]
struct Reading {
    heard: Option<NaiveDate>,
    runs: Vec<(NaiveDate, Amount)>,
    weeks: Vec<(NaiveDate, WeekRan)>,
}

impl Reading {
    fn hear(&mut self, noted: NaiveDate) {
        self.heard = self.heard.max(Some(noted));
    }
}

/// The log of each athlete of a list (a JSON array of ids) who has one.
pub(super) async fn lately(
    db: &mut SqliteConnection,
    athletes: &str,
    today: NaiveDate,
) -> Result<HashMap<i64, BoardLog>> {
    let mut read: HashMap<i64, Reading> = HashMap::new();
    let from = today - Days::new(DAYS_BEFORE);
    let since = cell::day_text(today - Days::new(HEARD_DAYS));
    let sessions = sqlx::query!(
        "SELECT id, athlete, day, line, units, noted FROM done_session
         WHERE athlete IN (SELECT value FROM json_each(?)) AND day >= ? AND removed_at IS NULL
         ORDER BY athlete, day, id",
        athletes,
        since
    )
    .fetch_all(&mut *db)
    .await?;
    for row in sessions {
        let place = Place::new("done_session", row.id);
        let date = place.day("day", &row.day)?;
        let log = read.entry(row.athlete).or_default();
        log.hear(place.day("noted", &row.noted)?);
        if date < from {
            continue;
        }
        let session = kept_session(&row.line, place.units("units", &row.units)?, date)
            .map_err(|_| place.corrupt("line", format_args!("`{}` is not a session", row.line)))?;
        log.runs.extend(session.running().map(|amount| (date, amount)));
    }
    let weeks = sqlx::query!(
        "SELECT athlete, first_day, line, units, noted FROM done_week
         WHERE athlete IN (SELECT value FROM json_each(?)) AND first_day >= ? AND line <> ''
         ORDER BY athlete, first_day",
        athletes,
        since
    )
    .fetch_all(&mut *db)
    .await?;
    for row in weeks {
        let place = Place::new("done_week", row.athlete);
        let first = place.day("first_day", &row.first_day)?;
        let log = read.entry(row.athlete).or_default();
        log.hear(place.day("noted", &row.noted)?);
        if first < from {
            continue;
        }
        let ran = read_week_ran(&row.line, place.units("units", &row.units)?)
            .map_err(|_| place.corrupt("line", format_args!("`{}` is not a week that was run", row.line)))?;
        log.weeks.push((first, ran));
    }
    let kept = read.into_iter().map(|(athlete, log)| {
        let Reading { heard, runs, weeks } = log;
        (athlete, BoardLog { heard, runs: runs.into(), weeks: weeks.into() })
    });
    Ok(kept.collect())
}

//! Who cannot run as usual: ill, injured, just well again, or still in the recovery after a goal race.

use std::collections::{BTreeSet, HashMap};

use chrono::{Days, NaiveDate};
use planning::recovery;
use planning::replan::is_spared_on;
use planning::{Event, LifeEvent, Race};
use sqlx::SqliteConnection;

use super::read::{Whose, races};
use super::row::Recovering;
use super::waits::WAY_BACK_DAYS;
use crate::entries::ran;
use crate::{Result, cell, life};

/// Illness and injury that last on a day, or whose easy days do, by athlete.
pub(super) async fn unwell(
    db: &mut SqliteConnection,
    whose: &Whose,
    today: NaiveDate,
) -> Result<HashMap<i64, Vec<LifeEvent>>> {
    let ids = match whose {
        Whose::Everybody => None,
        Whose::These(ids) => Some(ids.as_ref()),
    };
    let mut found = HashMap::new();
    for (athlete, events) in life::unwell(db, ids, today, today - Days::new(WAY_BACK_DAYS)).await? {
        let events = events.into_iter().map(|record| record.event.as_of(today));
        let spared: Vec<LifeEvent> = events.filter(|event| is_spared_on(event, today)).collect();
        if !spared.is_empty() {
            found.insert(athlete.0, spared);
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
    // No race takes longer to recover from than the longest.
    let most = Days::new(u64::from(recovery::days(Event::Longer)));
    let (since, day) = (cell::day_text(today - most), cell::day_text(today));
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
        let ran = ran(row.athlete, row.ran_distance, row.ran_unit.as_deref())?;
        let distance = ran.unwrap_or(record.race.distance);
        let until = recovery::ends(&Race { distance, ..record.race.clone() });
        if until >= today {
            found.insert(row.athlete, Recovering { race: record.race.name.clone(), until });
        }
    }
    Ok(found)
}

//! Who cannot run as usual: ill, injured, just well again, or still on the way back from a goal race or from one that
//! was called off.

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use chrono::{Days, NaiveDate};
use planning::replan::is_spared_on;
use planning::replan::race::LONGEST_WAY_BACK;
use planning::timeline::{self, NextGoal, Phase, after_race};
use planning::{LifeEvent, Race};
use sqlx::SqliteConnection;

use super::read::{Whose, fetch_entries, races};
use super::row::Recovering;
use super::waits::WAY_BACK_DAYS;
use crate::blocks::read_document;
use crate::cell::Place;
use crate::entries::ran;
use crate::{RaceRecord, Result, cell, life};

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

/// Blocks whose race was called off lately, or not started, each as it stands and with the day on which that was known.
macro_rules! select_off {
    ($from:literal, $rest:literal, $shapes:expr, $since:expr, $today:expr $(, $argument:expr)*) => {
        sqlx::query_as!(
            OffRow,
            r#"SELECT entry.athlete, race.name, coalesce(race.called_off, race.day) AS "since!: String",
                      block_revision.id AS "revision!: i64", block_revision.document AS "document!: String" "#
                + $from
                + " JOIN block ON block.athlete = entry.athlete AND block.race = entry.race AND block.removed_at IS NULL
               JOIN block_revision ON block_revision.block = block.id AND block_revision.number = block.revision
               LEFT JOIN result ON result.race = entry.race AND result.athlete = entry.athlete
               WHERE race.removed_at IS NULL AND entry.withdrawn_at IS NULL AND race.day >= ?
                     AND (race.called_off IS NOT NULL OR result.outcome = 'did-not-start')
                     AND coalesce(race.called_off, race.day) BETWEEN ? AND ? "
                + $rest
                + " ORDER BY entry.athlete, race.day, race.id",
            $shapes,
            $since,
            $today
            $(, $argument)*
        )
    };
}

struct OffRow {
    athlete: i64,
    name: String,
    since: String,
    revision: i64,
    document: String,
}

/// The next goal race of each athlete, with the first day of the block before it.
pub(super) type Ahead = HashMap<i64, (Arc<RaceRecord>, NaiveDate)>;

/// What lies behind an athlete and still matters.
#[derive(Default)]
pub(super) struct Behind {
    /// From which race behind, or called off, the running still comes back on a day, by athlete: as the season says it.
    pub(super) recovering: HashMap<i64, Recovering>,
    /// Whose last goal race lies inside the block for the next.
    pub(super) inside: BTreeSet<i64>,
}

/// What lies behind each athlete on a day.
pub(super) async fn behind(
    db: &mut SqliteConnection,
    whose: &Whose,
    ahead: &Ahead,
    today: NaiveDate,
) -> Result<Behind> {
    let Behind { recovering: mut found, inside } = after_races(db, whose, ahead, today).await?;
    for (athlete, off) in after_called_off(db, whose, ahead, today).await? {
        // A day of the way back is one only where it is no day of recovery.
        if found.get(&athlete).is_none_or(|known| known.back.phase != Phase::Recovery) {
            found.insert(athlete, off);
        }
    }
    Ok(Behind { recovering: found, inside })
}

fn next_of(ahead: &Ahead, athlete: i64) -> Option<NextGoal<'_>> {
    ahead.get(&athlete).map(|(race, first_day)| NextGoal { race: &race.race, first_day: *first_day })
}

/// After the last goal race of each athlete.
async fn after_races(db: &mut SqliteConnection, whose: &Whose, ahead: &Ahead, today: NaiveDate) -> Result<Behind> {
    let (since, day) = (cell::day_text(shaped_since(today)), cell::day_text(today));
    let rows = fetch_entries!(select_raced, db, whose, since, day);
    let run: BTreeSet<i64> = rows.iter().map(|row| row.race).collect();
    let races = races(db, run.into_iter()).await?;
    let Behind { recovering: mut found, mut inside } = Behind::default();
    for row in rows {
        let Some(record) = races.get(&row.race) else { continue };
        let ran = ran(row.athlete, row.ran_distance, row.ran_unit.as_deref())?;
        let goal = Race { distance: ran.unwrap_or(record.race.distance), ..record.race.clone() };
        inside.extend(next_of(ahead, row.athlete).filter(|next| next.first_day <= goal.date).map(|_| row.athlete));
        let back = after_race(&goal, next_of(ahead, row.athlete), today);
        // Of several the last counts, and a recovery goes before every way back.
        let known = found.get(&row.athlete).map(|known: &Recovering| known.back.phase);
        if let Some(back) = back.filter(|back| back.phase == Phase::Recovery || known != Some(Phase::Recovery)) {
            found.insert(row.athlete, Recovering { race: goal.name, back });
        }
    }
    Ok(Behind { recovering: found, inside })
}

/// After the race of a block was called off, or not started.
async fn after_called_off(
    db: &mut SqliteConnection,
    whose: &Whose,
    ahead: &Ahead,
    today: NaiveDate,
) -> Result<HashMap<i64, Recovering>> {
    let since = cell::day_text(today - Days::new(u64::from(LONGEST_WAY_BACK)));
    let (shapes, day) = (cell::day_text(shaped_since(today)), cell::day_text(today));
    let rows = fetch_entries!(select_off, db, whose, shapes, since, day);
    let mut found = HashMap::new();
    for row in rows {
        let block = read_document(row.revision, &row.document)?;
        let noted = Place::new("race", row.athlete).day("called_off", &row.since)?;
        let back = timeline::after_called_off(&block, noted, next_of(ahead, row.athlete), today);
        found.extend(back.map(|back| (row.athlete, Recovering { race: row.name, back })));
    }
    Ok(found)
}

/// No race before it shapes a day.
fn shaped_since(today: NaiveDate) -> NaiveDate {
    today - Days::new(timeline::SHAPES_DAYS.unsigned_abs())
}

//! Goal notes: as they stand beside a block, and as the document that a hand-over keeps of them.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use serde::Deserialize;
use sqlx::SqliteConnection;

use crate::cell::{self, Place};
use crate::{BlockId, GoalNotes, Result, Store, Stretch, WrittenStretches};

/// The goal notes of a block; empty where none were saved.
pub(crate) async fn goals(db: &mut SqliteConnection, id: BlockId) -> Result<GoalNotes> {
    Ok(goals_of(db, &[id]).await?.remove(&id).unwrap_or_default())
}

/// The same of several blocks; nothing for one of which none were saved.
pub(crate) async fn goals_of(db: &mut SqliteConnection, ids: &[BlockId]) -> Result<HashMap<BlockId, GoalNotes>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows = sqlx::query!(
        "SELECT block, goal_a, goal_b, goal_c, belief, first_effort, first_focus, first_cue,
                middle_effort, middle_focus, middle_cue, last_effort, last_focus, last_cue, hard_moment, message
         FROM goal_notes WHERE block IN (SELECT value FROM json_each(?))",
        ids
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let notes = GoalNotes {
            a: row.goal_a,
            b: row.goal_b,
            c: row.goal_c,
            belief: row.belief,
            stretches: [
                Stretch { effort: row.first_effort, focus: row.first_focus, cue: row.first_cue },
                Stretch { effort: row.middle_effort, focus: row.middle_focus, cue: row.middle_cue },
                Stretch { effort: row.last_effort, focus: row.last_focus, cue: row.last_cue },
            ],
            hard_moment: row.hard_moment,
            message: row.message,
        };
        (BlockId(row.block), notes)
    });
    Ok(read.collect())
}

impl Store {
    /// The blocks whose stretches another may take over: those of the same race first, then what was made last, at most
    /// [`WrittenStretches::MOST`] of each.
    ///
    /// # Errors
    ///
    /// What the data file says.
    pub async fn stretches_elsewhere(&self, id: BlockId) -> Result<Vec<WrittenStretches>> {
        let mut db = self.reading().await?;
        let mut found = stretches_of_race(&mut db, id).await?;
        found.extend(last_stretches(&mut db, id).await?);
        Ok(found)
    }
}

async fn stretches_of_race(db: &mut SqliteConnection, id: BlockId) -> Result<Vec<WrittenStretches>> {
    let most = i64::from(WrittenStretches::MOST);
    let rows = sqlx::query!(
        "SELECT other.id, athlete.name, race.name AS race, race.day
         FROM block AS this
         JOIN entry ON entry.race = this.race AND entry.athlete <> this.athlete AND entry.withdrawn_at IS NULL
         JOIN block AS other ON other.athlete = entry.athlete AND other.race = entry.race AND other.removed_at IS NULL
         JOIN goal_notes ON goal_notes.block = other.id
         JOIN athlete ON athlete.id = other.athlete AND athlete.removed_at IS NULL
         JOIN race ON race.id = other.race
         WHERE this.id = ? AND (first_effort || first_focus || first_cue || middle_effort || middle_focus || middle_cue
               || last_effort || last_focus || last_cue) <> ''
         LIMIT ?",
        id.0,
        most
    )
    .fetch_all(db)
    .await?;
    rows.into_iter().map(|row| written(row.id, row.name, row.race, &row.day)).collect()
}

/// In the order of their making, so that the search ends with the first few.
async fn last_stretches(db: &mut SqliteConnection, id: BlockId) -> Result<Vec<WrittenStretches>> {
    let most = i64::from(WrittenStretches::MOST);
    let rows = sqlx::query!(
        "SELECT block.id, athlete.name, race.name AS race, race.day
         FROM goal_notes
         CROSS JOIN block ON block.id = goal_notes.block AND block.removed_at IS NULL
         CROSS JOIN entry ON entry.race = block.race AND entry.athlete = block.athlete AND entry.withdrawn_at IS NULL
         CROSS JOIN athlete ON athlete.id = block.athlete AND athlete.removed_at IS NULL
         CROSS JOIN race ON race.id = block.race AND race.removed_at IS NULL
         WHERE block.race <> (SELECT race FROM block WHERE id = ?)
           AND (first_effort || first_focus || first_cue || middle_effort || middle_focus || middle_cue || last_effort
                || last_focus || last_cue) <> ''
         ORDER BY goal_notes.block DESC LIMIT ?",
        id.0,
        most
    )
    .fetch_all(db)
    .await?;
    rows.into_iter().map(|row| written(row.id, row.name, row.race, &row.day)).collect()
}

fn written(block: i64, athlete: String, race: String, day: &str) -> Result<WrittenStretches> {
    let day = Place::new("race", block).day("day", day)?;
    Ok(WrittenStretches { block: BlockId(block), athlete, race, day })
}

/// Writes the goal notes of a block and counts the save.
pub(crate) async fn write_goals(
    db: &mut SqliteConnection,
    id: BlockId,
    goals: &GoalNotes,
    now: DateTime<Utc>,
) -> Result<()> {
    let saved_at = cell::instant_text(now);
    let [first, middle, last] = &goals.stretches;
    sqlx::query!(
        "INSERT INTO goal_notes (block, goal_a, goal_b, goal_c, belief,
                                 first_effort, first_focus, first_cue, middle_effort, middle_focus, middle_cue,
                                 last_effort, last_focus, last_cue, hard_moment, message, saved_at)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (block) DO UPDATE
         SET goal_a = excluded.goal_a, goal_b = excluded.goal_b, goal_c = excluded.goal_c,
             belief = excluded.belief, first_effort = excluded.first_effort, first_focus = excluded.first_focus,
             first_cue = excluded.first_cue, middle_effort = excluded.middle_effort,
             middle_focus = excluded.middle_focus, middle_cue = excluded.middle_cue,
             last_effort = excluded.last_effort, last_focus = excluded.last_focus, last_cue = excluded.last_cue,
             hard_moment = excluded.hard_moment, message = excluded.message, saved_at = excluded.saved_at",
        id.0,
        goals.a,
        goals.b,
        goals.c,
        goals.belief,
        first.effort,
        first.focus,
        first.cue,
        middle.effort,
        middle.focus,
        middle.cue,
        last.effort,
        last.focus,
        last.cue,
        goals.hard_moment,
        goals.message,
        saved_at
    )
    .execute(&mut *db)
    .await?;
    sqlx::query!("UPDATE block SET version = version + 1 WHERE id = ?", id.0).execute(&mut *db).await?;
    Ok(())
}

/// The goal notes of a block as they are now; nothing where nothing is written.
pub(crate) async fn goal_document(db: &mut SqliteConnection, id: BlockId) -> Result<Option<String>> {
    let document =
        sqlx::query_scalar!(r#"SELECT document AS "document!: String" FROM goal_document WHERE block = ?"#, id.0)
            .fetch_optional(db)
            .await?;
    Ok(document)
}

/// What such a document says.
///
/// # Errors
///
/// What cannot be read.
pub(crate) fn read_goals(document: Option<&str>) -> std::result::Result<GoalNotes, serde_json::Error> {
    let Some(text) = document else { return Ok(GoalNotes::default()) };
    let Document { a, b, c, belief, stretches, hard_moment, message } = serde_json::from_str(text)?;
    let stretches = stretches.map(|Part { effort, focus, cue }| Stretch { effort, focus, cue });
    Ok(GoalNotes { a, b, c, belief, stretches, hard_moment, message })
}

/// The view `goal_document` writes it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Document {
    a: String,
    b: String,
    c: String,
    belief: String,
    stretches: [Part; 3],
    hard_moment: String,
    message: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Part {
    effort: String,
    focus: String,
    cue: String,
}

//! Taper blocks: every revision of their days, and the goal notes beside them.

mod head;
mod read;
mod revision;

use chrono::{DateTime, Utc};
use planning::{Block, Settings};
use sqlx::SqliteConnection;

pub(crate) use self::head::{current, head};
pub(crate) use self::read::Blocks;
pub(crate) use self::revision::{Written, check_revisions, read_document, revision};
use self::revision::{newest_children, parent, write_document};
use crate::cell::{self, Place, commit_changed};
use crate::goals::write_goals;
use crate::{AthleteId, BlockId, GoalNotes, RaceId, Result, Store, StoreError, Version, WeekRecord};

impl Store {
    /// Keeps a new block (first revision). If the athlete has a block for the race already, that
    /// block's id is returned and nothing is written: a double click makes one block. One that was
    /// removed comes back as the same block with a further revision.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where the athlete is not entered in the race (any more),
    /// [`StoreError::Refused`].
    pub async fn add_block(
        &self,
        athlete: AthleteId,
        race: RaceId,
        settings: &Settings,
        week: &WeekRecord,
        block: &Block,
        now: DateTime<Utc>,
    ) -> Result<BlockId> {
        let row = Written::of(settings, week, block)?;
        let mut tx = self.writing().await?;
        let (Kept::New(id) | Kept::Known(id)) = keep(&mut tx, athlete, race, row, now).await?;
        tx.commit().await?;
        Ok(id)
    }

    /// Hides a block, its link included; undoable. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there never was such a block.
    pub async fn remove_block(&self, id: BlockId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let at = cell::instant_text(now);
        let done = sqlx::query!("UPDATE block SET removed_at = coalesce(removed_at, ?) WHERE id = ?", at, id.0)
            .execute(&mut *tx)
            .await?;
        commit_changed(tx, &done).await
    }

    /// Brings a removed block back as it was. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there never was such a block.
    pub async fn restore_block(&self, id: BlockId) -> Result<()> {
        let mut tx = self.writing().await?;
        let done = sqlx::query!("UPDATE block SET removed_at = NULL WHERE id = ?", id.0).execute(&mut *tx).await?;
        commit_changed(tx, &done).await
    }

    /// Keeps a new revision of a block and gives its number; goal notes stay as they are.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`], [`StoreError::Refused`].
    #[expect(clippy::too_many_arguments, reason = "each is a thing of its own that the revision keeps")]
    pub async fn revise_block(
        &self,
        id: BlockId,
        read_at: Version,
        settings: &Settings,
        week: &WeekRecord,
        block: &Block,
        reason: &str,
        now: DateTime<Utc>,
    ) -> Result<u32> {
        self.revise(id, read_at, Written::of(settings, week, block)?, reason, now).await
    }

    /// Keeps a new revision that lies under what happened on the way, with the plan as it is without
    /// that: taking an event back plans from there again.
    ///
    /// # Errors
    ///
    /// As [`Store::revise_block`].
    #[expect(clippy::too_many_arguments, reason = "each is a thing of its own that the revision keeps")]
    pub async fn replan_block(
        &self,
        id: BlockId,
        read_at: Version,
        settings: &Settings,
        week: &WeekRecord,
        block: &Block,
        before_events: &Block,
        reason: &str,
        now: DateTime<Utc>,
    ) -> Result<u32> {
        let mut row = Written::of(settings, week, block)?;
        if before_events != block {
            row.before_events = Some(write_document(before_events)?);
        }
        self.revise(id, read_at, row, reason, now).await
    }

    async fn revise(
        &self,
        id: BlockId,
        read_at: Version,
        row: Written<'_>,
        reason: &str,
        now: DateTime<Utc>,
    ) -> Result<u32> {
        let mut tx = self.writing().await?;
        let head = current(&mut tx, id, read_at).await?;
        let number = next_number(&mut tx, id).await?;
        row.insert(&mut tx, id, (number, Some(head.revision)), reason, &head.place, now).await?;
        show(&mut tx, id, number).await?;
        tx.commit().await?;
        Ok(number)
    }

    /// Goes back to the revision from which the present one was made, and gives its number; nothing
    /// where the present one is the first. No revision is lost.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`].
    pub async fn undo_block(&self, id: BlockId, read_at: Version) -> Result<Option<u32>> {
        let mut tx = self.writing().await?;
        let head = current(&mut tx, id, read_at).await?;
        let Some(to) = parent(&mut tx, id, head.revision).await? else {
            return Ok(None);
        };
        show(&mut tx, id, to).await?;
        tx.commit().await?;
        Ok(Some(to))
    }

    /// Goes forward to the newest revision made from the present one, and gives its number; nothing
    /// where there is none.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`].
    pub async fn redo_block(&self, id: BlockId, read_at: Version) -> Result<Option<u32>> {
        let mut tx = self.writing().await?;
        current(&mut tx, id, read_at).await?;
        let Some(step) = newest_children(&mut tx, &[id]).await?.remove(&id) else {
            return Ok(None);
        };
        show(&mut tx, id, step.to).await?;
        tx.commit().await?;
        Ok(Some(step.to))
    }

    /// Keeps a new revision with everything of an old one and gives its number; nothing where there is
    /// no such revision.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`].
    pub async fn restore_revision(
        &self,
        id: BlockId,
        read_at: Version,
        number: u32,
        now: DateTime<Utc>,
    ) -> Result<Option<u32>> {
        let mut tx = self.writing().await?;
        let head = current(&mut tx, id, read_at).await?;
        let fresh = next_number(&mut tx, id).await?;
        let (made_at, reason) = (cell::instant_text(now), format!("restored version {number}"));
        let copied = sqlx::query!(
            "INSERT INTO block_revision (block, number, made_at, reason, parent, days, curve, floor, shape, day_before,
                                         extra_rest, week_version, week_units, week_lines, week_range, week_since,
                                         week_saved_at, second_week_lines, second_week_stands_on, place, document, before_events)
             SELECT block, ?, ?, ?, ?, days, curve, floor, shape, day_before, extra_rest, week_version, week_units,
                    week_lines, week_range, week_since, week_saved_at, second_week_lines, second_week_stands_on, place,
                    document, before_events
             FROM block_revision WHERE block = ? AND number = ?",
            fresh,
            made_at,
            reason,
            head.revision,
            id.0,
            number
        )
        .execute(&mut *tx)
        .await?;
        if copied.rows_affected() == 0 {
            return Ok(None);
        }
        show(&mut tx, id, fresh).await?;
        tx.commit().await?;
        Ok(Some(fresh))
    }

    /// Saves the goal notes of a block read at a version.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`].
    pub async fn save_goals(&self, id: BlockId, read_at: Version, goals: &GoalNotes, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        current(&mut tx, id, read_at).await?;
        write_goals(&mut tx, id, goals, now).await?;
        tx.commit().await?;
        Ok(())
    }
}

/// A block that was to be kept.
pub(crate) enum Kept {
    /// It is new, or was removed and is there again.
    New(BlockId),
    /// There is one already, which stays as it is.
    Known(BlockId),
}

/// Keeps the block of an athlete for a race, see [`Store::add_block`].
pub(crate) async fn keep(
    db: &mut SqliteConnection,
    athlete: AthleteId,
    race: RaceId,
    row: Written<'_>,
    now: DateTime<Utc>,
) -> Result<Kept> {
    let place = place_if_entered(db, athlete, race).await?.ok_or(StoreError::Gone)?;
    let made_at = cell::instant_text(now);
    let Some(known) = block_of(db, athlete, race).await? else {
        let id = sqlx::query_scalar!(
            r#"INSERT INTO block (athlete, race, version, revision, made_at) VALUES (?, ?, 1, 1, ?) RETURNING id AS "id!""#,
            athlete.0,
            race.0,
            made_at
        )
        .fetch_one(&mut *db)
        .await?;
        let id = BlockId(id);
        row.insert(db, id, (1, None), "made", &place, now).await?;
        note_present(db, id, 1).await?;
        return Ok(Kept::New(id));
    };
    let brought_back = sqlx::query_scalar!(
        "UPDATE block SET removed_at = NULL WHERE id = ? AND removed_at IS NOT NULL RETURNING revision",
        known.0
    )
    .fetch_optional(&mut *db)
    .await?;
    let Some(before) = brought_back else {
        return Ok(Kept::Known(known));
    };
    let before = Place::new("block", known.0).number("revision", before)?;
    let number = next_number(db, known).await?;
    row.insert(db, known, (number, Some(before)), "made again", &place, now).await?;
    show(db, known, number).await?;
    Ok(Kept::New(known))
}

/// Makes a revision the present one.
async fn show(db: &mut SqliteConnection, id: BlockId, number: u32) -> Result<()> {
    sqlx::query!("UPDATE block SET version = version + 1, revision = ? WHERE id = ?", number, id.0)
        .execute(&mut *db)
        .await?;
    note_present(db, id, number).await
}

/// Notes that a revision is the present one now: see `migrations/0003_calendar.sql`.
async fn note_present(db: &mut SqliteConnection, id: BlockId, number: u32) -> Result<()> {
    sqlx::query!("INSERT INTO block_present (block, revision) VALUES (?, ?)", id.0, number).execute(db).await?;
    Ok(())
}

/// The number of a revision that is still to come: numbers are never given twice, whatever was undone.
async fn next_number(db: &mut SqliteConnection, id: BlockId) -> Result<u32> {
    let newest = sqlx::query_scalar!(
        r#"SELECT coalesce(max(number), 0) AS "newest!: i64" FROM block_revision WHERE block = ?"#,
        id.0
    )
    .fetch_one(db)
    .await?;
    Ok(Place::new("block", id.0).number::<u32>("revision", newest)? + 1)
}

/// The block of an entry, hidden or not.
async fn block_of(db: &mut SqliteConnection, athlete: AthleteId, race: RaceId) -> Result<Option<BlockId>> {
    let id = sqlx::query_scalar!(r#"SELECT id AS "id!" FROM block WHERE athlete = ? AND race = ?"#, athlete.0, race.0)
        .fetch_optional(db)
        .await?;
    Ok(id.map(BlockId))
}

/// Where the race is, if the athlete is entered in it and nothing of it is hidden.
async fn place_if_entered(db: &mut SqliteConnection, athlete: AthleteId, race: RaceId) -> Result<Option<String>> {
    let place = sqlx::query_scalar!(
        "SELECT race.place
         FROM entry
         JOIN athlete ON athlete.id = entry.athlete AND athlete.removed_at IS NULL
         JOIN race ON race.id = entry.race AND race.removed_at IS NULL
         WHERE entry.athlete = ? AND entry.race = ? AND entry.withdrawn_at IS NULL",
        athlete.0,
        race.0
    )
    .fetch_optional(db)
    .await?;
    Ok(place)
}

#[cfg(test)]
mod tests;

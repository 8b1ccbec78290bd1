//! Taper blocks: every revision of their days, and the goal notes beside them.

use chrono::{DateTime, Utc};
use planning::curve::ExtraRest;
use planning::week::{weekday_code, weekday_from_code};
use planning::{Block, DayBefore, Importance, Outcome, Settings, Shape};
use sqlx::SqliteConnection;

use crate::athletes::athlete;
use crate::cell::{self, Place, commit_changed};
use crate::document;
use crate::entries::importance;
use crate::race_sheets::race_sheet;
use crate::races::race;
use crate::shares::working_share;
use crate::weeks::WeekLines;
use crate::{
    AthleteId, BlockId, BlockRecord, GoalNotes, RaceId, RaceRecord, Result, Revision, RevisionHead, SecondWeek, Step,
    Store, StoreError, Stretch, Version, WeekDraft, WeekRecord,
};

impl Store {
    /// One block with everything around it.
    pub async fn block(&self, id: BlockId) -> Result<Option<BlockRecord>> {
        let mut tx = self.reading().await?;
        let Some(head) = head(&mut tx, id).await? else {
            return Ok(None);
        };
        let (Some(athlete), Some(race)) = (athlete(&mut tx, head.athlete).await?, entered(&mut tx, &head).await?)
        else {
            return Ok(None);
        };
        let Some(kept) = revision(&mut tx, id, head.revision).await? else {
            return Err(Place::new("block", id.0).corrupt("revision", "there is no such revision"));
        };
        let goals = goals(&mut tx, id).await?;
        let race_sheet = race_sheet(&mut tx, id).await?;
        let share = working_share(&mut tx, id).await?;
        let undo = parent(&mut tx, id, head.revision).await?.map(|to| Step { to, reason: kept.reason.clone() });
        let redo = newest_child(&mut tx, id, head.revision).await?;
        Ok(Some(BlockRecord {
            id,
            version: head.version,
            revision: head.revision,
            begun: head.begun,
            made: kept.made,
            reason: kept.reason,
            athlete,
            race,
            outcome: head.outcome,
            week: kept.week,
            settings: kept.settings,
            block: kept.block,
            before_events: kept.before_events,
            goals,
            race_sheet,
            share,
            undo,
            redo,
        }))
    }

    /// Every revision of a block, the newest first; nothing where there is no such block.
    pub async fn revisions(&self, id: BlockId) -> Result<Option<Vec<RevisionHead>>> {
        let mut tx = self.reading().await?;
        let Some(head) = head(&mut tx, id).await? else {
            return Ok(None);
        };
        let rows = sqlx::query!(
            r#"SELECT id, number, made_at, reason, parent,
                      (SELECT max(at) FROM hand_over
                       WHERE hand_over.block = block_revision.block AND hand_over.revision = block_revision.number)
                          AS "handed_over: String"
               FROM block_revision WHERE block = ? ORDER BY number DESC"#,
            id.0
        )
        .fetch_all(&mut *tx)
        .await?;
        let read = rows.into_iter().map(|row| {
            let place = revision_place(row.id);
            let number = place.number("number", row.number)?;
            Ok(RevisionHead {
                number,
                made: place.instant("made_at", &row.made_at)?,
                reason: row.reason,
                parent: row.parent.map(|parent| place.number("parent", parent)).transpose()?,
                is_present: number == head.revision,
                handed_over: row.handed_over.map(|text| place.instant("handed_over_at", &text)).transpose()?,
            })
        });
        Ok(Some(read.collect::<Result<_>>()?))
    }

    /// One revision of a block; nothing where there is no such block or no such revision.
    pub async fn revision(&self, id: BlockId, number: u32) -> Result<Option<Revision>> {
        let mut tx = self.reading().await?;
        if head(&mut tx, id).await?.is_none() {
            return Ok(None);
        }
        revision(&mut tx, id, number).await
    }

    /// The block of an athlete for a race, if there is one that is not hidden.
    pub async fn block_for(&self, athlete: AthleteId, race: RaceId) -> Result<Option<BlockId>> {
        let mut tx = self.reading().await?;
        match block_of(&mut tx, athlete, race).await? {
            Some(id) => Ok(head(&mut tx, id).await?.map(|_| id)),
            None => Ok(None),
        }
    }

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
        let head = current(&mut tx, id, read_at).await?;
        let Some(step) = newest_child(&mut tx, id, head.revision).await? else {
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

/// A block that is not hidden, without its days.
pub(crate) struct Head {
    pub(crate) athlete: AthleteId,
    pub(crate) race: RaceId,
    pub(crate) version: Version,
    pub(crate) revision: u32,
    importance: Importance,
    outcome: Option<Outcome>,
    /// Where the race is now.
    place: String,
    /// When the block was first made.
    begun: DateTime<Utc>,
}

pub(crate) async fn head(db: &mut SqliteConnection, id: BlockId) -> Result<Option<Head>> {
    let row = sqlx::query!(
        r#"SELECT block.athlete, block.race, block.version, block.revision, block.made_at, entry.importance, race.place,
                result.outcome AS "outcome?"
         FROM block
         JOIN entry ON entry.race = block.race AND entry.athlete = block.athlete AND entry.withdrawn_at IS NULL
         JOIN athlete ON athlete.id = block.athlete AND athlete.removed_at IS NULL
         JOIN race ON race.id = block.race AND race.removed_at IS NULL
         LEFT JOIN result ON result.race = block.race AND result.athlete = block.athlete
         WHERE block.id = ? AND block.removed_at IS NULL"#,
        id.0
    )
    .fetch_optional(db)
    .await?;
    row.map(|row| {
        let read = |code: String| Place::new("result", row.athlete).word("outcome", &code, Outcome::from_code);
        Ok(Head {
            outcome: row.outcome.map(read).transpose()?,
            athlete: AthleteId(row.athlete),
            race: RaceId(row.race),
            version: Version(row.version),
            revision: Place::new("block", id.0).number("revision", row.revision)?,
            importance: importance(row.athlete, &row.importance)?,
            place: row.place,
            begun: Place::new("block", id.0).instant("made_at", &row.made_at)?,
        })
    })
    .transpose()
}

/// A block that is as it was when somebody read it.
pub(crate) async fn current(db: &mut SqliteConnection, id: BlockId, read_at: Version) -> Result<Head> {
    let head = head(db, id).await?.ok_or(StoreError::Gone)?;
    if head.version == read_at { Ok(head) } else { Err(StoreError::Conflict) }
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

/// The revision from which another was made.
async fn parent(db: &mut SqliteConnection, id: BlockId, number: u32) -> Result<Option<u32>> {
    let row = sqlx::query!("SELECT id, parent FROM block_revision WHERE block = ? AND number = ?", id.0, number)
        .fetch_optional(db)
        .await?;
    let of =
        |row: i64, parent: Option<i64>| parent.map(|parent| revision_place(row).number("parent", parent)).transpose();
    row.map_or(Ok(None), |row| of(row.id, row.parent))
}

/// The newest revision made from another, and why it was made.
async fn newest_child(db: &mut SqliteConnection, id: BlockId, number: u32) -> Result<Option<Step>> {
    let row = sqlx::query!(
        "SELECT id, number, reason FROM block_revision WHERE block = ? AND parent = ? ORDER BY number DESC LIMIT 1",
        id.0,
        number
    )
    .fetch_optional(db)
    .await?;
    row.map(|row| Ok(Step { to: revision_place(row.id).number("number", row.number)?, reason: row.reason })).transpose()
}

/// The race of a block with the athlete's stake in it.
async fn entered(db: &mut SqliteConnection, head: &Head) -> Result<Option<RaceRecord>> {
    let mut record = race(db, head.race).await?;
    if let Some(record) = &mut record {
        record.race.importance = head.importance;
    }
    Ok(record)
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

pub(crate) async fn revision(db: &mut SqliteConnection, block: BlockId, number: u32) -> Result<Option<Revision>> {
    let row = sqlx::query_as!(
        RevisionRow,
        "SELECT id, number, made_at, reason, days, curve, floor, shape, day_before, extra_rest,
                week_version, week_units, week_lines, week_range, week_since, second_week_lines,
                second_week_stands_on, week_saved_at, document, before_events
         FROM block_revision WHERE block = ? AND number = ?",
        block.0,
        number
    )
    .fetch_optional(db)
    .await?;
    row.map(RevisionRow::read).transpose()
}

/// Every revision of every block, hidden or not: for the check of the whole file. One at a time,
/// because all of them together may be large.
pub(crate) async fn check_revisions(db: &mut SqliteConnection) -> Result<Vec<StoreError>> {
    let mut found = Vec::new();
    let ids = sqlx::query_scalar!("SELECT id FROM block_revision ORDER BY id").fetch_all(&mut *db).await?;
    for id in ids {
        let row = sqlx::query_as!(
            RevisionRow,
            "SELECT id, number, made_at, reason, days, curve, floor, shape, day_before, extra_rest,
                    week_version, week_units, week_lines, week_range, week_since, second_week_lines,
                second_week_stands_on, week_saved_at, document, before_events
             FROM block_revision WHERE id = ?",
            id
        )
        .fetch_one(&mut *db)
        .await?;
        found.extend(row.read().err());
    }
    Ok(found)
}

struct RevisionRow {
    id: i64,
    number: i64,
    made_at: String,
    reason: String,
    days: Option<i64>,
    curve: Option<f64>,
    floor: Option<f64>,
    shape: String,
    day_before: String,
    extra_rest: String,
    week_version: i64,
    week_units: String,
    week_lines: String,
    week_range: String,
    week_since: Option<String>,
    second_week_lines: Option<String>,
    second_week_stands_on: Option<String>,
    week_saved_at: Option<String>,
    document: String,
    before_events: Option<String>,
}

impl RevisionRow {
    fn read(self) -> Result<Revision> {
        let place = revision_place(self.id);
        let settings = Settings {
            days: self.days.map(|days| place.number("days", days)).transpose()?,
            curve: self.curve,
            floor: self.floor,
            shape: place.word("shape", &self.shape, Shape::from_code)?,
            day_before: place.word("day_before", &self.day_before, DayBefore::from_code)?,
            extra_rest: place.word("extra_rest", &self.extra_rest, extra_rest_of)?,
        };
        let second = match (self.second_week_lines, self.second_week_stands_on) {
            (Some(lines), Some(stands_on)) => Some(SecondWeek {
                lines: serde_json::from_str(&lines).map_err(|error| place.corrupt("second_week_lines", error))?,
                stands_on: place.day("second_week_stands_on", &stands_on)?,
            }),
            _ => None,
        };
        let lines = WeekLines {
            units: place.units("week_units", &self.week_units)?,
            draft: WeekDraft {
                lines: serde_json::from_str(&self.week_lines).map_err(|error| place.corrupt("week_lines", error))?,
                range: self.week_range,
                second,
                since: self.week_since.map(|text| place.day("week_since", &text)).transpose()?,
            },
        };
        let saved = self.week_saved_at.map(|text| place.instant("week_saved_at", &text)).transpose()?;
        let (first, second) = ((place, ["week_lines"; 7]), (place, ["second_week_lines"; 7]));
        let week = lines.read(Version(self.week_version), saved, first, second)?;
        Ok(Revision {
            number: place.number("number", self.number)?,
            made: place.instant("made_at", &self.made_at)?,
            reason: self.reason,
            settings,
            week,
            block: read_document(self.id, &self.document)?,
            before_events: self.before_events.map(|text| read_document(self.id, &text)).transpose()?,
        })
    }
}

const fn revision_place(row: i64) -> Place {
    Place::new("block_revision", row)
}

/// The days that a row of `block_revision` holds.
pub(crate) fn read_document(row: i64, text: &str) -> Result<Block> {
    document::read(text).map_err(|reason| revision_place(row).corrupt("document", reason))
}

/// A revision as its row holds it.
pub(crate) struct Written<'a> {
    settings: &'a Settings,
    week: &'a WeekRecord,
    week_lines: String,
    document: String,
    /// The plan without what happened on the way, where that is another.
    before_events: Option<String>,
}

fn write_document(block: &Block) -> Result<String> {
    document::write(block).map_err(|reason| revision_place(0).corrupt("document", reason))
}

impl<'a> Written<'a> {
    pub(crate) fn of(settings: &'a Settings, week: &'a WeekRecord, block: &Block) -> Result<Self> {
        let problems = settings.problems();
        if !problems.is_empty() {
            return Err(StoreError::Refused(problems));
        }
        let problems = crate::weeks::problems(&week.draft(), week.units);
        if !problems.is_empty() {
            return Err(StoreError::Refused(problems));
        }
        Ok(Self {
            settings,
            week,
            week_lines: serde_json::Value::from(week.lines.as_slice()).to_string(),
            document: write_document(block)?,
            before_events: None,
        })
    }

    async fn insert(
        self,
        db: &mut SqliteConnection,
        block: BlockId,
        (number, parent): (u32, Option<u32>),
        reason: &str,
        race_place: &str,
        now: DateTime<Utc>,
    ) -> Result<()> {
        let days = self.settings.days.map(i64::from);
        let (shape, day_before) = (self.settings.shape.code(), self.settings.day_before.code());
        let extra_rest = extra_rest_text(self.settings.extra_rest);
        let units = self.week.units.symbol();
        let (made_at, week_saved_at) = (cell::instant_text(now), self.week.saved.map(cell::instant_text));
        let week_since = self.week.since.map(cell::day_text);
        let second = self.week.second.as_ref();
        let second_lines = second.map(|second| serde_json::Value::from(second.lines.as_slice()).to_string());
        let second_stands_on = second.map(|second| cell::day_text(second.stands_on));
        sqlx::query!(
            "INSERT INTO block_revision (block, number, made_at, reason, parent, days, curve, floor, shape, day_before,
                                         extra_rest, week_version, week_units, week_lines, week_range,
                                         week_since, second_week_lines, second_week_stands_on, week_saved_at,
                                         place, document, before_events)
             VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            block.0,
            number,
            made_at,
            reason,
            parent,
            days,
            self.settings.curve,
            self.settings.floor,
            shape,
            day_before,
            extra_rest,
            self.week.version.0,
            units,
            self.week_lines,
            self.week.range,
            week_since,
            second_lines,
            second_stands_on,
            week_saved_at,
            race_place,
            self.document,
            self.before_events
        )
        .execute(db)
        .await?;
        Ok(())
    }
}

const fn extra_rest_text(choice: ExtraRest) -> &'static str {
    match choice {
        ExtraRest::Auto => "auto",
        ExtraRest::None => "none",
        ExtraRest::On(weekday) => weekday_code(weekday),
    }
}

fn extra_rest_of(text: &str) -> Option<ExtraRest> {
    match text {
        "auto" => Some(ExtraRest::Auto),
        "none" => Some(ExtraRest::None),
        weekday => weekday_from_code(weekday).map(ExtraRest::On),
    }
}

/// The goal notes of a block; empty where none were saved.
pub(crate) async fn goals(db: &mut SqliteConnection, id: BlockId) -> Result<GoalNotes> {
    let row = sqlx::query!(
        "SELECT goal_a, goal_b, goal_c, belief, first_effort, first_focus, first_cue,
                middle_effort, middle_focus, middle_cue, last_effort, last_focus, last_cue, hard_moment, message
         FROM goal_notes WHERE block = ?",
        id.0
    )
    .fetch_optional(db)
    .await?;
    Ok(row.map_or_else(GoalNotes::default, |row| GoalNotes {
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
    }))
}

#[cfg(test)]
mod tests {
    use chrono::Weekday;
    use planning::{Field, Session};

    use super::*;
    use crate::testing::{Squad, at, draft, planned_block, race_on, squad};

    fn wanted() -> Settings {
        Settings {
            days: Some(12),
            curve: Some(0.1 + 0.7),
            floor: Some(1.0 / 3.0),
            shape: Shape::Linear,
            day_before: DayBefore::Rest,
            extra_rest: ExtraRest::On(Weekday::Fri),
        }
    }

    fn written_goals() -> GoalNotes {
        let stretch = |word: &str| Stretch {
            effort: format!("{word} effort"),
            focus: format!("{word} focus"),
            cue: format!("{word} cue"),
        };
        GoalNotes {
            a: "1:38".to_owned(),
            b: "1:41".to_owned(),
            c: "smile at the bridge".to_owned(),
            belief: "four steady months".to_owned(),
            stretches: [stretch("first"), stretch("middle"), stretch("last")],
            hard_moment: "one lamp post more".to_owned(),
            message: "Enjoy it.".to_owned(),
        }
    }

    #[tokio::test]
    async fn a_re_planned_block_keeps_the_plan_under_it() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &wanted(), &week, &block, at(5)).await.unwrap();
        let mut lighter = block.clone();
        lighter.days.iter_mut().for_each(|day| day.sessions.clear());
        let read_at = store.block(id).await.unwrap().unwrap().version;
        store.replan_block(id, read_at, &wanted(), &week, &lighter, &block, "re-planned", at(6)).await.unwrap();
        let kept = store.block(id).await.unwrap().unwrap();
        assert_eq!((&kept.block, kept.before_events.as_ref()), (&lighter, Some(&block)));
        store.replan_block(id, kept.version, &wanted(), &week, &block, &block, "taken back", at(7)).await.unwrap();
        let kept = store.block(id).await.unwrap().unwrap();
        assert_eq!((&kept.block, kept.before_events), (&block, None));
    }

    #[tokio::test]
    async fn a_block_comes_back_as_it_was_made() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &wanted(), &week, &block, at(5)).await.unwrap();
        let kept = store.block(id).await.unwrap().unwrap();
        let expected = BlockRecord {
            outcome: None,
            id,
            version: Version(1),
            revision: 1,
            begun: at(5),
            made: at(5),
            reason: "made".to_owned(),
            athlete: store.athlete(athlete).await.unwrap().unwrap(),
            race: store.race(race).await.unwrap().unwrap(),
            week,
            settings: wanted(),
            block,
            before_events: None,
            goals: GoalNotes::default(),
            race_sheet: crate::RaceSheet::default(),
            share: None,
            undo: None,
            redo: None,
        };
        assert_eq!(kept, expected);
        assert_eq!(store.block_for(athlete, race).await.unwrap(), Some(id));
        assert_eq!(store.block(BlockId(99)).await.unwrap(), None);
    }

    #[tokio::test]
    async fn a_revision_keeps_the_second_week_as_it_was_then() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let second = SecondWeek { lines: week.lines.clone(), stands_on: "2027-05-03".parse().unwrap() };
        let draft = WeekDraft { second: Some(second), since: "2027-03-01".parse().ok(), ..week.draft() };
        store.save_week(athlete, week.version, &draft, at(4)).await.unwrap();
        let turning = store.week(athlete).await.unwrap().unwrap();
        let id = store.add_block(athlete, race, &wanted(), &turning, &block, at(5)).await.unwrap();
        store.save_week(athlete, turning.version, &WeekDraft::default(), at(6)).await.unwrap();
        let kept = store.block(id).await.unwrap().unwrap().week;
        assert_eq!(kept, turning);
        assert!(kept.week.turns().is_some() && kept.week.since().is_some());
    }

    #[tokio::test]
    async fn a_double_click_makes_one_block() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let first = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let second = store.add_block(athlete, race, &wanted(), &week, &block, at(6)).await.unwrap();
        assert_eq!(first, second);
        let kept = store.block(first).await.unwrap().unwrap();
        assert_eq!((kept.settings, kept.revision), (Settings::default(), 1), "the second click wrote nothing");
    }

    #[tokio::test]
    async fn goal_notes_and_old_revisions_survive_a_new_revision() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        store.save_goals(id, Version(1), &written_goals(), at(6)).await.unwrap();

        let mut bent = block.clone();
        bent.days[3].sessions.clear();
        let number = store.revise_block(id, Version(2), &wanted(), &week, &bent, "made anew", at(7)).await.unwrap();
        let kept = store.block(id).await.unwrap().unwrap();
        assert_eq!((number, kept.revision, kept.version), (2, 2, Version(3)));
        assert_eq!((kept.block, kept.settings, kept.reason.as_str()), (bent, wanted(), "made anew"));
        assert_eq!((kept.goals, kept.made), (written_goals(), at(7)));

        let mut db = store.read_connection().await.unwrap();
        let first = revision(&mut db, id, 1).await.unwrap().unwrap();
        assert_eq!((first.block, first.made), (block, at(5)));
    }

    #[tokio::test]
    async fn stale_saves_of_days_and_of_goals_are_conflicts() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        store.save_goals(id, Version(1), &written_goals(), at(6)).await.unwrap();
        let stale = store.save_goals(id, Version(1), &GoalNotes::default(), at(7)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        let stale = store.revise_block(id, Version(1), &wanted(), &week, &block, "made anew", at(8)).await;
        assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
        let kept = store.block(id).await.unwrap().unwrap();
        assert_eq!((kept.goals, kept.revision, kept.version), (written_goals(), 1, Version(2)));
    }

    #[tokio::test]
    async fn a_block_is_hidden_with_its_entry_its_athlete_or_its_race_and_comes_back() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        let hidden = async || {
            assert_eq!(store.block(id).await.unwrap(), None);
            assert_eq!(store.block_for(athlete, race).await.unwrap(), None);
            let gone = store.save_goals(id, Version(1), &written_goals(), at(6)).await;
            assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
            let gone = store.add_block(athlete, race, &Settings::default(), &week, &block, at(6)).await;
            assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
        };
        store.withdraw(race, athlete, at(6)).await.unwrap();
        hidden().await;
        store.enter(race, athlete, Importance::TuneUp, at(7)).await.unwrap();
        let back = store.block(id).await.unwrap().unwrap();
        assert_eq!((back.block, back.race.race.importance), (block.clone(), Importance::TuneUp));

        store.remove_race(race, at(8)).await.unwrap();
        hidden().await;
        store.restore_race(race, at(9)).await.unwrap();
        store.remove_athlete(athlete, at(10)).await.unwrap();
        hidden().await;
        store.restore_athlete(athlete, at(11)).await.unwrap();
        assert!(store.block(id).await.unwrap().is_some());
    }

    #[tokio::test]
    async fn the_week_of_a_block_stays_as_it_was_when_the_base_week_changes() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        store.save_week(athlete, week.version, &WeekDraft::default(), at(6)).await.unwrap();
        let mut miles = draft("Ana");
        miles.athlete.units = planning::DistanceUnit::Mi;
        store.save_athlete(athlete, Version(1), &miles, at(7)).await.unwrap();
        assert_eq!(store.block(id).await.unwrap().unwrap().week, week);
    }

    #[tokio::test]
    async fn what_would_not_read_back_is_not_kept() {
        let Squad { store, athlete, race, mut week, mut block } = squad().await;
        let strange = Settings { floor: Some(2.0), ..Settings::default() };
        let refused = store.add_block(athlete, race, &strange, &week, &block, at(5)).await;
        let Err(StoreError::Refused(problems)) = refused else { panic!("{refused:?}") };
        assert_eq!(problems[0].at, Field::Floor);

        block.race_day = race_on("2027-05-10").date;
        let refused = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await;
        assert!(matches!(refused, Err(StoreError::Corrupt { column: "document", .. })), "{refused:?}");

        week.lines[2] = "8 leagues".to_owned();
        let block = planned_block("2027-05-09");
        let refused = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await;
        assert!(matches!(refused, Err(StoreError::Refused(_))), "{refused:?}");
        assert_eq!(store.block_for(athlete, race).await.unwrap(), None);
    }

    #[tokio::test]
    async fn a_document_that_cannot_be_read_names_its_place() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        sqlx::raw_sql("UPDATE block_revision SET document = replace(document, 'easy 8 km', 'easy 8 leagues')")
            .execute(&mut store.stray().await)
            .await
            .unwrap();
        let error = store.block(id).await.unwrap_err().to_string();
        assert!(error.starts_with("block_revision.document of row 1 cannot be read: 2027-"), "{error}");
    }

    #[tokio::test(flavor = "multi_thread")]
    async fn of_twenty_blocks_made_at_once_one_is_kept() {
        let Squad { store, athlete, race, week, block } = squad().await;
        let makes: Vec<_> = (0..20)
            .map(|number| {
                let (store, week, mut block) = (store.store.clone(), week.clone(), block.clone());
                block.days[0].sessions.truncate(number % 2);
                tokio::spawn(async move {
                    store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap()
                })
            })
            .collect();
        let mut ids = Vec::new();
        for make in makes {
            ids.push(make.await.unwrap());
        }
        ids.dedup();
        assert_eq!(ids.len(), 1, "{ids:?}");
    }

    #[tokio::test]
    async fn a_session_note_comes_back_with_the_block() {
        let Squad { store, athlete, race, week, mut block } = squad().await;
        let noted: &mut Session = &mut block.days[8].sessions[0].session;
        noted.note = "with Bo; \"no watch\"\n(really)".to_owned();
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        assert_eq!(store.block(id).await.unwrap().unwrap().block, block);
    }

    /// A block of which one more day is rest in each revision.
    async fn bent_twice() -> (Squad, BlockId, Vec<Block>) {
        let squad = squad().await;
        let mut blocks = vec![squad.block.clone()];
        let Squad { store, athlete, race, week, block } = &squad;
        let id = store.add_block(*athlete, *race, &Settings::default(), week, block, at(5)).await.unwrap();
        for (number, reason) in ["fixed Tue 27 Apr", "swapped two days"].into_iter().enumerate() {
            let mut bent = blocks[number].clone();
            bent.days[number + 1].sessions.clear();
            let read_at = store.block(id).await.unwrap().unwrap().version;
            store.revise_block(id, read_at, &wanted(), week, &bent, reason, at(6)).await.unwrap();
            blocks.push(bent);
        }
        (squad, id, blocks)
    }

    fn step(to: u32, reason: &str) -> Step {
        Step { to, reason: reason.to_owned() }
    }

    #[tokio::test]
    async fn undo_goes_back_step_by_step_and_redo_comes_forward_again() {
        let (Squad { store, .. }, id, blocks) = bent_twice().await;
        let kept = async || store.block(id).await.unwrap().unwrap();
        let present = kept().await;
        assert_eq!((&present.block, present.undo, present.redo), (&blocks[2], Some(step(2, "swapped two days")), None));
        assert_eq!(store.redo_block(id, present.version).await.unwrap(), None, "nothing to redo");

        assert_eq!(store.undo_block(id, present.version).await.unwrap(), Some(2));
        let back = kept().await;
        assert_eq!((&back.block, back.revision), (&blocks[1], 2));
        assert_eq!((back.undo, back.redo), (Some(step(1, "fixed Tue 27 Apr")), Some(step(3, "swapped two days"))));
        assert_eq!(store.undo_block(id, back.version).await.unwrap(), Some(1));
        let first = kept().await;
        assert_eq!((&first.block, first.settings, first.undo), (&blocks[0], Settings::default(), None));
        assert_eq!(store.undo_block(id, first.version).await.unwrap(), None, "the first was made from nothing");

        assert_eq!(store.redo_block(id, first.version).await.unwrap(), Some(2));
        assert_eq!(store.redo_block(id, kept().await.version).await.unwrap(), Some(3));
        let again = kept().await;
        assert_eq!((&again.block, again.settings, again.revision), (&blocks[2], wanted(), 3));
    }

    #[tokio::test]
    async fn redo_is_lost_only_when_a_new_save_branches_off_and_numbers_never_come_twice() {
        let (Squad { store, week, block, .. }, id, blocks) = bent_twice().await;
        let version = async || store.block(id).await.unwrap().unwrap().version;
        store.undo_block(id, version().await).await.unwrap();
        store.save_goals(id, version().await, &written_goals(), at(7)).await.unwrap();
        assert!(store.block(id).await.unwrap().unwrap().redo.is_some(), "goals are no branch");
        let branch =
            store.revise_block(id, version().await, &wanted(), &week, &block, "made anew", at(8)).await.unwrap();
        assert_eq!(branch, 4);
        let kept = store.block(id).await.unwrap().unwrap();
        assert_eq!((kept.redo, kept.undo), (None, Some(step(2, "made anew"))));
        store.undo_block(id, version().await).await.unwrap();
        assert_eq!(store.block(id).await.unwrap().unwrap().redo, Some(step(4, "made anew")), "the newest of two");
        let third = store.revision(id, 3).await.unwrap().unwrap();
        assert_eq!((third.number, third.block), (3, blocks[2].clone()), "the other branch is still there");
    }

    #[tokio::test]
    async fn a_restored_revision_is_a_new_one_that_can_be_undone() {
        let (Squad { store, .. }, id, blocks) = bent_twice().await;
        let present = store.block(id).await.unwrap().unwrap();
        assert_eq!(store.restore_revision(id, present.version, 1, at(9)).await.unwrap(), Some(4));
        let kept = store.block(id).await.unwrap().unwrap();
        assert_eq!((&kept.block, kept.settings, kept.revision), (&blocks[0], Settings::default(), 4));
        assert_eq!((kept.reason.as_str(), kept.made), ("restored version 1", at(9)));
        assert_eq!(store.undo_block(id, kept.version).await.unwrap(), Some(3));
        let undone = store.block(id).await.unwrap().unwrap();
        assert_eq!((&undone.block, undone.redo), (&blocks[2], Some(step(4, "restored version 1"))));
        assert_eq!(store.restore_revision(id, undone.version, 9, at(9)).await.unwrap(), None);
        assert_eq!(store.revision(id, 9).await.unwrap(), None);
    }

    #[tokio::test]
    async fn a_restored_revision_knows_since_when_its_week_is_run() {
        let Squad { store, athlete, race, mut week, block } = squad().await;
        week.since = Some(crate::testing::day("2027-02-01"));
        let id = store.add_block(athlete, race, &Settings::default(), &week, &block, at(5)).await.unwrap();
        store.restore_revision(id, Version(1), 1, at(6)).await.unwrap();
        assert_eq!(store.block(id).await.unwrap().unwrap().week.since, week.since);
    }

    #[tokio::test]
    async fn the_list_of_revisions_says_which_is_present_and_which_was_handed_over() {
        let (Squad { store, .. }, id, _) = bent_twice().await;
        let version = async || store.block(id).await.unwrap().unwrap().version;
        store.undo_block(id, version().await).await.unwrap();
        store.hand_over(id, crate::Shows::NOTHING, crate::testing::day("2027-05-23"), at(7)).await.unwrap();
        store.redo_block(id, version().await).await.unwrap();
        let listed = store.revisions(id).await.unwrap().unwrap();
        let facts: Vec<_> =
            listed.iter().map(|one| (one.number, one.parent, one.is_present, one.handed_over)).collect();
        assert_eq!(facts, [(3, Some(2), true, None), (2, Some(1), false, Some(at(7))), (1, None, false, None)]);
        assert_eq!(listed[1].reason, "fixed Tue 27 Apr");
        assert_eq!(store.revisions(BlockId(99)).await.unwrap(), None);
    }

    #[tokio::test]
    async fn stale_steps_are_conflicts_and_change_nothing() {
        let (Squad { store, .. }, id, blocks) = bent_twice().await;
        let stale = Version(1);
        let results = [
            store.undo_block(id, stale).await,
            store.redo_block(id, stale).await,
            store.restore_revision(id, stale, 1, at(9)).await,
        ];
        for result in results {
            assert!(matches!(result, Err(StoreError::Conflict)), "{result:?}");
        }
        let gone = store.undo_block(BlockId(99), stale).await;
        assert!(matches!(gone, Err(StoreError::Gone)), "{gone:?}");
        assert_eq!(store.block(id).await.unwrap().unwrap().block, blocks[2]);
        assert_eq!(store.revisions(id).await.unwrap().unwrap().len(), 3);
    }

    #[tokio::test]
    async fn a_shared_block_never_changes_unasked() {
        let (Squad { store, .. }, id, blocks) = bent_twice().await;
        let door = store.shared_reader().await.unwrap();
        let share = store.hand_over(id, crate::Shows::NOTHING, crate::testing::day("2027-05-23"), at(7)).await.unwrap();
        let shown = async || door.shared(&share.token, crate::testing::day("2027-05-01")).await.unwrap().unwrap();
        let version = async || store.block(id).await.unwrap().unwrap().version;
        store.undo_block(id, version().await).await.unwrap();
        assert_eq!((shown().await.block, shown().await.revision), (blocks[2].clone(), 3));
        store.restore_revision(id, version().await, 1, at(8)).await.unwrap();
        assert_eq!(shown().await.block, blocks[2]);
        store.undo_block(id, version().await).await.unwrap();
        let again = store.hand_over(id, crate::Shows::NOTHING, crate::testing::day("2027-05-23"), at(9)).await.unwrap();
        assert_eq!(
            (again.revision, again.replaces),
            (2, Some(crate::Shown { revision: 3, at: at(7) })),
            "an older number can replace a newer sheet"
        );
        assert_eq!((shown().await.block, shown().await.replaces), (blocks[1].clone(), again.replaces));
    }
}

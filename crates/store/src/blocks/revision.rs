//! One revision of a block, as its row holds it.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use planning::curve::ExtraRest;
use planning::week::{weekday_code, weekday_from_code};
use planning::{Block, DayBefore, Settings, Shape};
use rayon::prelude::*;
use sqlx::SqliteConnection;
use tokio::task::{JoinHandle, spawn_blocking};

use crate::cell::{self, Place};
use crate::document;
use crate::weeks::WeekLines;
use crate::{BlockId, Result, Revision, SecondWeek, Step, Store, StoreError, Version, WeekDraft, WeekRecord};

/// Every query for whole revisions reads the same columns into [`RevisionRow`].
macro_rules! select_revisions {
    ($rest:literal $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            RevisionRow,
            "SELECT block_revision.id, block_revision.block, block_revision.number, block_revision.parent,
                    block_revision.made_at, block_revision.reason, block_revision.days, block_revision.curve,
                    block_revision.floor, block_revision.shape, block_revision.day_before,
                    block_revision.extra_rest, block_revision.week_version, block_revision.week_units,
                    block_revision.week_lines, block_revision.week_range, block_revision.week_since,
                    block_revision.second_week_lines, block_revision.second_week_stands_on,
                    block_revision.week_saved_at, block_revision.document, block_revision.before_events
             FROM block_revision " + $rest
            $(, $argument)*
        )
    };
}

/// The revision of a block that is shown now, and where one step back and one forward lead from it.
pub(super) struct Present {
    pub(super) revision: Revision,
    pub(super) undo: Option<Step>,
    pub(super) redo: Option<Step>,
}

/// What blocks show now, on its way: reading it is most of the work of a page over a whole race, as days and weeks are
/// kept as they are typed. The cores that do not wait for the file do it meanwhile.
pub(super) struct Presents {
    reading: JoinHandle<Result<HashMap<BlockId, Present>>>,
    redo: HashMap<BlockId, Step>,
}

impl Presents {
    /// Asks for what blocks show now, hidden ones too; one query for all of them.
    pub(super) async fn of(db: &mut SqliteConnection, ids: &[BlockId]) -> Result<Self> {
        let list = cell::id_list(ids.iter().copied());
        let rows = select_revisions!(
            "JOIN block ON block.id = block_revision.block AND block.revision = block_revision.number
             WHERE block.id IN (SELECT value FROM json_each(?))",
            list
        )
        .fetch_all(&mut *db)
        .await?;
        let reading = spawn_blocking(move || rows.into_par_iter().map(RevisionRow::present).collect());
        Ok(Self { reading, redo: newest_children(db, ids).await? })
    }

    /// What they show, once all of it is read.
    pub(super) async fn read(self) -> Result<HashMap<BlockId, Present>> {
        let mut read = self.reading.await.map_err(std::io::Error::other)??;
        for (block, redo) in self.redo {
            if let Some(present) = read.get_mut(&block) {
                present.redo = Some(redo);
            }
        }
        Ok(read)
    }
}

impl Store {
    /// The days of blocks as they were at some revisions, by block; one that is not there is left out.
    pub async fn blocks_at(&self, wanted: &[(BlockId, u32)]) -> Result<HashMap<BlockId, Block>> {
        if wanted.is_empty() {
            return Ok(HashMap::new());
        }
        let pairs = wanted.iter().map(|(block, number)| vec![block.0, i64::from(*number)]);
        let pairs = pairs.collect::<serde_json::Value>().to_string();
        let mut db = self.read_connection().await?;
        let rows = sqlx::query!(
            r#"SELECT block_revision.id AS "id!", block_revision.block AS "block!", block_revision.document AS "document!"
               FROM json_each(?) AS wanted
               JOIN block_revision ON block_revision.block = json_extract(wanted.value, '$[0]')
                    AND block_revision.number = json_extract(wanted.value, '$[1]')
               ORDER BY block_revision.id"#,
            pairs
        )
        .fetch_all(&mut *db)
        .await?;
        rows.into_iter().map(|row| Ok((BlockId(row.block), read_document(row.id, &row.document)?))).collect()
    }
}

/// One revision of a block, hidden or not.
pub(crate) async fn revision(db: &mut SqliteConnection, block: BlockId, number: u32) -> Result<Option<Revision>> {
    let row =
        select_revisions!("WHERE block_revision.block = ? AND number = ?", block.0, number).fetch_optional(db).await?;
    row.map(RevisionRow::read).transpose()
}

/// Every revision of every block, hidden or not: for the check of the whole file. One at a time,
/// because all of them together may be large.
pub(crate) async fn check_revisions(db: &mut SqliteConnection) -> Result<Vec<StoreError>> {
    let mut found = Vec::new();
    let ids = sqlx::query_scalar!("SELECT id FROM block_revision ORDER BY id").fetch_all(&mut *db).await?;
    for id in ids {
        let row = select_revisions!("WHERE block_revision.id = ?", id).fetch_one(&mut *db).await?;
        found.extend(row.read().err());
    }
    Ok(found)
}

struct RevisionRow {
    id: i64,
    block: i64,
    number: i64,
    parent: Option<i64>,
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
    /// What a block shows, with the step back from it.
    fn present(self) -> Result<(BlockId, Present)> {
        let (block, parent, place) = (BlockId(self.block), self.parent, revision_place(self.id));
        let revision = self.read()?;
        let step =
            |to: i64| Ok::<_, StoreError>(Step { to: place.number("parent", to)?, reason: revision.reason.clone() });
        let undo = parent.map(step).transpose()?;
        Ok((block, Present { revision, undo, redo: None }))
    }

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

pub(super) const fn revision_place(row: i64) -> Place {
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
    pub(super) before_events: Option<String>,
}

pub(super) fn write_document(block: &Block) -> Result<String> {
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

    pub(super) async fn insert(
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

/// The revision from which another was made.
pub(super) async fn parent(db: &mut SqliteConnection, id: BlockId, number: u32) -> Result<Option<u32>> {
    let row = sqlx::query!("SELECT id, parent FROM block_revision WHERE block = ? AND number = ?", id.0, number)
        .fetch_optional(db)
        .await?;
    let of =
        |row: i64, parent: Option<i64>| parent.map(|parent| revision_place(row).number("parent", parent)).transpose();
    row.map_or(Ok(None), |row| of(row.id, row.parent))
}

/// The newest revisions made from what blocks show now, and why they were made.
pub(super) async fn newest_children(db: &mut SqliteConnection, ids: &[BlockId]) -> Result<HashMap<BlockId, Step>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows = sqlx::query!(
        r#"SELECT later.id AS "id!", later.block AS "block!", later.number AS "number!", later.reason AS "reason!"
           FROM block JOIN block_revision AS later ON later.block = block.id AND later.parent = block.revision
           WHERE block.id IN (SELECT value FROM json_each(?)) ORDER BY later.number"#,
        ids
    )
    .fetch_all(db)
    .await?;
    // By number: of several of a block the newest stays.
    let read = rows.into_iter().map(|row| {
        let to = revision_place(row.id).number("number", row.number)?;
        Ok((BlockId(row.block), Step { to, reason: row.reason }))
    });
    read.collect()
}

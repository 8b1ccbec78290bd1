//! Steps over many athletes at once, and taking them back.
//!
//! A step is one press. For each athlete whom it changed it keeps two documents: what stood before, and
//! what it left. To undo it gives back what stood before wherever things are still as it left them;
//! what was changed since stays, and is named, and can be tried again: what stood in the way may be gone by then.
//!
//! # A further kind
//!
//! A variant of [`StepKind`] with its code, a file beside this one with `state` (what stands now, as a
//! document that is equal exactly where nothing changed) and `put_back`, and their arms in [`state`] and
//! [`put_back`]. Whoever makes the change calls [`state`] before and [`Press::note`] after it, in the
//! transaction of the change.

mod bring_in;
mod enter;
mod hand_over;
mod plan;
mod template;

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};
use sqlx::SqliteConnection;

use crate::cell::{self, Place};
use crate::{AthleteId, RaceId, Result, StepId, Store, StoreError};

pub use hand_over::{HandedOver, ToHandOver};
pub use plan::{PlannedBlock, Planning};

/// What a step did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepKind {
    /// Brought in a list of athletes with their weeks.
    BringIn,
    /// Filled in a template of a base week.
    Template,
    /// Entered athletes in a race, or changed what it means to them.
    Enter,
    /// Made blocks.
    Plan,
    /// Handed blocks over.
    HandOver,
}

impl StepKind {
    const ALL: [Self; 5] = [Self::BringIn, Self::Template, Self::Enter, Self::Plan, Self::HandOver];

    const fn code(self) -> &'static str {
        match self {
            Self::BringIn => "bring-in",
            Self::Template => "template",
            Self::Enter => "enter",
            Self::Plan => "plan",
            Self::HandOver => "hand-over",
        }
    }

    fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.code() == code)
    }
}

/// One step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepRecord {
    /// What undoes it.
    pub id: StepId,
    /// What it did.
    pub kind: StepKind,
    /// The race it was for, if it was for one.
    pub race: Option<RaceId>,
    /// When it was made; of one in pieces, the first of them.
    pub made: DateTime<Utc>,
    /// When it was last undone for somebody, or first tried, if it was.
    pub undone: Option<DateTime<Utc>>,
    /// How many athletes it changed.
    pub athletes: u32,
    /// To how many of them what stood before was given back.
    pub given_back: u32,
}

impl StepRecord {
    /// Whether nothing of it is left to be undone.
    #[must_use]
    pub const fn is_finished(&self) -> bool {
        self.undone.is_some() && self.given_back == self.athletes
    }
}

/// What a step did to one athlete.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepItem {
    /// The athlete.
    pub athlete: AthleteId,
    /// The athlete's name.
    pub name: String,
    /// Whether what stood before was given back; of a step that was undone, no means that it was changed since.
    pub is_given_back: bool,
}

/// Rows of steps with their counts.
macro_rules! select_steps {
    ($rest:literal $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            StepRow,
            r#"SELECT id, kind, race, made_at, undone_at,
                      (SELECT count(*) FROM squad_step_item WHERE step = squad_step.id) AS "athletes!: u32",
                      (SELECT count(undone_at) FROM squad_step_item WHERE step = squad_step.id) AS "given_back!: u32"
               FROM squad_step "# + $rest
            $(, $argument)*
        )
    };
}

impl Store {
    /// The last steps of a race, the newest first.
    pub async fn steps_of_race(&self, race: RaceId, most: u32) -> Result<Vec<StepRecord>> {
        let mut db = self.read_connection().await?;
        let rows = select_steps!("WHERE race = ? ORDER BY id DESC LIMIT ?", race.0, most).fetch_all(&mut *db).await?;
        rows.into_iter().map(StepRow::read).collect()
    }

    /// One step and whom it changed, by name; nothing where there is no such step.
    pub async fn step(&self, id: StepId) -> Result<Option<(StepRecord, Vec<StepItem>)>> {
        let mut tx = self.reading().await?;
        let Some(row) = select_steps!("WHERE id = ?", id.0).fetch_optional(&mut *tx).await? else {
            return Ok(None);
        };
        let items = sqlx::query!(
            r#"SELECT squad_step_item.athlete, athlete.name, squad_step_item.undone_at IS NOT NULL AS "is_given_back!: bool"
               FROM squad_step_item JOIN athlete ON athlete.id = squad_step_item.athlete
               WHERE step = ? ORDER BY athlete.name_key, athlete.id"#,
            id.0
        )
        .fetch_all(&mut *tx)
        .await?;
        let items = items.into_iter().map(|row| StepItem {
            athlete: AthleteId(row.athlete),
            name: row.name,
            is_given_back: row.is_given_back,
        });
        Ok(Some((row.read()?, items.collect())))
    }

    /// Gives back what stood before a step, to everybody with whom it is still as the step left it. Pressed
    /// again it tries those who are left; for the others twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there is no such step.
    pub async fn undo_step(&self, id: StepId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let step = select_steps!("WHERE id = ?", id.0).fetch_optional(&mut *tx).await?;
        let step = step.ok_or(StoreError::Gone)?.read()?;
        let at = cell::instant_text(now);
        let items = sqlx::query!(
            "SELECT athlete, before, after FROM squad_step_item WHERE step = ? AND undone_at IS NULL ORDER BY athlete",
            id.0
        )
        .fetch_all(&mut *tx)
        .await?;
        let mut is_told = step.undone.is_none();
        for item in items {
            let is_new = item.before.is_none();
            let of = Of { kind: step.kind, race: step.race, athlete: AthleteId(item.athlete), is_new };
            if state(&mut tx, of).await?.as_deref() != Some(item.after.as_str()) {
                continue;
            }
            put_back(&mut tx, of, item.before.as_deref(), now).await?;
            sqlx::query!(
                "UPDATE squad_step_item SET undone_at = ? WHERE step = ? AND athlete = ?",
                at,
                id.0,
                item.athlete
            )
            .execute(&mut *tx)
            .await?;
            is_told = true;
        }
        if is_told {
            sqlx::query!("UPDATE squad_step SET undone_at = ? WHERE id = ?", at, id.0).execute(&mut *tx).await?;
        }
        tx.commit().await?;
        Ok(())
    }

    /// The later steps of the same race that have to be undone before this one can be, the newest first, each
    /// with how many athletes it holds back: blocks made for who was entered, and what was handed over of
    /// blocks that were made.
    pub async fn steps_above(&self, id: StepId) -> Result<Vec<(StepRecord, u32)>> {
        let mut tx = self.reading().await?;
        // Of several the last one: a block that was removed and made again stands by the step that made it again.
        let held = sqlx::query!(
            r#"SELECT max(later.id) AS "step!: i64", item.athlete AS "athlete!: i64"
               FROM squad_step AS below
               JOIN squad_step_item AS item ON item.step = below.id AND item.undone_at IS NULL
               JOIN squad_step AS later ON later.race = below.race AND later.id > below.id
               JOIN squad_step_item AS above
                 ON above.step = later.id AND above.athlete = item.athlete AND above.undone_at IS NULL
               JOIN block ON block.race = below.race AND block.athlete = item.athlete AND block.removed_at IS NULL
               WHERE below.id = ?
                 AND (below.kind = 'enter' AND later.kind = 'plan'
                      OR below.kind = 'plan' AND later.kind = 'hand-over'
                         AND EXISTS (SELECT 1 FROM share WHERE share.block = block.id AND share.revoked_at IS NULL))
               GROUP BY item.athlete ORDER BY item.athlete"#,
            id.0
        )
        .fetch_all(&mut *tx)
        .await?;
        let mut counts: BTreeMap<i64, u32> = BTreeMap::new();
        for row in held {
            *counts.entry(row.step).or_default() += 1;
        }
        let mut all = Vec::new();
        for (step, count) in counts.into_iter().rev() {
            let row = select_steps!("WHERE id = ?", step).fetch_one(&mut *tx).await?;
            all.push((row.read()?, count));
        }
        Ok(all)
    }
}

/// A press while it works: its step is begun with the first athlete whom it changes, so that a press
/// that changes nobody leaves no step.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Press {
    pub(crate) kind: StepKind,
    pub(crate) race: Option<RaceId>,
    /// The step, once it is begun.
    pub(crate) step: Option<StepId>,
    pub(crate) now: DateTime<Utc>,
}

impl Press {
    /// What stands now for an athlete.
    pub(crate) async fn state(&self, db: &mut SqliteConnection, athlete: AthleteId) -> Result<Option<String>> {
        state(db, Of { kind: self.kind, race: self.race, athlete, is_new: false }).await
    }

    /// Notes what stood before a change that was just made; a change that left everything as it was is none.
    pub(crate) async fn note(
        &mut self,
        db: &mut SqliteConnection,
        athlete: AthleteId,
        before: Option<String>,
    ) -> Result<()> {
        let of = Of { kind: self.kind, race: self.race, athlete, is_new: before.is_none() };
        let after = state(db, of).await?.ok_or(StoreError::Gone)?;
        if before.as_ref() == Some(&after) {
            return Ok(());
        }
        let step = self.begun(db).await?;
        sqlx::query!(
            "INSERT INTO squad_step_item (step, athlete, before, after) VALUES (?, ?, ?, ?)",
            step.0,
            athlete.0,
            before,
            after
        )
        .execute(db)
        .await?;
        Ok(())
    }

    /// The step, begun if it is not yet.
    pub(crate) async fn begun(&mut self, db: &mut SqliteConnection) -> Result<StepId> {
        if let Some(step) = self.step {
            return Ok(step);
        }
        let (kind, race, at) = (self.kind.code(), self.race.map(|race| race.0), cell::instant_text(self.now));
        let id = sqlx::query_scalar!(
            "INSERT INTO squad_step (kind, race, made_at) VALUES (?, ?, ?) RETURNING id",
            kind,
            race,
            at
        )
        .fetch_one(db)
        .await?;
        Ok(*self.step.insert(StepId(id)))
    }
}

/// Of what a document tells.
#[derive(Clone, Copy, Debug)]
struct Of {
    kind: StepKind,
    race: Option<RaceId>,
    athlete: AthleteId,
    /// Whether nothing stood before the step.
    is_new: bool,
}

impl Of {
    /// The race of a step that is made for one.
    fn race(self) -> Result<RaceId> {
        self.race.ok_or_else(|| Place::new("squad_step", self.athlete.0).corrupt("race", "there is none"))
    }
}

/// What stands now; nothing where nothing does.
async fn state(db: &mut SqliteConnection, of: Of) -> Result<Option<String>> {
    match of.kind {
        StepKind::BringIn if of.is_new => bring_in::state_of_new(db, of.athlete).await,
        StepKind::BringIn => bring_in::state(db, of.athlete).await,
        StepKind::Template => template::state(db, of.athlete).await,
        StepKind::Enter => enter::state(db, of.race()?, of.athlete).await,
        StepKind::Plan => plan::state(db, of.race()?, of.athlete).await,
        StepKind::HandOver => hand_over::state(db, of.race()?, of.athlete).await,
    }
}

/// Gives back what stood before.
async fn put_back(db: &mut SqliteConnection, of: Of, before: Option<&str>, now: DateTime<Utc>) -> Result<()> {
    match of.kind {
        StepKind::BringIn => bring_in::put_back(db, of.athlete, before, now).await,
        StepKind::Template => template::put_back(db, of.athlete, before, now).await,
        StepKind::Enter => enter::put_back(db, of.race()?, of.athlete, before, now).await,
        StepKind::Plan => plan::put_back(db, of.race()?, of.athlete, now).await,
        StepKind::HandOver => hand_over::put_back(db, of.race()?, of.athlete, before, now).await,
    }
}

/// Reads a document of a step.
fn read<T: serde::de::DeserializeOwned>(athlete: AthleteId, text: &str) -> Result<T> {
    serde_json::from_str(text).map_err(|error| Place::new("squad_step_item", athlete.0).corrupt("before", error))
}

/// Every step: for the check of the whole file.
pub(crate) async fn every_step(db: &mut SqliteConnection) -> Result<Vec<Result<StepRecord>>> {
    let rows = select_steps!("ORDER BY id").fetch_all(db).await?;
    Ok(rows.into_iter().map(StepRow::read).collect())
}

struct StepRow {
    id: i64,
    kind: String,
    race: Option<i64>,
    made_at: String,
    undone_at: Option<String>,
    athletes: u32,
    given_back: u32,
}

impl StepRow {
    fn read(self) -> Result<StepRecord> {
        let place = Place::new("squad_step", self.id);
        Ok(StepRecord {
            id: StepId(self.id),
            kind: place.word("kind", &self.kind, StepKind::from_code)?,
            race: self.race.map(RaceId),
            made: place.instant("made_at", &self.made_at)?,
            undone: self.undone_at.map(|text| place.instant("undone_at", &text)).transpose()?,
            athletes: self.athletes,
            given_back: self.given_back,
        })
    }
}

#[cfg(test)]
mod tests;

//! Base weeks as templates, and whose week came from which.

mod uses;

use chrono::{DateTime, Utc};
use planning::notation::read_week;
use planning::{Athlete, BaseWeek, DistanceUnit, Field, Problem, ProblemKind};
use sqlx::SqliteConnection;
use uuid::Uuid;

use self::uses::uses;
pub use self::uses::{Candidate, FilledWeek, TemplateUse, WhichAthletes};
use crate::athletes::name_key;
use crate::cell::{self, Place, commit_changed};
use crate::once::{self, Made};
use crate::{AthleteId, Result, Store, StoreError, TemplateId, Version};

/// A template as typed.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct TemplateDraft {
    /// What it is called.
    pub name: String,
    /// The unit of a number without a unit in the lines.
    pub units: DistanceUnit,
    /// The lines, Monday first.
    pub lines: [String; 7],
    /// Notes of the coach.
    pub notes: String,
}

impl TemplateDraft {
    /// What the lines say.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with name and lines; a week without running cannot be scaled.
    pub fn read(&self) -> std::result::Result<BaseWeek, Vec<Problem>> {
        let mut found: Vec<Problem> = Athlete::name_problem(&self.name).into_iter().collect();
        match read_week(&self.lines.each_ref().map(String::as_str), "", self.units) {
            Ok(week) if week.running().is_empty() => found.push(Problem::new(Field::BaseWeek, ProblemKind::EmptyWeek)),
            Ok(week) if found.is_empty() => return Ok(week),
            Ok(_) => {}
            Err(problems) => found.extend(problems),
        }
        Err(found)
    }
}

/// A kept template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TemplateRecord {
    /// The template.
    pub id: TemplateId,
    /// Counts its saves.
    pub version: Version,
    /// Name, lines and notes.
    pub draft: TemplateDraft,
    /// How many athletes run it.
    pub athletes: u32,
    /// How many of them an older version.
    pub older: u32,
}

/// Rows of templates with their counts.
macro_rules! select_templates {
    ($rest:literal $(, $argument:expr)* $(,)?) => {
        sqlx::query_as!(
            TemplateRow,
            r#"SELECT id, version, name, units, mon, tue, wed, thu, fri, sat, sun, notes,
                      (SELECT count(*) FROM week_from_template AS used JOIN athlete ON athlete.id = used.athlete
                       WHERE used.template = week_template.id AND athlete.removed_at IS NULL) AS "athletes!: u32",
                      (SELECT count(*) FROM week_from_template AS used JOIN athlete ON athlete.id = used.athlete
                       WHERE used.template = week_template.id AND used.template_version < week_template.version
                         AND athlete.removed_at IS NULL) AS "older!: u32"
               FROM week_template "# + $rest
            $(, $argument)*
        )
    };
}

impl Store {
    /// Every template, by name.
    pub async fn templates(&self) -> Result<Vec<TemplateRecord>> {
        let mut db = self.read_connection().await?;
        let rows = select_templates!("WHERE removed_at IS NULL ORDER BY name_key, id").fetch_all(&mut *db).await?;
        rows.into_iter().map(TemplateRow::read).collect()
    }

    /// One template.
    pub async fn template(&self, id: TemplateId) -> Result<Option<TemplateRecord>> {
        let mut db = self.read_connection().await?;
        template(&mut db, id).await
    }

    /// Adds a template. `once` is the form's own key: the same key again gives the same template.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] where planning finds problems.
    pub async fn add_template(&self, draft: &TemplateDraft, once: Uuid, now: DateTime<Utc>) -> Result<TemplateId> {
        draft.read().map_err(StoreError::Refused)?;
        let mut tx = self.writing().await?;
        if let Some(id) = once::made_before(&mut tx, once, Made::Template).await? {
            return Ok(TemplateId(id));
        }
        let (key, units, at) = (name_key(&draft.name), draft.units.symbol(), cell::instant_text(now));
        let [mon, tue, wed, thu, fri, sat, sun] = &draft.lines;
        let id = sqlx::query_scalar!(
            "INSERT INTO week_template (version, name, name_key, units, mon, tue, wed, thu, fri, sat, sun, notes,
                                        made_at, saved_at)
             VALUES (1, ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?12) RETURNING id",
            draft.name,
            key,
            units,
            mon,
            tue,
            wed,
            thu,
            fri,
            sat,
            sun,
            draft.notes,
            at
        )
        .fetch_one(&mut *tx)
        .await?;
        once::remember(&mut tx, once, Made::Template, id, now).await?;
        tx.commit().await?;
        Ok(TemplateId(id))
    }

    /// Saves a template read at a version. Nobody's week changes by it.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`], [`StoreError::Gone`], [`StoreError::Refused`].
    pub async fn save_template(
        &self,
        id: TemplateId,
        read_at: Version,
        draft: &TemplateDraft,
        now: DateTime<Utc>,
    ) -> Result<()> {
        draft.read().map_err(StoreError::Refused)?;
        let mut tx = self.writing().await?;
        if template(&mut tx, id).await?.ok_or(StoreError::Gone)?.version != read_at {
            return Err(StoreError::Conflict);
        }
        let (key, units, at) = (name_key(&draft.name), draft.units.symbol(), cell::instant_text(now));
        let [mon, tue, wed, thu, fri, sat, sun] = &draft.lines;
        sqlx::query!(
            "UPDATE week_template
             SET version = version + 1, name = ?, name_key = ?, units = ?, mon = ?, tue = ?, wed = ?, thu = ?, fri = ?,
                 sat = ?, sun = ?, notes = ?, saved_at = ?
             WHERE id = ?",
            draft.name,
            key,
            units,
            mon,
            tue,
            wed,
            thu,
            fri,
            sat,
            sun,
            draft.notes,
            at,
            id.0
        )
        .execute(&mut *tx)
        .await?;
        tx.commit().await?;
        Ok(())
    }

    /// Hides a template; weeks that came from it stay as they are. Twice is once.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there never was such a template.
    pub async fn remove_template(&self, id: TemplateId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let at = cell::instant_text(now);
        let done = sqlx::query!("UPDATE week_template SET removed_at = coalesce(removed_at, ?) WHERE id = ?", at, id.0)
            .execute(&mut *tx)
            .await?;
        commit_changed(tx, &done).await
    }

    /// Brings a removed template back.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`] where there never was such a template.
    pub async fn restore_template(&self, id: TemplateId, now: DateTime<Utc>) -> Result<()> {
        let mut tx = self.writing().await?;
        let at = cell::instant_text(now);
        let done = sqlx::query!("UPDATE week_template SET removed_at = NULL, saved_at = ? WHERE id = ?", at, id.0)
            .execute(&mut *tx)
            .await?;
        commit_changed(tx, &done).await
    }
}

/// A template that is not removed.
async fn template(db: &mut SqliteConnection, id: TemplateId) -> Result<Option<TemplateRecord>> {
    let row = select_templates!("WHERE id = ? AND removed_at IS NULL", id.0).fetch_optional(db).await?;
    row.map(TemplateRow::read).transpose()
}

/// Every template, removed or not, and every use: for the check of the whole file.
pub(crate) async fn every_template(db: &mut SqliteConnection) -> Result<Vec<StoreError>> {
    let rows = select_templates!("ORDER BY id").fetch_all(&mut *db).await?;
    let mut found: Vec<StoreError> = rows.into_iter().filter_map(|row| row.read().err()).collect();
    let all =
        sqlx::query_scalar!("SELECT athlete FROM week_from_template ORDER BY athlete").fetch_all(&mut *db).await?;
    for athlete in all {
        match uses(db, &[AthleteId(athlete)]).await {
            Err(error @ StoreError::Corrupt { .. }) => found.push(error),
            other => drop(other?),
        }
    }
    Ok(found)
}

struct TemplateRow {
    id: i64,
    version: i64,
    name: String,
    units: String,
    mon: String,
    tue: String,
    wed: String,
    thu: String,
    fri: String,
    sat: String,
    sun: String,
    notes: String,
    athletes: u32,
    older: u32,
}

impl TemplateRow {
    fn read(self) -> Result<TemplateRecord> {
        let draft = TemplateDraft {
            name: self.name,
            units: Place::new("week_template", self.id).units("units", &self.units)?,
            lines: [self.mon, self.tue, self.wed, self.thu, self.fri, self.sat, self.sun],
            notes: self.notes,
        };
        Ok(TemplateRecord {
            id: TemplateId(self.id),
            version: Version(self.version),
            draft,
            athletes: self.athletes,
            older: self.older,
        })
    }
}

#[cfg(test)]
mod tests;

//! Whose week came from which template, and filling one in for many.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use planning::{Amount, DistanceUnit, Milli, Unit};
use sqlx::SqliteConnection;
use uuid::Uuid;

use super::template;
use crate::athletes::{athlete, athletes_of};
use crate::cell::{self, Place};
use crate::once::{self, Made};
use crate::steps::{Press, StepKind};
use crate::weeks::{kept_weeks, save, week_of};
use crate::{
    AthleteId, AthleteRecord, NameSearch, Result, StepId, Store, StoreError, TemplateId, Version, WeekDraft, WeekRecord,
};

/// How a template was filled in for an athlete.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TemplateUse {
    /// The template.
    pub template: TemplateId,
    /// Its version then.
    pub version: Version,
    /// The week's running for the athlete.
    pub amount: Amount,
    /// The seven lines that it gave.
    pub given: [String; 7],
    /// The unit of a number without a unit in them.
    pub units: DistanceUnit,
}

/// An athlete for whom a template may be filled in.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The athlete.
    pub athlete: AthleteRecord,
    /// The base week; at `Version(0)` where none was saved.
    pub week: WeekRecord,
    /// The template that the week came from, its name, and how it was filled in.
    pub from: Option<(TemplateUse, String)>,
}

/// Which athletes are asked for.
#[derive(Clone, Debug, Default)]
pub struct WhichAthletes {
    /// Words of the name; empty for all.
    pub text: String,
    /// The group; empty for all.
    pub group: String,
    /// Who runs this template; nothing for all.
    pub runs: Option<TemplateId>,
    /// Of these, only who runs an older version.
    pub older: bool,
}

/// A week as a template fills it in for an athlete.
#[derive(Clone, Debug)]
pub struct FilledWeek {
    /// The athlete.
    pub athlete: AthleteId,
    /// The version at which the week was looked at.
    pub read_at: Version,
    /// The week to keep; nothing where the lines stay as they are.
    pub week: Option<WeekDraft>,
    /// How it was filled in.
    pub from: TemplateUse,
}

impl Store {
    /// The template that an athlete's week came from, with its name, and how it was filled in.
    pub async fn template_of(&self, athlete: AthleteId) -> Result<Option<(TemplateUse, String)>> {
        let mut db = self.read_connection().await?;
        Ok(uses(&mut db, &[athlete]).await?.remove(&athlete))
    }

    /// The first athletes that are asked for, by name, and how many there are.
    pub async fn candidates(&self, which: &WhichAthletes, most: usize) -> Result<(Vec<AthleteId>, usize)> {
        let names = NameSearch::new(&which.text);
        let runs = which.runs.map(|template| template.0);
        let mut db = self.read_connection().await?;
        let rows = sqlx::query!(
            r#"SELECT athlete.id AS "id!", athlete.name_key AS "name_key!"
               FROM athlete
               LEFT JOIN week_from_template ON week_from_template.athlete = athlete.id
               LEFT JOIN week_template ON week_template.id = week_from_template.template
               WHERE athlete.removed_at IS NULL
                 AND (?1 = '' OR athlete.training_group = ?1)
                 AND (?2 IS NULL OR week_from_template.template = ?2)
                 AND (NOT ?3 OR week_from_template.template_version < week_template.version)
               ORDER BY athlete.name_key, athlete.id"#,
            which.group,
            runs,
            which.older
        )
        .fetch_all(&mut *db)
        .await?;
        let found: Vec<AthleteId> =
            rows.into_iter().filter(|row| names.finds_key(&row.name_key)).map(|row| AthleteId(row.id)).collect();
        Ok((found.iter().copied().take(most).collect(), found.len()))
    }

    /// These athletes with their weeks, by name; who is removed is left out.
    pub async fn candidates_of(&self, ids: &[AthleteId]) -> Result<Vec<Candidate>> {
        let mut tx = self.reading().await?;
        let athletes = athletes_of(&mut tx, ids).await?;
        let mut weeks = kept_weeks(&mut tx, ids).await?;
        let mut uses = uses(&mut tx, ids).await?;
        let candidates = athletes.into_iter().map(|athlete| {
            let units = athlete.draft.athlete.units;
            let week = week_of(weeks.remove(&athlete.id), units);
            Candidate { from: uses.remove(&athlete.id), athlete, week }
        });
        Ok(candidates.collect())
    }

    /// Keeps weeks that a template filled in, all of them or none. `once` is the form's own key: the same
    /// key again gives the same step.
    ///
    /// # Errors
    ///
    /// [`StoreError::Conflict`] where a week or the template was saved since it was looked at,
    /// [`StoreError::Gone`] where an athlete or the template is, [`StoreError::Refused`].
    pub async fn apply_template(
        &self,
        (id, read_at): (TemplateId, Version),
        weeks: &[FilledWeek],
        once: Uuid,
        now: DateTime<Utc>,
    ) -> Result<StepId> {
        let mut tx = self.writing().await?;
        if let Some(id) = once::made_before(&mut tx, once, Made::Step).await? {
            return Ok(StepId(id));
        }
        if template(&mut tx, id).await?.ok_or(StoreError::Gone)?.version != read_at {
            return Err(StoreError::Conflict);
        }
        let mut press = Press { kind: StepKind::Template, race: None, step: None, now };
        for one in weeks {
            fill(&mut tx, one, &mut press).await?;
        }
        let step = press.begun(&mut tx).await?;
        once::remember(&mut tx, once, Made::Step, step.0, now).await?;
        tx.commit().await?;
        Ok(step)
    }
}

async fn fill(tx: &mut SqliteConnection, one: &FilledWeek, press: &mut Press) -> Result<()> {
    let before = press.state(tx, one.athlete).await?;
    if let Some(week) = &one.week {
        save(tx, one.athlete, one.read_at, week, press.now).await?;
    } else {
        athlete(&mut *tx, one.athlete).await?.ok_or(StoreError::Gone)?;
        let kept = sqlx::query_scalar!("SELECT version FROM base_week WHERE athlete = ?", one.athlete.0)
            .fetch_optional(&mut *tx)
            .await?;
        if kept != Some(one.read_at.0) {
            return Err(StoreError::Conflict);
        }
    }
    let TemplateUse { template, version, amount, given, units } = &one.from;
    let (middle, unit) = (i64::from(amount.middle().0), amount.unit().symbol());
    let (given, units) = (serde_json::Value::from(given.as_slice()).to_string(), units.symbol());
    let at = cell::instant_text(press.now);
    sqlx::query!(
        "INSERT INTO week_from_template (athlete, template, template_version, amount, amount_unit, given, units, saved_at)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?)
         ON CONFLICT (athlete) DO UPDATE
         SET template = excluded.template, template_version = excluded.template_version, amount = excluded.amount,
             amount_unit = excluded.amount_unit, given = excluded.given, units = excluded.units,
             saved_at = excluded.saved_at",
        one.athlete.0,
        template.0,
        version.0,
        middle,
        unit,
        given,
        units,
        at
    )
    .execute(&mut *tx)
    .await?;
    press.note(tx, one.athlete, before).await
}

/// From which templates, by their names, the weeks of some athletes came.
pub(super) async fn uses(
    db: &mut SqliteConnection,
    ids: &[AthleteId],
) -> Result<HashMap<AthleteId, (TemplateUse, String)>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows = sqlx::query!(
        r#"SELECT athlete AS "athlete!", template AS "template!", template_version AS "version!", amount AS "amount!",
                  amount_unit AS "amount_unit!", given AS "given!", used.units AS "units!", week_template.name AS "name!"
           FROM week_from_template AS used JOIN week_template ON week_template.id = used.template
           WHERE athlete IN (SELECT value FROM json_each(?)) ORDER BY athlete"#,
        ids
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let place = Place::new("week_from_template", row.athlete);
        let unit_of = |code: &str| Unit::ALL.into_iter().find(|unit| unit.symbol() == code);
        let unit = place.word("amount_unit", &row.amount_unit, unit_of)?;
        let used = TemplateUse {
            template: TemplateId(row.template),
            version: Version(row.version),
            amount: Amount::exact(Milli(place.number("amount", row.amount)?), unit),
            given: serde_json::from_str(&row.given).map_err(|error| place.corrupt("given", error))?,
            units: place.units("units", &row.units)?,
        };
        Ok((AthleteId(row.athlete), (used, row.name)))
    });
    read.collect()
}

//! Filling in a template for many athletes.

use chrono::{DateTime, Utc};
use serde::Deserialize;
use sqlx::SqliteConnection;

use super::{bring_in, read};
use crate::cell::{self, Place};
use crate::{AthleteId, Result};

/// The base week, and the template that it came from.
pub(super) async fn state(db: &mut SqliteConnection, athlete: AthleteId) -> Result<Option<String>> {
    let Some(week) = bring_in::state(db, athlete).await? else { return Ok(None) };
    let from = sqlx::query_scalar!(
        r#"SELECT json_object('template', template, 'version', template_version, 'amount', amount, 'unit', amount_unit,
                              'given', json(given), 'units', units) AS "from!: String"
           FROM week_from_template WHERE athlete = ?"#,
        athlete.0
    )
    .fetch_optional(db)
    .await?;
    Ok(Some(format!(r#"{{"week":{week},"from":{}}}"#, from.as_deref().unwrap_or("null"))))
}

#[derive(Deserialize)]
struct Before {
    week: serde_json::Value,
    from: Option<From>,
}

#[derive(Deserialize)]
struct From {
    template: i64,
    version: i64,
    amount: i64,
    unit: String,
    given: [String; 7],
    units: String,
}

/// The week and what it came from, as they were.
pub(super) async fn put_back(
    db: &mut SqliteConnection,
    athlete: AthleteId,
    before: Option<&str>,
    now: DateTime<Utc>,
) -> Result<()> {
    let missing = || Place::new("squad_step_item", athlete.0).corrupt("before", "there is none");
    let before: Before = read(athlete, before.ok_or_else(missing)?)?;
    let at = cell::instant_text(now);
    sqlx::query!("DELETE FROM week_from_template WHERE athlete = ?", athlete.0).execute(&mut *db).await?;
    bring_in::put_week_back(db, athlete, &before.week.to_string(), &at).await?;
    let Some(from) = before.from else { return Ok(()) };
    let given = serde_json::Value::from(from.given.as_slice()).to_string();
    sqlx::query!(
        "INSERT INTO week_from_template (athlete, template, template_version, amount, amount_unit, given, units, saved_at)
         SELECT ?, id, ?, ?, ?, ?, ?, ? FROM week_template WHERE id = ?",
        athlete.0,
        from.version,
        from.amount,
        from.unit,
        given,
        from.units,
        at,
        from.template
    )
    .execute(&mut *db)
    .await?;
    Ok(())
}

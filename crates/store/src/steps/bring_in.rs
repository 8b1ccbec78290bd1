//! Bringing in a list of athletes with their weeks.

use chrono::{DateTime, Utc};
use serde::Deserialize;
use sqlx::SqliteConnection;

use super::read;
use crate::cell;
use crate::weeks::{self, WeekTexts};
use crate::{AthleteId, Result};

/// The base week of an athlete with its second one, whether there is one or not.
pub(super) async fn state(db: &mut SqliteConnection, athlete: AthleteId) -> Result<Option<String>> {
    Ok(sqlx::query_scalar!(
        r#"SELECT json_object('version', base_week.version, 'units', base_week.units, 'range', week_range, 'since', since,
                              'lines', json_array(base_week.mon, base_week.tue, base_week.wed, base_week.thu,
                                                  base_week.fri, base_week.sat, base_week.sun),
                              'stands_on', stands_on,
                              'second', json_array(second_week.mon, second_week.tue, second_week.wed, second_week.thu,
                                                   second_week.fri, second_week.sat, second_week.sun)) AS "state!: String"
           FROM athlete
           LEFT JOIN base_week ON base_week.athlete = athlete.id
           LEFT JOIN second_week ON second_week.athlete = athlete.id
           WHERE athlete.id = ?"#,
        athlete.0
    )
    .fetch_optional(db)
    .await?)
}

/// Somebody new, and whatever hangs on the athlete: once anything was done with it, it is no longer as it came in.
pub(super) async fn state_of_new(db: &mut SqliteConnection, athlete: AthleteId) -> Result<Option<String>> {
    Ok(sqlx::query_scalar!(
        r#"SELECT json_object('athlete', athlete.version, 'removed', athlete.removed_at IS NOT NULL,
                              'week', (SELECT version FROM base_week WHERE base_week.athlete = athlete.id),
                              'entries', (SELECT count(*) FROM entry WHERE entry.athlete = athlete.id),
                              'events', (SELECT count(*) FROM life_event WHERE life_event.athlete = athlete.id),
                              'weeks', (SELECT count(*) FROM done_week WHERE done_week.athlete = athlete.id),
                              'sessions', (SELECT count(*) FROM done_session WHERE done_session.athlete = athlete.id))
                  AS "state!: String"
           FROM athlete WHERE athlete.id = ?"#,
        athlete.0
    )
    .fetch_optional(db)
    .await?)
}

/// A week as it stood before; without a version there was none.
#[derive(Deserialize)]
struct Before {
    version: Option<i64>,
    units: Option<String>,
    range: Option<String>,
    since: Option<String>,
    lines: [Option<String>; 7],
    stands_on: Option<String>,
    second: [Option<String>; 7],
}

/// Hides who was not there before; gives the week back to who was.
pub(super) async fn put_back(
    db: &mut SqliteConnection,
    athlete: AthleteId,
    before: Option<&str>,
    now: DateTime<Utc>,
) -> Result<()> {
    let at = cell::instant_text(now);
    let Some(before) = before else {
        sqlx::query!("UPDATE athlete SET removed_at = ? WHERE id = ?", at, athlete.0).execute(db).await?;
        return Ok(());
    };
    put_week_back(db, athlete, before, &at).await
}

/// Gives a week back as [`state`] told it, as a further save.
pub(super) async fn put_week_back(db: &mut SqliteConnection, athlete: AthleteId, before: &str, at: &str) -> Result<()> {
    let Before { version, units, range, since, lines, stands_on, second } = read(athlete, before)?;
    if version.is_none() {
        weeks::write_second(db, athlete, None).await?;
        sqlx::query!("DELETE FROM base_week WHERE athlete = ?", athlete.0).execute(db).await?;
        return Ok(());
    }
    let [lines, second] = [lines, second].map(|lines| lines.map(Option::unwrap_or_default));
    let [units, range] = [units, range].map(Option::unwrap_or_default);
    let texts = WeekTexts { units: &units, lines: &lines, range: &range, since: since.as_deref() };
    weeks::write(db, athlete, &texts, at).await?;
    weeks::write_second(db, athlete, stands_on.as_deref().map(|stands_on| (&second, stands_on))).await
}

//! Entering many athletes in a race.

use chrono::{DateTime, Utc};
use planning::Importance;
use serde::Deserialize;
use sqlx::SqliteConnection;

use super::{Press, StepKind, read};
use crate::cell;
use crate::entries::{both_there, enter};
use crate::{AthleteId, RaceId, Result, StepId, Store};

impl Store {
    /// Enters athletes in a race, or changes what it means to them: all of them or none. Gives the step,
    /// if that changed anything.
    ///
    /// # Errors
    ///
    /// [`StoreError::Gone`](crate::StoreError::Gone) where the race or one of the athletes is.
    pub async fn enter_many(
        &self,
        race: RaceId,
        athletes: &[AthleteId],
        importance: Importance,
        now: DateTime<Utc>,
    ) -> Result<Option<StepId>> {
        let mut tx = self.writing().await?;
        let mut press = Press { kind: StepKind::Enter, race: Some(race), step: None, now };
        for athlete in athletes {
            both_there(&mut tx, race, *athlete).await?;
            let before = press.state(&mut tx, *athlete).await?;
            enter(&mut tx, race, *athlete, importance, now).await?;
            press.note(&mut tx, *athlete, before).await?;
        }
        tx.commit().await?;
        Ok(press.step)
    }
}

/// An entry with whatever hangs on it: once a block is made or a result noted, it is no longer as it was entered.
pub(super) async fn state(db: &mut SqliteConnection, race: RaceId, athlete: AthleteId) -> Result<Option<String>> {
    Ok(sqlx::query_scalar!(
        r#"SELECT json_object('importance', entry.importance, 'withdrawn', entry.withdrawn_at IS NOT NULL,
                              'block', block.id, 'result', result.version) AS "state!: String"
           FROM entry
           LEFT JOIN block ON block.race = entry.race AND block.athlete = entry.athlete AND block.removed_at IS NULL
           LEFT JOIN result ON result.race = entry.race AND result.athlete = entry.athlete
           WHERE entry.race = ? AND entry.athlete = ?"#,
        race.0,
        athlete.0
    )
    .fetch_optional(db)
    .await?)
}

#[derive(Deserialize)]
struct Before {
    importance: String,
    withdrawn: i64,
}

/// The entry as it was; where there was none it is withdrawn, as by hand.
pub(super) async fn put_back(
    db: &mut SqliteConnection,
    race: RaceId,
    athlete: AthleteId,
    before: Option<&str>,
    now: DateTime<Utc>,
) -> Result<()> {
    let before: Option<Before> = before.map(|text| read(athlete, text)).transpose()?;
    let is_out = before.as_ref().is_none_or(|before| before.withdrawn != 0);
    let withdrawn_at = is_out.then(|| cell::instant_text(now));
    let importance = before.map(|before| before.importance);
    sqlx::query!(
        "UPDATE entry SET importance = coalesce(?, importance), withdrawn_at = ? WHERE race = ? AND athlete = ?",
        importance,
        withdrawn_at,
        race.0,
        athlete.0
    )
    .execute(db)
    .await?;
    Ok(())
}

//! Making many blocks for a race.

use chrono::{DateTime, Utc};
use planning::{Block, Settings};
use sqlx::SqliteConnection;

use super::{Press, StepKind};
use crate::blocks::{Kept, Written, keep};
use crate::cell;
use crate::{AthleteId, RaceId, Result, StepId, Store, StoreError, WeekRecord};

/// A block that was planned and is to be kept.
#[derive(Clone, Debug)]
pub struct PlannedBlock {
    /// For whom.
    pub athlete: AthleteId,
    /// From which settings.
    pub settings: Settings,
    /// From which base week.
    pub week: WeekRecord,
    /// The days.
    pub block: Block,
}

/// What became of some planned blocks.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Planning {
    /// The step that they belong to, once one was made.
    pub step: Option<StepId>,
    /// How many were made.
    pub made: u32,
    /// Who is not entered any more.
    pub gone: Vec<AthleteId>,
}

impl Store {
    /// Keeps planned blocks of a race, all in one piece, and notes them in a step: in the one that an
    /// earlier piece of the same press began, or in a new one. Who has a block already keeps it.
    ///
    /// # Errors
    ///
    /// [`StoreError::Refused`] for a block that does not read back.
    pub async fn add_blocks(
        &self,
        race: RaceId,
        step: Option<StepId>,
        planned: &[PlannedBlock],
        now: DateTime<Utc>,
    ) -> Result<Planning> {
        let mut tx = self.writing().await?;
        let step = match step {
            Some(step) if is_open(&mut tx, step).await? => Some(step),
            _ => None,
        };
        let mut press = Press { kind: StepKind::Plan, race: Some(race), step, now };
        let mut done = Planning::default();
        for PlannedBlock { athlete, settings, week, block } in planned {
            let row = Written::of(settings, week, block)?;
            match keep(&mut tx, *athlete, race, row, now).await {
                Ok(Kept::New(_)) => {
                    press.note(&mut tx, *athlete, None).await?;
                    done.made += 1;
                }
                Ok(Kept::Known(_)) => {}
                Err(StoreError::Gone) => done.gone.push(*athlete),
                Err(error) => return Err(error),
            }
        }
        tx.commit().await?;
        done.step = press.step;
        Ok(done)
    }
}

/// Whether a step was not undone while its press still works.
async fn is_open(db: &mut SqliteConnection, step: StepId) -> Result<bool> {
    let found = sqlx::query_scalar!("SELECT id FROM squad_step WHERE id = ? AND undone_at IS NULL", step.0)
        .fetch_optional(db)
        .await?;
    Ok(found.is_some())
}

/// A block, its saves and its link: once it is bent, spoken of in goals or handed over it is no longer as it was made.
pub(super) async fn state(db: &mut SqliteConnection, race: RaceId, athlete: AthleteId) -> Result<Option<String>> {
    Ok(sqlx::query_scalar!(
        r#"SELECT json_object('block', block.id, 'version', block.version, 'removed', block.removed_at IS NOT NULL,
                              'share', share.id) AS "state!: String"
           FROM block LEFT JOIN share ON share.block = block.id AND share.revoked_at IS NULL
           WHERE block.race = ? AND block.athlete = ?"#,
        race.0,
        athlete.0
    )
    .fetch_optional(db)
    .await?)
}

/// No block stood before: it goes out of sight.
pub(super) async fn put_back(
    db: &mut SqliteConnection,
    race: RaceId,
    athlete: AthleteId,
    now: DateTime<Utc>,
) -> Result<()> {
    let at = cell::instant_text(now);
    sqlx::query!("UPDATE block SET removed_at = ? WHERE race = ? AND athlete = ?", at, race.0, athlete.0)
        .execute(db)
        .await?;
    Ok(())
}

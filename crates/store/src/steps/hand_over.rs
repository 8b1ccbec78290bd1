//! Handing over the blocks of many athletes.

use chrono::{DateTime, NaiveDate, Utc};
use serde::Deserialize;
use sqlx::SqliteConnection;

use super::{Press, StepKind, read};
use crate::blocks::current;
use crate::cell;
use crate::goals::goals;
use crate::shares::{show_revision, working_share};
use crate::{AthleteId, BlockId, RaceId, Result, Shows, StepId, Store, StoreError, Version};

/// A block that is to be handed over, as somebody looked at it.
#[derive(Clone, Debug)]
pub struct ToHandOver {
    /// The block.
    pub block: BlockId,
    /// The version at which it was looked at.
    pub read_at: Version,
    /// What is shown beside the days.
    pub shows: Shows,
    /// The race sheet as a document of the caller.
    pub race_day: Option<String>,
    /// The last day of the link.
    pub ends: NaiveDate,
}

/// What became of blocks that were to be handed over.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct HandedOver {
    /// The step, if anything changed.
    pub step: Option<StepId>,
    /// Who has everything as it is now: what was just handed over, and what had been before.
    pub done: Vec<BlockId>,
    /// What was saved since it was looked at.
    pub changed: Vec<BlockId>,
    /// What is no longer there.
    pub gone: Vec<BlockId>,
}

impl Store {
    /// Hands blocks of a race over, in one piece. Who already holds just that is left alone.
    pub async fn hand_over_many(&self, race: RaceId, all: &[ToHandOver], now: DateTime<Utc>) -> Result<HandedOver> {
        let mut tx = self.writing().await?;
        let mut press = Press { kind: StepKind::HandOver, race: Some(race), step: None, now };
        let mut found = HandedOver::default();
        for one in all {
            let head = match current(&mut tx, one.block, one.read_at).await {
                Ok(head) if head.race == race => head,
                Ok(_) | Err(StoreError::Gone) => {
                    found.gone.push(one.block);
                    continue;
                }
                Err(StoreError::Conflict) => {
                    found.changed.push(one.block);
                    continue;
                }
                Err(error) => return Err(error),
            };
            if !holds(&mut tx, one, head.revision).await? {
                let before = press.state(&mut tx, head.athlete).await?;
                let race_day = one.race_day.as_deref();
                show_revision(&mut tx, one.block, head.revision, one.shows, race_day, one.ends, now).await?;
                press.note(&mut tx, head.athlete, before).await?;
            }
            found.done.push(one.block);
        }
        tx.commit().await?;
        found.step = press.step;
        Ok(found)
    }
}

/// Whether the athlete holds just what would be handed over.
async fn holds(db: &mut SqliteConnection, one: &ToHandOver, revision: u32) -> Result<bool> {
    let Some(share) = working_share(db, one.block).await? else {
        return Ok(false);
    };
    let goals = goals(db, one.block).await?;
    let race_day = one.race_day.as_ref().filter(|_| one.shows.race_day);
    Ok(share.revision == revision
        && share.shows == one.shows
        && share.ends == one.ends
        && share.race_day.as_ref() == race_day
        && !share.notes_changed(&goals))
}

/// What the athlete holds by a link that works; nothing where there is no such link.
pub(super) async fn state(db: &mut SqliteConnection, race: RaceId, athlete: AthleteId) -> Result<Option<String>> {
    Ok(sqlx::query_scalar!(
        r#"SELECT json_object('hand_over', (SELECT max(id) FROM hand_over WHERE hand_over.share = share.id),
                              'ends', share.ends, 'goals', share.shows_goals, 'stretches', share.shows_stretches,
                              'race_day', share.shows_race_day) AS "state!: String"
           FROM block JOIN share ON share.block = block.id AND share.revoked_at IS NULL
           WHERE block.race = ? AND block.athlete = ?"#,
        race.0,
        athlete.0
    )
    .fetch_optional(db)
    .await?)
}

#[derive(Deserialize)]
struct Before {
    hand_over: i64,
    ends: String,
    goals: i64,
    stretches: i64,
    race_day: i64,
}

/// Ends the link, or hands over by it again what it showed before: what left the house stays written down.
pub(super) async fn put_back(
    db: &mut SqliteConnection,
    race: RaceId,
    athlete: AthleteId,
    before: Option<&str>,
    now: DateTime<Utc>,
) -> Result<()> {
    let at = cell::instant_text(now);
    let Some(before) = before else {
        sqlx::query!(
            "UPDATE share SET revoked_at = ?
             WHERE revoked_at IS NULL AND block IN (SELECT id FROM block WHERE race = ? AND athlete = ?)",
            at,
            race.0,
            athlete.0
        )
        .execute(db)
        .await?;
        return Ok(());
    };
    let before: Before = read(athlete, before)?;
    sqlx::query!(
        "INSERT INTO hand_over (block, revision, share, at, goals, race_day)
         SELECT block, revision, share, ?, goals, race_day FROM hand_over WHERE id = ?",
        at,
        before.hand_over
    )
    .execute(&mut *db)
    .await?;
    sqlx::query!(
        "UPDATE share SET revision = earlier.revision, handed_over_at = ?, ends = ?, shows_goals = ?,
                          shows_stretches = ?, shows_race_day = ?
         FROM hand_over AS earlier WHERE earlier.id = ? AND share.id = earlier.share",
        at,
        before.ends,
        before.goals,
        before.stretches,
        before.race_day,
        before.hand_over
    )
    .execute(db)
    .await?;
    Ok(())
}

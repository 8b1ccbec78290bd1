//! What a block is without its days: whose, for what, and where it stands.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use planning::{Importance, Outcome};
use sqlx::SqliteConnection;

use crate::cell::{self, Place};
use crate::entries::importance;
use crate::{AthleteId, BlockId, RaceId, Result, StoreError, Version};

/// A block that is not hidden, without its days.
pub(crate) struct Head {
    pub(crate) athlete: AthleteId,
    pub(crate) race: RaceId,
    pub(crate) version: Version,
    pub(crate) revision: u32,
    pub(super) importance: Importance,
    pub(super) outcome: Option<Outcome>,
    /// Where the race is now.
    pub(super) place: String,
    /// When the block was first made.
    pub(super) begun: DateTime<Utc>,
}

/// A block that is not hidden.
pub(crate) async fn head(db: &mut SqliteConnection, id: BlockId) -> Result<Option<Head>> {
    Ok(heads(db, &[id]).await?.remove(&id))
}

/// The same of several blocks, one query for all; nothing for one that is not there.
pub(super) async fn heads(db: &mut SqliteConnection, ids: &[BlockId]) -> Result<HashMap<BlockId, Head>> {
    let ids = cell::id_list(ids.iter().copied());
    let rows = sqlx::query!(
        r#"SELECT block.id AS "id!", block.athlete, block.race, block.version, block.revision, block.made_at,
                  entry.importance, race.place, result.outcome AS "outcome?"
           FROM block
           JOIN entry ON entry.race = block.race AND entry.athlete = block.athlete AND entry.withdrawn_at IS NULL
           JOIN athlete ON athlete.id = block.athlete AND athlete.removed_at IS NULL
           JOIN race ON race.id = block.race AND race.removed_at IS NULL
           LEFT JOIN result ON result.race = block.race AND result.athlete = block.athlete
           WHERE block.id IN (SELECT value FROM json_each(?)) AND block.removed_at IS NULL"#,
        ids
    )
    .fetch_all(db)
    .await?;
    let read = rows.into_iter().map(|row| {
        let place = Place::new("block", row.id);
        let outcome = |code: String| Place::new("result", row.athlete).word("outcome", &code, Outcome::from_code);
        let head = Head {
            outcome: row.outcome.map(outcome).transpose()?,
            athlete: AthleteId(row.athlete),
            race: RaceId(row.race),
            version: Version(row.version),
            revision: place.number("revision", row.revision)?,
            importance: importance(row.athlete, &row.importance)?,
            place: row.place,
            begun: place.instant("made_at", &row.made_at)?,
        };
        Ok((BlockId(row.id), head))
    });
    read.collect()
}

/// A block that is as it was when somebody read it.
pub(crate) async fn current(db: &mut SqliteConnection, id: BlockId, read_at: Version) -> Result<Head> {
    let head = head(db, id).await?.ok_or(StoreError::Gone)?;
    if head.version == read_at { Ok(head) } else { Err(StoreError::Conflict) }
}

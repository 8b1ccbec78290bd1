//! Signatures whose bodies come next.

use chrono::{DateTime, NaiveDate, Utc};
use planning::{Block, Settings};

use crate::{
    AthleteId, BlockId, BlockRecord, BoardRow, GoalNotes, RaceId, Result, ShareRecord, SharedBlock, SharedReader,
    Store, Version, WeekRecord,
};

#[expect(unused_variables, clippy::unused_async, reason = "signatures first")]
impl Store {
    /// One block with everything around it.
    pub async fn block(&self, id: BlockId) -> Result<Option<BlockRecord>> {
        todo!()
    }
    /// The block of an athlete for a race, if there is one.
    pub async fn block_for(&self, athlete: AthleteId, race: RaceId) -> Result<Option<BlockId>> {
        todo!()
    }
    /// Keeps a new block (first revision). If the athlete has a block for the race already, that
    /// block's id is returned and nothing is written: a double click makes one block.
    pub async fn add_block(
        &self,
        athlete: AthleteId,
        race: RaceId,
        settings: &Settings,
        week: &WeekRecord,
        block: &Block,
        now: DateTime<Utc>,
    ) -> Result<BlockId> {
        todo!()
    }
    /// Keeps a new revision of a block; goal notes stay as they are.
    pub async fn revise_block(
        &self,
        id: BlockId,
        read_at: Version,
        settings: &Settings,
        week: &WeekRecord,
        block: &Block,
        reason: &str,
        now: DateTime<Utc>,
    ) -> Result<u32> {
        todo!()
    }
    /// Saves the goal notes of a block read at a version.
    pub async fn save_goals(&self, id: BlockId, read_at: Version, goals: &GoalNotes, now: DateTime<Utc>) -> Result<()> {
        todo!()
    }

    /// Hands the present revision over: makes a link, or lets the existing one show this revision.
    pub async fn hand_over(
        &self,
        id: BlockId,
        shows_goals: bool,
        ends: NaiveDate,
        now: DateTime<Utc>,
    ) -> Result<ShareRecord> {
        todo!()
    }
    /// Ends the link of a block at once.
    pub async fn revoke(&self, id: BlockId, now: DateTime<Utc>) -> Result<()> {
        todo!()
    }

    /// The squad board: a row an athlete, by name.
    pub async fn board(&self, today: NaiveDate) -> Result<Vec<BoardRow>> {
        todo!()
    }

    /// What the integrity and referential checks and reading every record find; empty is well.
    pub async fn check(&self) -> Result<Vec<String>> {
        todo!()
    }
}

#[expect(unused_variables, clippy::unused_async, reason = "signatures first")]
impl SharedReader {
    /// What a token shows today; nothing for an unknown, a revoked and an expired one alike.
    pub async fn shared(&self, token: &str, today: NaiveDate) -> Result<Option<SharedBlock>> {
        todo!()
    }
}

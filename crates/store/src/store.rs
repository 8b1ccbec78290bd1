//! Signatures whose bodies come next.

use chrono::{DateTime, NaiveDate, Utc};
use planning::{Block, Importance, Settings};

use crate::{
    AthleteId, BlockId, BlockRecord, BoardRow, Entry, GoalNotes, RaceId, RaceRecord, Result, ShareRecord, SharedBlock,
    SharedReader, Store, Version, WeekRecord,
};

#[expect(unused_variables, clippy::unused_async, reason = "signatures first")]
impl Store {
    /// The base week of an athlete; an empty one at `Version(0)` where none was saved. `None`: no such athlete.
    pub async fn week(&self, id: AthleteId) -> Result<Option<WeekRecord>> {
        todo!()
    }
    /// Saves a base week: lines as typed (they must read without a problem) and the weekly range.
    pub async fn save_week(
        &self,
        id: AthleteId,
        read_at: Version,
        lines: &[String; 7],
        range: &str,
        now: DateTime<Utc>,
    ) -> Result<()> {
        todo!()
    }

    /// Every race, by date, with how many are entered.
    pub async fn races(&self) -> Result<Vec<(RaceRecord, u32)>> {
        todo!()
    }
    /// One race.
    pub async fn race(&self, id: RaceId) -> Result<Option<RaceRecord>> {
        todo!()
    }
    /// Adds a race.
    pub async fn add_race(
        &self,
        race: &planning::Race,
        place: &str,
        once: uuid::Uuid,
        now: DateTime<Utc>,
    ) -> Result<RaceId> {
        todo!()
    }
    /// Saves a race read at a version.
    pub async fn save_race(
        &self,
        id: RaceId,
        read_at: Version,
        race: &planning::Race,
        place: &str,
        now: DateTime<Utc>,
    ) -> Result<()> {
        todo!()
    }
    /// Hides a race, its entries and blocks; undoable.
    pub async fn remove_race(&self, id: RaceId, now: DateTime<Utc>) -> Result<()> {
        todo!()
    }
    /// Brings a removed race back.
    pub async fn restore_race(&self, id: RaceId, now: DateTime<Utc>) -> Result<()> {
        todo!()
    }
    /// Who is entered in a race, by name.
    pub async fn entrants(&self, id: RaceId) -> Result<Vec<Entry>> {
        todo!()
    }
    /// The races that an athlete is entered in, by date.
    pub async fn entries_of(&self, id: AthleteId) -> Result<Vec<(Entry, RaceRecord)>> {
        todo!()
    }
    /// Enters an athlete in a race, or changes what the race means to the athlete.
    pub async fn enter(
        &self,
        race: RaceId,
        athlete: AthleteId,
        importance: Importance,
        now: DateTime<Utc>,
    ) -> Result<()> {
        todo!()
    }
    /// Takes an athlete out of a race (its block is hidden, undoable by entering again).
    pub async fn withdraw(&self, race: RaceId, athlete: AthleteId, now: DateTime<Utc>) -> Result<()> {
        todo!()
    }

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

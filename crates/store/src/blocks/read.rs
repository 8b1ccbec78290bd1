//! Reading blocks: with everything around them, and their revisions.

use std::collections::HashMap;

use planning::Race;
use sqlx::SqliteConnection;

use super::block_of;
use super::head::{Head, head, heads};
use super::revision::{Present, Presents, revision, revision_place};
use crate::athletes::athletes_of;
use crate::cell::{self, Place};
use crate::goals::goals_of;
use crate::race_sheets::race_sheets_of;
use crate::races::races_of;
use crate::shares::working_shares;
use crate::{
    AthleteId, AthleteRecord, BlockId, BlockRecord, GoalNotes, RaceId, RaceRecord, RaceSheet, Result, Revision,
    RevisionHead, ShareRecord, Store,
};

impl Store {
    /// One block with everything around it.
    pub async fn block(&self, id: BlockId) -> Result<Option<BlockRecord>> {
        let mut tx = self.reading().await?;
        Ok(blocks(&mut tx, &[id]).await?.pop())
    }

    /// The same of several blocks, in their order; one that is not there is left out.
    pub async fn blocks(&self, ids: &[BlockId]) -> Result<Vec<BlockRecord>> {
        let mut tx = self.reading().await?;
        blocks(&mut tx, ids).await
    }

    /// Every revision of a block, the newest first; nothing where there is no such block.
    pub async fn revisions(&self, id: BlockId) -> Result<Option<Vec<RevisionHead>>> {
        let mut tx = self.reading().await?;
        let Some(head) = head(&mut tx, id).await? else {
            return Ok(None);
        };
        let rows = sqlx::query!(
            r#"SELECT id, number, made_at, reason, parent,
                      (SELECT max(at) FROM hand_over
                       WHERE hand_over.block = block_revision.block AND hand_over.revision = block_revision.number)
                          AS "handed_over: String"
               FROM block_revision WHERE block = ? ORDER BY number DESC"#,
            id.0
        )
        .fetch_all(&mut *tx)
        .await?;
        let read = rows.into_iter().map(|row| {
            let place = revision_place(row.id);
            let number = place.number("number", row.number)?;
            Ok(RevisionHead {
                number,
                made: place.instant("made_at", &row.made_at)?,
                reason: row.reason,
                parent: row.parent.map(|parent| place.number("parent", parent)).transpose()?,
                is_present: number == head.revision,
                handed_over: row.handed_over.map(|text| place.instant("handed_over_at", &text)).transpose()?,
            })
        });
        Ok(Some(read.collect::<Result<_>>()?))
    }

    /// One revision of a block; nothing where there is no such block or no such revision.
    pub async fn revision(&self, id: BlockId, number: u32) -> Result<Option<Revision>> {
        let mut tx = self.reading().await?;
        if head(&mut tx, id).await?.is_none() {
            return Ok(None);
        }
        revision(&mut tx, id, number).await
    }

    /// The block of an athlete for a race, if there is one that is not hidden.
    pub async fn block_for(&self, athlete: AthleteId, race: RaceId) -> Result<Option<BlockId>> {
        let mut tx = self.reading().await?;
        match block_of(&mut tx, athlete, race).await? {
            Some(id) => Ok(head(&mut tx, id).await?.map(|_| id)),
            None => Ok(None),
        }
    }
}

/// Blocks with everything around them, in the order of their ids; one that is not there is left out. However
/// many they are, each table is asked once.
async fn blocks(db: &mut SqliteConnection, ids: &[BlockId]) -> Result<Vec<BlockRecord>> {
    Blocks::of(db, ids).await?.read(db).await
}

/// Blocks whose days are still being read, see [`Presents`]: whoever asks for more beside them asks meanwhile.
pub(crate) struct Blocks<'a> {
    ids: &'a [BlockId],
    present: Presents,
    heads: HashMap<BlockId, Head>,
    athletes: HashMap<AthleteId, AthleteRecord>,
    races: HashMap<RaceId, RaceRecord>,
    goals: HashMap<BlockId, GoalNotes>,
    race_sheets: HashMap<BlockId, RaceSheet>,
    shares: HashMap<BlockId, ShareRecord>,
}

impl<'a> Blocks<'a> {
    /// Asks for blocks and for everything around them.
    pub(crate) async fn of(db: &mut SqliteConnection, ids: &'a [BlockId]) -> Result<Self> {
        let present = Presents::of(db, ids).await?;
        let heads = heads(db, ids).await?;
        let athletes: Vec<AthleteId> = heads.values().map(|head| head.athlete).collect();
        let races: Vec<RaceId> = heads.values().map(|head| head.race).collect();
        let athletes = athletes_of(db, &athletes).await?.into_iter().map(|athlete| (athlete.id, athlete));
        Ok(Self {
            ids,
            present,
            heads,
            athletes: athletes.collect(),
            races: races_of(db, &races).await?,
            goals: goals_of(db, ids).await?,
            race_sheets: race_sheets_of(db, ids).await?,
            shares: working_shares(db, ids).await?,
        })
    }

    /// Whose blocks they are.
    pub(crate) fn athletes(&self) -> Vec<AthleteId> {
        self.athletes.keys().copied().collect()
    }

    /// The blocks, once their days are read.
    pub(crate) async fn read(self, db: &mut SqliteConnection) -> Result<Vec<BlockRecord>> {
        let Self { ids, present, mut heads, athletes, races, mut goals, mut race_sheets, mut shares } = self;
        let mut present = present.read().await?;
        let mut inside = goals_inside(db, &present).await?;
        let mut read = Vec::with_capacity(ids.len());
        for &id in ids {
            let Some(head) = heads.remove(&id) else { continue };
            let (Some(athlete), Some(race)) = (athletes.get(&head.athlete), races.get(&head.race)) else { continue };
            let Some(Present { revision: kept, undo, redo }) = present.remove(&id) else {
                return Err(Place::new("block", id.0).corrupt("revision", "there is no such revision"));
            };
            let mut race = race.clone();
            race.race.importance = head.importance;
            read.push(BlockRecord {
                id,
                version: head.version,
                revision: head.revision,
                begun: head.begun,
                made: kept.made,
                reason: kept.reason,
                athlete: athlete.clone(),
                race,
                outcome: head.outcome,
                goal_inside: inside.remove(&id),
                week: kept.week,
                settings: kept.settings,
                block: kept.block,
                before_events: kept.before_events,
                goals: goals.remove(&id).unwrap_or_default(),
                race_sheet: race_sheets.remove(&id).unwrap_or_default(),
                share: shares.remove(&id),
                undo,
                redo,
            });
        }
        Ok(read)
    }
}

/// The first other goal race that lies among the days of each block and is run.
async fn goals_inside(
    db: &mut SqliteConnection,
    present: &HashMap<BlockId, Present>,
) -> Result<HashMap<BlockId, Race>> {
    let ids = cell::id_list(present.keys().copied());
    let rows = sqlx::query!(
        r#"SELECT block.id AS "block!: i64", race.id AS "race!: i64", race.day AS "day!: String"
           FROM block
           CROSS JOIN entry ON entry.athlete = block.athlete AND entry.race <> block.race
           JOIN race ON race.id = entry.race
           LEFT JOIN result ON result.race = entry.race AND result.athlete = entry.athlete
           WHERE block.id IN (SELECT value FROM json_each(?)) AND entry.importance = 'goal'
             AND entry.withdrawn_at IS NULL AND race.removed_at IS NULL AND race.called_off IS NULL
             AND coalesce(result.outcome, '') <> 'did-not-start'
           ORDER BY race.day DESC, race.id DESC"#,
        ids
    )
    .fetch_all(&mut *db)
    .await?;
    // Of several the first in time stays.
    let mut inside = HashMap::new();
    for row in rows {
        let (block, day) = (BlockId(row.block), Place::new("race", row.race).day("day", &row.day)?);
        if present.get(&block).is_some_and(|kept| kept.revision.block.has_inside(day)) {
            inside.insert(block, RaceId(row.race));
        }
    }
    if inside.is_empty() {
        return Ok(HashMap::new());
    }
    let races = races_of(db, &inside.values().copied().collect::<Vec<_>>()).await?;
    let found = inside.into_iter().filter_map(|(block, race)| Some((block, races.get(&race)?.race.clone())));
    Ok(found.collect())
}

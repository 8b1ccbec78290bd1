//! Every block of a race: with all that is known around it where it is judged, alone where it is shown.

use store::{BlockId, BlockRecord, RaceId};

use crate::blocks::Loaded;
use crate::error::AppError;
use crate::state::AppState;

/// The blocks of everybody who is entered, by name, as their own pages would read them. One that is taken away
/// meanwhile is left out.
pub(super) async fn blocks_of(state: &AppState, race: RaceId) -> Result<Vec<Loaded>, AppError> {
    Loaded::read_all(state, &ids(state, race).await?).await
}

/// The same blocks without what is known around them.
pub(super) async fn records_of(state: &AppState, race: RaceId) -> Result<Vec<BlockRecord>, AppError> {
    Ok(state.store.blocks(&ids(state, race).await?).await?)
}

/// The blocks that an address names, once for each: `not=12&not=14`.
pub(super) fn named_in(query: &str, name: &str) -> Vec<BlockId> {
    let read = |pair: &str| pair.strip_prefix(name)?.strip_prefix('=')?.parse().ok().map(BlockId);
    query.split('&').filter_map(read).collect()
}

async fn ids(state: &AppState, race: RaceId) -> Result<Vec<BlockId>, AppError> {
    Ok(state.store.entrants(race).await?.into_iter().filter_map(|entry| entry.block).collect())
}

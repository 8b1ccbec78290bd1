//! Every block of a race, as its own page would read it.

use store::RaceId;

use crate::blocks::Loaded;
use crate::error::AppError;
use crate::state::AppState;

/// The blocks of everybody who is entered, by name. One that is taken away meanwhile is left out.
pub(super) async fn blocks_of(state: &AppState, race: RaceId) -> Result<Vec<Loaded>, AppError> {
    let ids: Vec<_> = state.store.entrants(race).await?.into_iter().filter_map(|entry| entry.block).collect();
    Loaded::read_all(state, &ids).await
}

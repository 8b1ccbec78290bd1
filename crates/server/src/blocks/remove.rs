//! Takes a block away, and brings it back.

use axum::extract::State;
use axum::response::Response;
use store::BlockId;

use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::state::AppState;

/// `POST /blocks/{block}/remove`: the link goes with it, at once. Twice is once.
pub(crate) async fn post(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let athlete = state.store.block(id).await?.map(|record| record.athlete.id);
    state.store.remove_block(id, state.clock.now()).await?;
    let to = athlete.map_or_else(|| paths::REMOVED.to_owned(), paths::athlete);
    Ok(notice::redirect(&to, Notice::BlockRemoved(id)))
}

/// `POST /blocks/{block}/bring-back`
pub(crate) async fn restore(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    state.store.restore_block(id).await?;
    Ok(notice::redirect(&paths::block(id), Notice::BlockBack))
}

//! Removes a race, and takes that back.

use axum::extract::State;
use axum::response::Response;
use store::RaceId;

use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::state::AppState;

/// `POST /races/{race}/remove`
pub(crate) async fn post(State(state): State<AppState>, Id(id): Id<RaceId>) -> Result<Response, AppError> {
    state.store.remove_race(id, state.clock.now()).await?;
    Ok(notice::redirect(paths::RACES, Notice::RaceRemoved(id)))
}

/// `POST /races/{race}/restore`
pub(crate) async fn restore(State(state): State<AppState>, Id(id): Id<RaceId>) -> Result<Response, AppError> {
    state.store.restore_race(id, state.clock.now()).await?;
    Ok(notice::redirect(&paths::race(id), Notice::RaceRestored))
}

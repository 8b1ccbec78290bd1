//! Removes an athlete, and takes that back.

use axum::extract::State;
use axum::response::Response;
use store::AthleteId;

use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::state::AppState;

/// `POST /athletes/{athlete}/remove`
pub(crate) async fn post(State(state): State<AppState>, Id(id): Id<AthleteId>) -> Result<Response, AppError> {
    state.store.remove_athlete(id, state.clock.now()).await?;
    Ok(notice::redirect(paths::ATHLETES, Notice::AthleteRemoved(id)))
}

/// `POST /athletes/{athlete}/restore`
pub(crate) async fn restore(State(state): State<AppState>, Id(id): Id<AthleteId>) -> Result<Response, AppError> {
    state.store.restore_athlete(id, state.clock.now()).await?;
    Ok(notice::redirect(&paths::athlete(id), Notice::AthleteRestored))
}

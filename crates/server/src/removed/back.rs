//! Brings back what has no page of its own to come back to.

use axum::extract::State;
use axum::response::Response;
use store::{AthleteId, DoneId, RaceId};

use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::state::AppState;

/// `POST /races/{race}/entries/{athlete}/restore`
pub(crate) async fn entry(
    State(state): State<AppState>,
    Id((race, athlete)): Id<(RaceId, AthleteId)>,
) -> Result<Response, AppError> {
    state.store.restore_entry(race, athlete).await?;
    Ok(notice::redirect(&paths::athlete(athlete), Notice::BroughtBack))
}

/// `POST /sessions/{session}/restore`
pub(crate) async fn session(State(state): State<AppState>, Id(id): Id<DoneId>) -> Result<Response, AppError> {
    let athlete = state.store.restore_done_session(id).await?;
    Ok(notice::redirect(&paths::log(athlete), Notice::BroughtBack))
}

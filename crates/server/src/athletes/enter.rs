//! Enters one athlete in a race, from the athlete's page.

use axum::extract::State;
use axum::response::Response;
use axum_extra::extract::Form;
use planning::Importance;
use serde::Deserialize;
use store::{AthleteId, RaceId};

use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::state::AppState;

/// The form as typed.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    race: String,
    importance: String,
}

/// `POST /athletes/{athlete}/enter`
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<AthleteId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let race = typed.race.parse().map(RaceId).map_err(|_| AppError::NotFound)?;
    let importance = Importance::from_code(&typed.importance).unwrap_or_default();
    state.store.enter(race, id, importance, state.clock.now()).await?;
    Ok(notice::redirect(&paths::athlete(id), Notice::Entered(1)))
}

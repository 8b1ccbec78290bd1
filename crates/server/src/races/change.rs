//! A race is called off, takes place after all, or was not run to its end.

use axum::extract::State;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::words;
use planning::RaceDistance;
use planning::notation::read_distance;
use serde::Deserialize;
use store::{AthleteId, RaceId, StoreError};

use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::Layout;
use crate::state::AppState;

/// `POST /races/{race}/call-off`
pub(crate) async fn call_off(State(state): State<AppState>, Id(id): Id<RaceId>) -> Result<Response, AppError> {
    state.store.call_off_race(id, Some(state.clock.today()), state.clock.now()).await?;
    Ok(notice::redirect(&paths::race(id), Notice::CalledOff(id)))
}

/// `POST /races/{race}/take-place`
pub(crate) async fn take_place(State(state): State<AppState>, Id(id): Id<RaceId>) -> Result<Response, AppError> {
    state.store.call_off_race(id, None, state.clock.now()).await?;
    Ok(notice::redirect(&paths::race(id), Notice::TakesPlace))
}

/// The form: who, and how far; empty is all of it.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    athlete: String,
    ran: String,
}

/// `POST /races/{race}/ran`
pub(crate) async fn ran(
    State(state): State<AppState>,
    Id(race): Id<RaceId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let athlete = AthleteId(typed.athlete.trim().parse().map_err(|_| AppError::NotFound)?);
    let text = typed.ran.trim();
    let refuse = |sentence: String| crate::athletes::refused_season(&state, layout, athlete, race, text, sentence);
    let distance = match read_distance(text) {
        _ if text.is_empty() => None,
        Ok(RaceDistance::Own(value, unit)) => Some((value, unit)),
        // A distance by its name is as far as the road is.
        Ok(named) => Some((named.distance().in_unit(planning::DistanceUnit::Km), planning::DistanceUnit::Km)),
        Err(problem) => return refuse(format!("Really ran: {}.", words::problem_kind(&problem))).await,
    };
    match state.store.ran_of_race(race, athlete, distance).await {
        Ok(()) => Ok(notice::redirect(&paths::season(athlete), Notice::LogSaved)),
        Err(StoreError::Refused(found)) => {
            let said = found.first().map(|problem| words::problem_kind(&problem.kind)).unwrap_or_default();
            refuse(format!("Really ran: {said}.")).await
        }
        Err(error) => Err(error.into()),
    }
}

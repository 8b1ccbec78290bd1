//! Enters athletes in a race, several at once, and takes them out again.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use planning::Importance;
use serde::Deserialize;
use store::{AthleteId, RaceId, StepId};

use super::show::ShowPage;
use crate::error::AppError;
use crate::extract::Id;
use crate::form::Problems;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Layout};
use crate::state::AppState;

/// The form as typed: athletes by their ids, each as a field of the same name.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    athlete: Vec<String>,
    importance: String,
}

impl Typed {
    fn athletes(&self) -> Result<Vec<AthleteId>, AppError> {
        self.athlete.iter().map(|id| id.parse().map(AthleteId).map_err(|_| AppError::NotFound)).collect()
    }
}

/// `POST /races/{race}/enter`: entering again changes what the race means to the athlete.
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let athletes = typed.athletes()?;
    if athletes.is_empty() {
        let mut problems = Problems::default();
        problems.add("athletes", "Tick at least one athlete, then enter them.");
        let page = ShowPage::load(&state, layout, id, problems).await?;
        return render::page(StatusCode::UNPROCESSABLE_ENTITY, &page);
    }
    let importance = Importance::from_code(&typed.importance).unwrap_or_default();
    let step = state.store.enter_many(id, &athletes, importance, state.clock.now()).await?;
    done(&state, id, step).await
}

/// The race's page with what was just done and the way back; where nothing changed, without a word.
async fn done(state: &AppState, id: RaceId, step: Option<StepId>) -> Result<Response, AppError> {
    let Some(step) = step else {
        return Ok(notice::see_other(&paths::race(id)));
    };
    let count = state.store.step(step).await?.map_or(0, |(step, _)| step.athletes);
    Ok(notice::redirect(&paths::race(id), Notice::EnteredAtOnce(step, count)))
}

/// `POST /races/{race}/withdraw`
pub(crate) async fn withdraw(
    State(state): State<AppState>,
    Id(id): Id<RaceId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    for athlete in typed.athletes()? {
        state.store.withdraw(id, athlete, state.clock.now()).await?;
    }
    Ok(notice::redirect(&paths::race(id), Notice::Withdrawn))
}

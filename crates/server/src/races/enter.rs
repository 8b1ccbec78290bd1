//! Enters athletes in a race, several at once, and takes them out again.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use planning::Importance;
use serde::Deserialize;
use store::{AthleteId, RaceId};

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
    for athlete in &athletes {
        state.store.enter(id, *athlete, importance, state.clock.now()).await?;
    }
    let count = u32::try_from(athletes.len()).unwrap_or(u32::MAX);
    Ok(notice::redirect(&paths::race(id), Notice::Entered(count)))
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

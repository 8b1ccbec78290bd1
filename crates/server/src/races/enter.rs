//! Enters athletes in a race, several at once, and takes them out again.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::words;
use planning::Importance;
use serde::Deserialize;
use store::{AthleteId, RaceId, StepId, StoreError};

use super::show::{Filter, Refused, ShowPage, group_of};
use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Layout};
use crate::state::AppState;

/// The form as typed: athletes by their ids, each as a field of the same name, or everybody of a group.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    athlete: Vec<String>,
    /// A group as the race's page writes it.
    group: String,
    importance: String,
    /// What the list of boxes was narrowed by.
    text: String,
    in_group: String,
    list: String,
}

impl Typed {
    fn athletes(&self) -> Result<Vec<AthleteId>, AppError> {
        self.athlete.iter().map(|id| id.parse().map(AthleteId).map_err(|_| AppError::NotFound)).collect()
    }

    fn filter(&self) -> Filter {
        Filter { text: self.text.clone(), group: self.in_group.clone(), list: self.list.clone(), ..Filter::default() }
    }
}

/// `POST /races/{race}/enter`: entering again changes what the race means to the athlete. All are entered, or
/// nobody is and the page says because of whom.
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let mut athletes = typed.athletes()?;
    if let Some(group) = group_of(&typed.group) {
        let board = state.store.board(state.clock.today()).await?;
        athletes.extend(state.store.enterable_of_group(&board, id, group).await?);
        if athletes.is_empty() {
            // Pressed twice, or by two: everybody of the group is entered.
            return done(&state, id, None).await;
        }
    }
    if athletes.is_empty() {
        return refused(&state, layout, id, &typed, "Tick at least one athlete, then enter them.".to_owned()).await;
    }
    let importance = Importance::from_code(&typed.importance).unwrap_or_default();
    match state.store.enter_many(id, &athletes, importance, state.clock.now()).await {
        Ok(step) => done(&state, id, step).await,
        Err(StoreError::Gone) => {
            let sentence = gone_words(&state, &athletes).await?;
            refused(&state, layout, id, &typed, sentence).await
        }
        Err(error) => Err(error.into()),
    }
}

/// Who is no longer there, so that nobody was entered.
async fn gone_words(state: &AppState, athletes: &[AthleteId]) -> Result<String, AppError> {
    let (mut names, mut unknown) = (Vec::new(), 0);
    let removed = state.store.removed_athletes().await?;
    for id in athletes {
        if state.store.athlete(*id).await?.is_some() {
            continue;
        }
        match removed.iter().find(|athlete| athlete.id == *id) {
            Some(athlete) => names.push(athlete.draft.athlete.name.clone()),
            None => unknown += 1,
        }
    }
    if unknown > 0 {
        names.push(words::plural(unknown, "athlete") + " who went for good");
    }
    let was = if names.len() == 1 { "was" } else { "were" };
    Ok(format!("{} {was} removed meanwhile, so nobody was entered. The others are still ticked.", words::list(&names)))
}

async fn refused(
    state: &AppState,
    layout: Layout,
    id: RaceId,
    typed: &Typed,
    sentence: String,
) -> Result<Response, AppError> {
    let mut refused = Refused { ticked: typed.athletes()?, ..Refused::default() };
    refused.problems.add("athletes", sentence);
    let page = ShowPage::load(state, layout, id, &typed.filter(), refused).await?;
    render::page(StatusCode::UNPROCESSABLE_ENTITY, &page)
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

//! Notes what happened to an athlete, and takes it back.

use axum::extract::State;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::words;
use planning::{EventKind, Field, LifeEvent};
use store::{AthleteId, EventId, StoreError};

use super::save::{read_day, refused};
use super::show::{Typed, kind_value};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, one_line};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::Layout;
use crate::state::AppState;

/// The longest note about an event, in characters.
const NOTE_MOST: usize = 500;

/// `POST /athletes/{athlete}/events`
pub(crate) async fn add(
    State(state): State<AppState>,
    Id(id): Id<AthleteId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let mut problems = Problems::default();
    let kind = EventKind::ALL.into_iter().find(|kind| kind_value(*kind) == typed.kind);
    if kind.is_none() {
        problems.add("kind", "What: choose one of the list.");
    }
    let from = read_day(&typed.from, "from", "From", &mut problems);
    // One day is said by its first alone.
    let to = if typed.to.trim().is_empty() { from } else { read_day(&typed.to, "to", "To", &mut problems) };
    let note = one_line(&typed.note);
    problems.check_length("note", "Your note", &note, NOTE_MOST);
    let (Some(kind), Some(from), Some(to), true) = (kind, from, to, problems.is_empty()) else {
        return refused(&state, layout, id, typed, problems).await;
    };
    let event = LifeEvent { kind, from, to, noted: state.clock.today() };
    match state.store.add_event(id, &event, &note, state.clock.now()).await {
        Ok(_) => Ok(notice::redirect(&paths::log(id), Notice::EventAdded)),
        Err(StoreError::Refused(found)) => {
            for problem in &found {
                let field = if matches!(problem.at, Field::EventDays(_)) { "to" } else { "from" };
                problems.add(field, format!("To: {}.", words::problem_kind(&problem.kind)));
            }
            refused(&state, layout, id, typed, problems).await
        }
        Err(error) => Err(error.into()),
    }
}

/// `POST /athletes/{athlete}/events/{event}/remove`
pub(crate) async fn remove(
    State(state): State<AppState>,
    Id((athlete, id)): Id<(AthleteId, EventId)>,
) -> Result<Response, AppError> {
    state.store.remove_event(athlete, id, state.clock.now()).await?;
    Ok(notice::redirect(&paths::log(athlete), Notice::EventRemoved(id)))
}

/// `POST /events/{event}/restore`
pub(crate) async fn restore(State(state): State<AppState>, Id(id): Id<EventId>) -> Result<Response, AppError> {
    let athlete = state.store.restore_event(id).await?;
    Ok(notice::redirect(&paths::log(athlete), Notice::EventAdded))
}

//! Takes a step back.

use axum::extract::State;
use axum::response::Response;
use store::StepId;

use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::state::AppState;

/// `POST /steps/{step}/undo`: back to where it was made, or, where somebody was changed since, to the page that
/// names them. Pressed again it tries those who are left; for the others twice is once.
pub(crate) async fn post(State(state): State<AppState>, Id(id): Id<StepId>) -> Result<Response, AppError> {
    state.store.undo_step(id, state.clock.now()).await?;
    let (step, _) = state.store.step(id).await?.ok_or(AppError::NotFound)?;
    let back = match step.race {
        Some(race) if step.is_finished() => paths::race(race),
        None if step.is_finished() => super::made_at(step.kind).0.to_owned(),
        _ => return Ok(notice::see_other(&paths::step(id))),
    };
    Ok(notice::redirect(&back, Notice::StepUndone(step.kind, step.given_back)))
}

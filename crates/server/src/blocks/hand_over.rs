//! Hands a block over to its athlete: makes the link, or ends it.

use axum::extract::State;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::Days;
use serde::Deserialize;
use store::BlockId;

use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::paths;
use crate::state::AppState;

/// How many days after the race a link still works.
pub(crate) const DAYS_AFTER: u64 = 14;

/// The form: whether the athlete's page shows the goals.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    goals: String,
}

/// `POST /blocks/{block}/hand-over`: the link shows the present revision.
pub(crate) async fn post(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    let ends = record.block.race_day + Days::new(DAYS_AFTER);
    state.store.hand_over(id, typed.goals == "yes", ends, state.clock.now()).await?;
    Ok(notice::redirect(&format!("{}#hand-over", paths::block(id)), Notice::HandedOver))
}

/// `POST /blocks/{block}/hand-over/end`: the link no longer works, at once.
pub(crate) async fn end(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    state.store.revoke(id, state.clock.now()).await?;
    Ok(notice::redirect(&format!("{}#hand-over", paths::block(id)), Notice::LinkEnded))
}

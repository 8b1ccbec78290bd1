//! The calendar file: the present version, to be imported once.

use axum::extract::State;
use axum::response::Response;
use store::BlockId;

use super::file::{download, file_name};
use super::lines;
use crate::calendar;
use crate::error::AppError;
use crate::extract::Id;
use crate::state::AppState;

/// `GET /blocks/{block}/calendar`
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    let history = state.store.history(id).await?.ok_or(AppError::NotFound)?;
    let name = file_name(&[&history.name, &lines::race_name(&record.race.race)], Some(record.block.race_day), "ics");
    Ok(download(&name, calendar::CONTENT, calendar::write(&history)?))
}

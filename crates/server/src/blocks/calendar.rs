//! The calendar file: the present version, to be imported once.

use axum::extract::State;
use axum::response::Response;
use store::BlockId;

use super::file::{block_file_name, download};
use super::withheld::Withheld;
use crate::calendar;
use crate::error::AppError;
use crate::extract::Id;
use crate::state::AppState;

/// `GET /blocks/{block}/calendar`
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    if let Some(back) = Withheld::sent_back(&record, state.clock.today()) {
        return Ok(back);
    }
    let history = state.store.history(id).await?.ok_or(AppError::NotFound)?;
    Ok(download(&block_file_name(&record, "ics"), calendar::CONTENT, calendar::write(&history)?))
}

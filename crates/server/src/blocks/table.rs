//! A block as a table, for a spreadsheet.

use axum::extract::State;
use axum::response::Response;
use formats::plan_csv;
use store::BlockId;

use super::file::{block_file_name, download};
use crate::error::AppError;
use crate::extract::Id;
use crate::state::AppState;

/// `GET /blocks/{block}/table`: what happened to the athlete stays out of it, as it does on paper.
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let record = state.store.block(id).await?.ok_or(AppError::NotFound)?;
    let text = plan_csv::write(&record.block.public());
    Ok(download(&block_file_name(&record, "csv"), "text/csv; charset=utf-8", text))
}

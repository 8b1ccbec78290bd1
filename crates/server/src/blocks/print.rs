//! The printed sheet of a block.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use store::BlockId;

use super::hand_over;
use super::load::Loaded;
use super::sheet::{Sheet, SheetPage};
use crate::error::AppError;
use crate::extract::Id;
use crate::paths;
use crate::render;
use crate::state::AppState;

/// `GET /blocks/{block}/print`
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let sheet = Sheet::of_record(&loaded.record, &loaded.coach.coach_name, loaded.athlete_reader(), state.clock);
    let qr = hand_over::link(&loaded.record, &state.share.now(), loaded.today).and_then(|link| link.qr);
    render::page(StatusCode::OK, &SheetPage { sheet, paper: loaded.coach.paper, back: paths::block(id), qr })
}

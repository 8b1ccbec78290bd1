//! Fills an empty data file with the demo squad.

use axum::extract::State;
use axum::response::Response;
use store::StoreError;

use crate::error::AppError;
use crate::notice::{self, Notice};
use crate::paths;
use crate::state::AppState;

/// `POST /demo`: a file that holds anything already is left as it is.
pub(crate) async fn post(State(state): State<AppState>) -> Result<Response, AppError> {
    match store::fill_demo(&state.store, state.clock.today(), state.clock.now()).await {
        Ok(()) => Ok(notice::redirect(paths::BOARD, Notice::DemoFilled)),
        Err(StoreError::Exists) => Ok(notice::see_other(paths::BOARD)),
        Err(error) => Err(error.into()),
    }
}

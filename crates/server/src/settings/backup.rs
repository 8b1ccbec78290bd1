//! A copy of the data file, sent to the browser.

use std::path::PathBuf;

use axum::extract::State;
use axum::response::Response;
use uuid::Uuid;

use crate::blocks::file::download;
use crate::error::AppError;
use crate::state::AppState;

/// `POST /settings/backup`: a consistent copy, made beside the data file while it is in use.
pub(crate) async fn post(State(state): State<AppState>) -> Result<Response, AppError> {
    let copy = Copy::beside(&state);
    state.store.backup(&copy.path).await?;
    let bytes = tokio::fs::read(&copy.path).await.map_err(|error| AppError::Internal(error.to_string()))?;
    let name = format!("ebbline-{}.db", state.clock.today());
    Ok(download(&name, "application/vnd.sqlite3", bytes))
}

/// A file that goes when it is no longer needed, also when the request fails.
struct Copy {
    path: PathBuf,
}

impl Copy {
    fn beside(state: &AppState) -> Self {
        Self { path: state.data.with_extension(format!("{}.tmp", Uuid::new_v4().simple())) }
    }
}

impl Drop for Copy {
    fn drop(&mut self) {
        // A copy that was never made cannot be removed either; nothing is lost by leaving one.
        if let Err(error) = std::fs::remove_file(&self.path) {
            tracing::debug!(%error, "no copy to remove");
        }
    }
}

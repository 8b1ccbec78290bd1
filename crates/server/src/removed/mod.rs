//! What was removed, how long it is kept, and the way back.

mod back;
mod show;

use axum::Router;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

/// The page and the forms of what was removed.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route(paths::REMOVED, get(show::get))
        .route(paths::RESTORE_ENTRY, post(back::entry))
        .route(paths::RESTORE_SESSION, post(back::session))
}

#[cfg(test)]
pub(crate) use show::ShowPage;

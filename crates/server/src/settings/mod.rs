//! The coach's settings, the data file and the athletes' address.

mod backup;
mod show;

use axum::Router;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

/// Every page and form of the settings.
pub(crate) fn routes() -> Router<AppState> {
    Router::new().route(paths::SETTINGS, get(show::get).post(show::post)).route(paths::BACKUP, post(backup::post))
}

#[cfg(test)]
pub(crate) use show::ShowPage;

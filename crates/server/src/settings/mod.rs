//! The coach's settings, the data file and the athletes' address.

mod backup;
mod bring_in;
mod everything;
mod show;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

/// Every page and form of the settings.
pub(crate) fn routes() -> Router<AppState> {
    let bring_in = get(bring_in::get).post(bring_in::post).layer(DefaultBodyLimit::max(bring_in::BODY_MOST));
    Router::new()
        .route(paths::SETTINGS, get(show::get).post(show::post))
        .route(paths::BACKUP, post(backup::post))
        .route(paths::EVERYTHING, post(everything::post))
        .route(paths::BRING_IN, bring_in)
}

#[cfg(test)]
pub(crate) use {bring_in::BringInPage, show::ShowPage};

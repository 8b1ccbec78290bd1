//! The squad board: who needs the coach, most urgent first.

mod demo;
pub(crate) mod needs;
mod show;
mod urgency;

use axum::Router;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

#[cfg(test)]
pub(crate) use show::ShowPage;

/// The board and what an empty one offers.
pub(crate) fn routes() -> Router<AppState> {
    Router::new().route(paths::BOARD, get(show::get)).route(paths::DEMO, post(demo::post))
}

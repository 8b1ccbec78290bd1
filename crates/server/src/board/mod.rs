//! The squad board: who needs the coach, most urgent first.

mod choose;
mod demo;
mod followed;
pub(crate) mod needs;
mod print;
mod show;
mod urgency;
mod week;

use axum::Router;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

pub(crate) use choose::{Filter, groups};

#[cfg(test)]
pub(crate) use {print::PrintPage, show::ShowPage};

/// The board and what an empty one offers.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route(paths::BOARD, get(show::get))
        .route(paths::BOARD_PRINT, get(print::get))
        .route(paths::DEMO, post(demo::post))
}

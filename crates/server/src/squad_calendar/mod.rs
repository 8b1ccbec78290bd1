//! The squad's weeks ahead: blocks, races and recovery of everybody on one page, as on a calendar on the wall.

mod asked;
mod cells;
mod picture;
#[cfg(test)]
mod sample;
mod show;

use axum::Router;
use axum::routing::get;

use crate::paths;
use crate::state::AppState;

#[cfg(test)]
pub(crate) use show::ShowPage;

/// The calendar.
pub(crate) fn routes() -> Router<AppState> {
    Router::new().route(paths::CALENDAR, get(show::get))
}

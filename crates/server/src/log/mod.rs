//! The log of an athlete: what was really run, and what happened on the way.

mod events;
mod open;
mod save;
mod show;
mod table;

use axum::Router;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

pub(crate) use open::OpenEvent;
#[cfg(test)]
pub(crate) use show::LogPage;
pub(crate) use show::week_start;

/// Every page and form of the log.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route(paths::LOG, get(show::get))
        .route(paths::LOG_TABLE, get(table::get))
        .route(paths::LOG_WEEK, post(save::week))
        .route(paths::LOG_SESSIONS, post(save::session))
        .route(paths::REMOVE_SESSION, post(save::remove_session))
        .route(paths::EVENTS, post(events::add))
        .route(paths::REMOVE_EVENT, post(events::remove))
        .route(paths::END_EVENT, post(events::end))
        .route(paths::RESTORE_EVENT, post(events::restore))
}

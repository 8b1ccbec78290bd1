//! Where the rules come from: what was published, and what is common practice.

mod show;
mod works;

use axum::Router;
use axum::routing::get;

use crate::paths;
use crate::state::AppState;

#[cfg(test)]
pub(crate) use show::SourcesPage;

/// The page of sources.
pub(crate) fn routes() -> Router<AppState> {
    Router::new().route(paths::SOURCES, get(show::get))
}

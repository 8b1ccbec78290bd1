//! The taper block: its page, goals, print and files.

use axum::Router;

use crate::state::AppState;

/// Every page and form below a block.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
}

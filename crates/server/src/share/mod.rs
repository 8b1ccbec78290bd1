//! What an athlete sees, on the athletes' door only.

use axum::Router;

use crate::state::ShareState;

/// Every address of the athletes' door but the style sheets.
pub(crate) fn routes() -> Router<ShareState> {
    Router::new()
}

//! Who may come in: where athletes' pages are served, the coach's pass phrase, and signing in with it.

mod limit;
mod phrase;
mod sharing;
mod show;
mod sign_in;
mod switch;

use axum::Router;
use axum::routing::{get, post};

pub use limit::Limit;
pub(crate) use sharing::read_share_url;
pub(crate) use sign_in::require;
pub use switch::ShareSwitch;
pub(crate) use switch::{at_home, reachable};

use crate::paths;
use crate::state::AppState;

/// Every page and form about the doors.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route(paths::DOORS, get(show::get))
        .route(paths::SHARING, post(sharing::post))
        .route(paths::PASS_PHRASE, post(phrase::post))
        .route(paths::SIGN_IN, get(sign_in::get).post(sign_in::post))
        .route(paths::SIGN_OUT, post(sign_in::out))
}

#[cfg(test)]
pub(crate) use {show::DoorsPage, sign_in::SignInPage};

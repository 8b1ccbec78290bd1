//! The base week: what an athlete really does.

mod borrow;
mod form;
mod reading;
mod show;

use axum::Router;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

pub(crate) use reading::{control, day as day_in_words, weekdays};
pub(crate) use show::LINE_MOST;
#[cfg(test)]
pub(crate) use {form::FormPage, show::ShowPage};

/// Every page and form of base weeks.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route(paths::WEEK, get(show::get).post(show::post))
        .route(paths::WEEK_PREVIEW, post(show::preview))
        .route(paths::WEEK_FIT, post(show::fit))
        .route(paths::WEEK_BORROW, post(borrow::post))
        .route(paths::WEEK_FORM, get(form::get).post(form::post))
}

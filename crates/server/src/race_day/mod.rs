//! Race day: goals as times on the course, what a body needs around the race, and everything that is written for
//! the day.

mod body;
mod document;
mod edit;
mod estimates;
pub(crate) mod fitted;
mod ground;
mod pacing;
mod print;
pub(crate) mod profile_picture;
mod show;
mod three_days;
mod times;

use axum::Router;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

pub(crate) use document::{RaceDay, pen};
pub(crate) use estimates::EstimatesView;
pub(crate) use ground::{Course, Ground, Opened};
pub(crate) use print::PrintPage;
#[cfg(test)]
pub(crate) use {edit::EditPage, show::ShowPage, three_days::ThreeDaysPage};

/// Every page and form of a race sheet.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route(paths::RACE_DAY, get(show::get))
        .route(paths::RACE_DAY_PACING, post(pacing::post))
        .route(paths::RACE_DAY_EDIT, get(edit::get).post(edit::post))
        .route(paths::RACE_DAY_PRINT, get(print::get))
        .route(paths::THREE_DAYS_OUT, get(three_days::get))
}

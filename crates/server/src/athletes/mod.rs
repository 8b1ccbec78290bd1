//! The squad's people.

mod edit;
mod enter;
mod list;
mod paste;
mod remove;
mod season;
mod show;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

pub(crate) use season::{SpanView, after_race, refused as refused_season};
#[cfg(test)]
pub(crate) use {edit::EditPage, list::ListPage, paste::PastePage, season::SeasonPage, show::ShowPage};

/// Every page and form of the athletes.
pub(crate) fn routes() -> Router<AppState> {
    let body = || DefaultBodyLimit::max(paste::BODY_MOST);
    Router::new()
        .route(paths::PASTE_ATHLETES, get(paste::get).post(paste::preview).layer(body()))
        .route(paths::SAVE_PASTED, post(paste::save).layer(body()))
        .route(paths::PASTE_SAMPLE, get(paste::sample))
        .route(paths::ATHLETES, get(list::get).post(edit::add))
        .route(paths::NEW_ATHLETE, get(edit::get_new))
        .route(paths::ATHLETE, get(show::get).post(edit::save))
        .route(paths::EDIT_ATHLETE, get(edit::get))
        .route(paths::REMOVE_ATHLETE, post(remove::post))
        .route(paths::RESTORE_ATHLETE, post(remove::restore))
        .route(paths::SEASON, get(season::get))
        .route(paths::ENTER_ONE, post(enter::post))
}

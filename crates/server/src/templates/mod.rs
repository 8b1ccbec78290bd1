//! Base weeks as templates: written once, filled in for many, each scaled to the athlete's own amount.

mod apply;
mod edit;
mod filling;
mod list;

use axum::Router;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

#[cfg(test)]
pub(crate) use {apply::ChoosePage, apply::PreviewPage, edit::EditPage, list::ListPage};

/// Every page and form of the templates.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route(paths::TEMPLATES, get(list::get).post(edit::add))
        .route(paths::NEW_TEMPLATE, get(edit::get_new))
        .route(paths::TEMPLATE_PREVIEW, post(edit::preview))
        .route(paths::TEMPLATE, get(edit::get).post(edit::save))
        .route(paths::REMOVE_TEMPLATE, post(edit::remove))
        .route(paths::RESTORE_TEMPLATE, post(edit::restore))
        .route(paths::APPLY_TEMPLATE, get(apply::get).post(apply::preview))
        .route(paths::SAVE_APPLIED, post(apply::save))
}

//! Undoing and redoing changes of a block.

use axum::extract::State;
use axum::response::Response;
use axum_extra::extract::Form;
use serde::Deserialize;
use store::{BlockId, StoreError};

use crate::error::AppError;
use crate::extract::Id;
use crate::form::read_version;
use crate::notice::{self, Notice};
use crate::paths;
use crate::state::AppState;

/// The form: the version at which the page was read.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    version: String,
}

/// `POST /blocks/{block}/undo`
pub(crate) async fn undo(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    answer(id, state.store.undo_block(id, read_version(&typed.version)).await, Notice::Undone)
}

/// `POST /blocks/{block}/redo`
pub(crate) async fn redo(
    State(state): State<AppState>,
    Id(id): Id<BlockId>,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    answer(id, state.store.redo_block(id, read_version(&typed.version)).await, Notice::Redone)
}

/// A stale step is not taken: the coach sees the block as it is now, and is told so.
fn answer(id: BlockId, stepped: Result<Option<u32>, StoreError>, done: Notice) -> Result<Response, AppError> {
    let back = format!("{}#days-title", paths::block(id));
    match stepped {
        Ok(Some(_)) => Ok(notice::redirect(&back, done)),
        Ok(None) => Ok(notice::see_other(&back)),
        Err(StoreError::Conflict) => Ok(notice::redirect(&back, Notice::StepNotTaken)),
        Err(error) => Err(error.into()),
    }
}

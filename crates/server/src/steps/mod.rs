//! What one press did to many athletes, and taking it back.

mod lately;
mod show;
mod undo;

use std::borrow::Borrow;

use axum::Router;
use axum::routing::{get, post};
use store::StepKind;

use crate::paths;
use crate::state::AppState;

pub(crate) use lately::Lately;
#[cfg(test)]
pub(crate) use show::ShowPage;

/// The page and the form of a step.
pub(crate) fn routes() -> Router<AppState> {
    Router::new().route(paths::STEP, get(show::get)).route(paths::UNDO_STEP, post(undo::post))
}

/// Where a step that was for no race was made: address and name. One whose race is gone leads to the board.
const fn made_at(kind: StepKind) -> (&'static str, &'static str) {
    match kind {
        StepKind::BringIn => (paths::ATHLETES, "Athletes"),
        StepKind::Template => (paths::TEMPLATES, "Templates of base weeks"),
        StepKind::Enter | StepKind::Plan | StepKind::HandOver => (paths::BOARD, "Squad"),
    }
}

/// What a step did, before the number of athletes.
const fn done(kind: StepKind) -> &'static str {
    match kind {
        StepKind::Template => "Template filled in for",
        StepKind::BringIn => "Brought in or given a week:",
        StepKind::Enter => "Entered or changed",
        StepKind::Plan => "Blocks made for",
        StepKind::HandOver => "Handed over to",
    }
}

/// What undoing it gives back.
const fn undoing(kind: StepKind) -> &'static str {
    match kind {
        StepKind::Template => "Undoing gives everybody back the week that stood before.",
        StepKind::BringIn => {
            "Undoing removes who is new, to be brought back for thirty days, and gives the others back the week they had."
        }
        StepKind::Enter => {
            "Undoing withdraws who was not entered before and gives the others back what the race was to them."
        }
        StepKind::Plan => "Undoing takes the blocks back; they can be brought back or made again.",
        StepKind::HandOver => {
            "Undoing ends the links that were made and lets the others show again what they showed before. What was \
             sent as a file or printed stays where it is."
        }
    }
}

/// Why somebody is left as they are.
const fn left(kind: StepKind) -> &'static str {
    match kind {
        StepKind::Template => "the week was changed since",
        StepKind::BringIn => "the athlete or the week was changed, or a race entered, since",
        StepKind::Enter => "the entry was changed, a block was made or a result noted since",
        StepKind::Plan => "the block was changed or handed over since",
        StepKind::HandOver => "handed over again or ended since",
    }
}

/// What was undone for how many: `Undone for all 6 athletes: entered`.
pub(crate) fn undone(kind: impl Borrow<StepKind>, count: impl Borrow<u32>) -> String {
    let what = match kind.borrow() {
        StepKind::Template => "template filled in",
        StepKind::BringIn => "brought in or given a week",
        StepKind::Enter => "entered",
        StepKind::Plan => "blocks made",
        StepKind::HandOver => "blocks handed over",
    };
    match count.borrow() {
        1 => format!("Undone for one athlete: {what}"),
        count => format!("Undone for all {count} athletes: {what}"),
    }
}

/// The word between [`undone`] and the name of the race.
pub(crate) fn before_race(kind: impl Borrow<StepKind>) -> &'static str {
    match kind.borrow() {
        StepKind::Enter => "in",
        StepKind::Template | StepKind::BringIn | StepKind::Plan | StepKind::HandOver => "for",
    }
}

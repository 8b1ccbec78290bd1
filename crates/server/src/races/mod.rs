//! The squad's calendar of races.

mod all;
mod brought_in;
mod card;
mod change;
mod course;
mod edit;
mod enter;
mod figures;
mod first_block;
mod hand_over;
mod handed_over;
mod job;
mod list;
mod morning;
mod plan;
mod print;
mod remove;
mod review;
#[cfg(test)]
mod sample;
mod show;
mod withdrawn;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};
use formats::words;
use planning::Importance;

use crate::form::Choice;
use crate::paths;
use crate::state::AppState;

pub(crate) use change::read_ran;
pub use job::Jobs;

#[cfg(test)]
pub(crate) use {
    card::CardPage, course::CoursePage, edit::EditPage, hand_over::HandOverPage, handed_over::HandedOverPage,
    list::ListPage, morning::MorningPage, plan::PlanPage, print::PrintAllPage, review::ReviewPage, show::ShowPage,
};

/// What is said where an entrant has no block as the race is not the goal race.
pub(crate) const NO_BLOCK_OF_ITS_OWN: &str =
    "no block of its own: it has its place in the goal race's block, or is run out of normal training";

/// What a race can mean to an athlete, for a menu.
pub(crate) fn importances() -> Vec<Choice> {
    Importance::ALL.into_iter().map(|one| Choice::new(one.code(), words::importance(one))).collect()
}

/// Every page and form of races.
pub(crate) fn routes() -> Router<AppState> {
    let race_course = get(course::get).post(course::post).layer(DefaultBodyLimit::max(course::BODY_MOST));
    Router::new()
        .route(paths::RACES, get(list::get).post(edit::add))
        .route(paths::NEW_RACE, get(edit::get_new))
        .route(paths::RACE, get(show::get).post(edit::save))
        .route(paths::EDIT_RACE, get(edit::get))
        .route(paths::REMOVE_RACE, post(remove::post))
        .route(paths::RESTORE_RACE, post(remove::restore))
        .route(paths::ENTER, post(enter::post))
        .route(paths::WITHDRAW, post(enter::withdraw))
        .route(paths::SETTLE, post(change::settle))
        .route(paths::CALL_OFF, post(change::call_off))
        .route(paths::TAKE_PLACE, post(change::take_place))
        .route(paths::RAN, post(change::ran))
        .route(paths::PLAN_ALL, post(plan::post))
        .route(paths::PLAN_PROGRESS, get(plan::progress))
        .route(paths::PLAN_STOP, post(plan::stop))
        .route(paths::RACE_REVIEW, get(review::get))
        .route(paths::RACE_HAND_OVER, get(hand_over::get).post(hand_over::post))
        .route(paths::RACE_HANDED_OVER, get(handed_over::get))
        .route(paths::RACE_FILES, get(handed_over::files))
        .route(paths::RACE_PRINT, get(print::get))
        .route(paths::RACE_COURSE, race_course)
        .route(paths::REMOVE_COURSE, post(course::remove))
        .route(paths::RACE_MORNING, get(morning::get).post(morning::post))
        .route(paths::RACE_CARD, get(card::get))
}

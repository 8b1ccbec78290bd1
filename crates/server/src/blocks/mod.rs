//! The taper block: its page, goals, sheet, file, and handing it over.

mod answers;
mod calendar;
mod changes;
mod day;
mod debrief;
mod difference;
mod edited;
pub(crate) mod file;
pub(crate) mod fit;
mod fixed_days;
mod goals;
pub(crate) use goals::check as check_goals;
pub(crate) mod hand_over;
pub(crate) mod lines;
mod load;
pub(crate) use load::{Loaded, as_run};
pub(crate) mod make;
pub(crate) mod messages;
pub(crate) mod picture;
pub(crate) mod print;
mod questions;
mod remove;
pub(crate) mod replan;
#[cfg(test)]
pub(crate) mod sample;
mod settings;
pub(crate) mod sheet;
mod show;
pub(crate) use hand_over::NoCode;
pub(crate) use show::{FindingView, is_stale, what_is_stale};
pub(crate) use withheld::{Withheld, stopped};
mod steps;
mod table;
mod variants;
mod version;
mod versions;
pub(crate) mod view;
pub(crate) mod withheld;

use axum::Router;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

#[cfg(test)]
pub(crate) use {
    answers::AnswersPage, day::DayPage, debrief::DebriefPage, difference::DifferencePage, file::FilePage,
    goals::GoalsPage, make::RefusedPage, questions::PrintPage as QuestionsPrintPage, questions::QuestionsPage,
    replan::ReplanPage, sheet::SheetPage, show::ShowPage, variants::VariantsPage, version::VersionPage,
    versions::VersionsPage,
};

/// Every page and form below a block.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route(paths::MAKE_BLOCK, post(make::post))
        .route(paths::BLOCK, get(show::get))
        .route(paths::BLOCK_SETTINGS, post(settings::post))
        .route(paths::BLOCK_DAY, get(day::get).post(day::post))
        .route(paths::BLOCK_UNDO, post(steps::undo))
        .route(paths::BLOCK_REDO, post(steps::redo))
        .route(paths::BLOCK_VERSIONS, get(versions::get))
        .route(paths::BLOCK_DIFFERENCE, get(difference::get))
        .route(paths::BLOCK_VERSION, get(version::get))
        .route(paths::BLOCK_RESTORE, post(version::restore))
        .route(paths::BLOCK_VARIANTS, get(variants::get).post(variants::post))
        .route(paths::BLOCK_GOALS, get(goals::get).post(goals::post))
        .route(paths::DEBRIEF, get(debrief::get).post(debrief::post))
        .route(paths::RESULT, get(debrief::get_of_entry).post(debrief::post_of_entry))
        .route(paths::REPLAN, get(replan::get).post(replan::post))
        .route(paths::BLOCK_PRINT, get(print::get))
        .route(paths::BLOCK_FILE, get(file::get))
        .route(paths::BLOCK_CALENDAR, get(calendar::get))
        .route(paths::BLOCK_TABLE, get(table::get))
        .route(paths::BLOCK_QUESTIONS, get(questions::get))
        .route(paths::QUESTIONS_PRINT, get(questions::print))
        .route(paths::QUESTIONS_FILE, get(questions::file))
        .route(paths::ANSWERS, post(answers::post))
        .route(paths::BLOCK_MESSAGES, post(messages::post))
        .route(paths::BLOCK_HAND_OVER, post(hand_over::post))
        .route(paths::BLOCK_END_LINK, post(hand_over::end))
        .route(paths::REMOVE_BLOCK, post(remove::post))
        .route(paths::RESTORE_BLOCK, post(remove::restore))
}

//! Saves what was run: a line a week, or a session.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveDate;
use formats::words;
use planning::ProblemKind;
use planning::notation::read_date;
use store::{AthleteId, DoneId, StoreError};

use super::show::{Loaded, LogPage, Typed, line_id};
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, one_line, read_version, whole_number};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Area, Layout};
use crate::state::AppState;

/// A week farther from today than this is not asked for, in days.
const FARTHEST_WEEK: i64 = 366;

/// The longest note about a week, in characters.
const NOTE_MOST: usize = 500;

/// `POST /athletes/{athlete}/log/weeks/{day}`
pub(crate) async fn week(
    State(state): State<AppState>,
    Id((id, first)): Id<(AthleteId, NaiveDate)>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    // Only weeks that the page offers have an address.
    if (state.clock.today() - first).num_days().abs() > FARTHEST_WEEK {
        return Err(AppError::NotFound);
    }
    let typed = Typed { week: Some(first), ..typed };
    let (line, note) = (one_line(&typed.line), one_line(&typed.week_note));
    let mut problems = Problems::default();
    problems.check_length(&line_id(first), "What was said", &note, NOTE_MOST);
    if !problems.is_empty() {
        return refused(&state, layout, id, typed, problems).await;
    }
    let (today, now) = (state.clock.today(), state.clock.now());
    let read_at = read_version(&typed.version);
    match state.store.save_done_week(id, first, read_at, &line, &note, today, now).await {
        Ok(()) => Ok(notice::redirect(&format!("{}#weeks", paths::log(id)), Notice::LogSaved)),
        Err(StoreError::Refused(found)) => {
            for problem in &found {
                problems.add(line_id(first), crate::words::problem(problem));
            }
            refused(&state, layout, id, typed, problems).await
        }
        Err(StoreError::Conflict) => conflict(&state, layout, id, first, &typed).await,
        Err(error) => Err(error.into()),
    }
}

/// Both versions of a week's line: the one that was saved meanwhile, and the one just typed.
async fn conflict(
    state: &AppState,
    layout: Layout,
    id: AthleteId,
    first: NaiveDate,
    typed: &Typed,
) -> Result<Response, AppError> {
    let athlete = state.store.athlete(id).await?.ok_or(AppError::NotFound)?;
    let kept = state.store.done_weeks_of(id, first).await?.into_iter().find(|week| week.first_day == first);
    let (line, note, version) =
        kept.map_or_else(Default::default, |week| (week.line, week.note, week.version.to_string()));
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("{}'s week from {}", athlete.draft.athlete.name, words::long_date(first)),
        rows: vec![Row::new("line", "Ran", &line, &typed.line), Row::new("week_note", "Said", &note, &typed.week_note)],
        version,
        action: paths::log_week(id, first),
        back: paths::log(id),
    };
    page.answer()
}

/// `POST /athletes/{athlete}/log/sessions`
pub(crate) async fn session(
    State(state): State<AppState>,
    Id(id): Id<AthleteId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let mut problems = Problems::default();
    let day = read_day(&typed.day, "day", "Day", &mut problems);
    if day.is_some_and(|day| day > state.clock.today()) {
        problems.add("day", "Day: what is still to come was not run yet; give today or a day before.");
    }
    let mut whole = |field: &str, name: &str, text: &str, limits: (u16, u16)| {
        whole_number(text, limits).unwrap_or_else(|what| {
            problems.add(field, format!("{name}: {what}"));
            None
        })
    };
    let minutes = whole("minutes", "Minutes", &typed.minutes, (1, 4320));
    let effort = whole("effort", "Effort", &typed.effort, (0, 10));
    let (Some(day), true) = (day, problems.is_empty()) else {
        return refused(&state, layout, id, typed, problems).await;
    };
    let (today, now) = (state.clock.today(), state.clock.now());
    let effort = effort.and_then(|effort| u8::try_from(effort).ok());
    let ran = one_line(&typed.ran);
    match state.store.add_done_session(id, day, &ran, minutes, effort, today, now).await {
        Ok(_) => Ok(notice::redirect(&format!("{}#sessions", paths::log(id)), Notice::LogSaved)),
        Err(StoreError::Refused(found)) => {
            for problem in &found {
                problems.add("ran", crate::words::problem(problem));
            }
            refused(&state, layout, id, typed, problems).await
        }
        Err(error) => Err(error.into()),
    }
}

/// `POST /athletes/{athlete}/log/sessions/{session}/remove`
pub(crate) async fn remove_session(
    State(state): State<AppState>,
    Id((athlete, id)): Id<(AthleteId, DoneId)>,
) -> Result<Response, AppError> {
    state.store.remove_done_session(athlete, id, state.clock.now()).await?;
    Ok(notice::redirect(&format!("{}#sessions", paths::log(athlete)), Notice::LogSaved))
}

/// The page again, with what was typed and what is wrong with it.
pub(super) async fn refused(
    state: &AppState,
    layout: Layout,
    id: AthleteId,
    typed: Typed,
    problems: Problems,
) -> Result<Response, AppError> {
    let loaded = Loaded::read(state, id).await?;
    render::page(StatusCode::UNPROCESSABLE_ENTITY, &LogPage::new(layout, loaded, typed, problems))
}

/// A day of the calendar as a date field sends it.
pub(super) fn read_day(text: &str, field: &str, name: &str, problems: &mut Problems) -> Option<NaiveDate> {
    let text = text.trim();
    let known = |day: &NaiveDate| (1990..=2190).contains(&chrono::Datelike::year(day));
    if text.is_empty() {
        problems.add(field, format!("{name}: nothing is given here, and a day is needed."));
        return None;
    }
    match read_date(text) {
        Ok(day) if known(&day) => Some(day),
        Err(kind @ ProblemKind::TwoDates { .. }) => {
            problems.add(field, format!("{name}: {}.", words::problem_kind(&kind)));
            None
        }
        _ => {
            let text = words::quote(text);
            problems.add(field, format!("{name}: “{text}” is not a date; write YYYY-MM-DD, as in 2027-05-09."));
            None
        }
    }
}

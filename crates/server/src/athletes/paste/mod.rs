//! A list of athletes with their weeks, out of a spreadsheet: looked at first, then brought in at once.
//!
//! Nothing is kept between the two: the form of the preview carries the text.

mod page;
mod reading;
mod typed;

use axum::extract::{Request, State};
use axum::http::StatusCode;
use axum::response::Response;
use formats::{squad_table, words};
use store::{StepId, StoreError};

use self::reading::Reading;
use self::typed::Typed;
use crate::blocks::file::download;
use crate::error::AppError;
use crate::form::read_once;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Layout};
use crate::state::AppState;

pub(crate) use self::page::PastePage;
pub(crate) use self::typed::BODY_MOST;

/// `GET /athletes/paste`
pub(crate) async fn get(State(state): State<AppState>, layout: Layout) -> Result<Response, AppError> {
    let units = state.store.settings().await?.units;
    render::page(StatusCode::OK, &PastePage::new(layout, Typed::new(), None, units))
}

/// `GET /athletes/paste/sample`
pub(crate) async fn sample() -> Response {
    download("athletes-sample.csv", "text/csv; charset=utf-8", squad_table::write(&squad_table::sample()))
}

/// `POST /athletes/paste`: reads the list, saves nothing.
pub(crate) async fn preview(
    State(state): State<AppState>,
    layout: Layout,
    request: Request,
) -> Result<Response, AppError> {
    let (mut typed, sent) = Typed::of(request).await;
    let read = read(&state, &mut typed, sent).await?;
    answer(&state, layout, typed, read, None).await
}

/// `POST /athletes/paste/save`: brings in what is ticked, all of it or nothing.
pub(crate) async fn save(
    State(state): State<AppState>,
    layout: Layout,
    request: Request,
) -> Result<Response, AppError> {
    let (mut typed, sent) = Typed::of(request).await;
    let once = read_once(&typed.once);
    let looked_at = typed.read.clone();
    let reading = match read(&state, &mut typed, sent).await? {
        Ok(reading) => reading,
        refused => return answer(&state, layout, typed, refused, None).await,
    };
    // Asked after the reading: what the same form saved meanwhile is not what somebody else changed.
    if let Some(step) = state.store.step_of_form(once).await? {
        return done(&state, step).await;
    }
    if reading.digest != looked_at {
        return answer(&state, layout, typed, Ok(reading), Some(LOOK_AGAIN)).await;
    }
    let chosen = reading.chosen();
    if chosen.is_empty() {
        return answer(&state, layout, typed, Ok(reading), Some("Nobody is ticked, so nothing was brought in.")).await;
    }
    match state.store.bring_in(&chosen, once, state.clock.now()).await {
        Ok(step) => done(&state, step).await,
        Err(StoreError::Conflict | StoreError::Gone) => {
            let reading = read(&state, &mut typed, Ok(())).await?;
            answer(&state, layout, typed, reading, Some(LOOK_AGAIN)).await
        }
        Err(error) => Err(error.into()),
    }
}

/// Back to the squad's list, with how many came in.
async fn done(state: &AppState, step: StepId) -> Result<Response, AppError> {
    let (record, _) = state.store.step(step).await?.ok_or(AppError::NotFound)?;
    Ok(notice::redirect(paths::ATHLETES, Notice::ListBroughtIn(step, record.athletes)))
}

const LOOK_AGAIN: &str = "The list, or the squad, is not as it was when you looked at it. Nothing is saved yet: look again \
                          at what would be brought in.";

/// The reading, or why there is none.
async fn read(
    state: &AppState,
    typed: &mut Typed,
    sent: Result<(), String>,
) -> Result<Result<Reading, String>, AppError> {
    match sent {
        Ok(()) => Ok(Reading::of(state, typed).await?.map_err(|problem| words::table_problem(&problem))),
        Err(sentence) => Ok(Err(sentence)),
    }
}

/// The page with what was read; `told` says why nothing was saved although it was asked for.
async fn answer(
    state: &AppState,
    layout: Layout,
    typed: Typed,
    read: Result<Reading, String>,
    told: Option<&'static str>,
) -> Result<Response, AppError> {
    let units = state.store.settings().await?.units;
    let status = match (&read, told) {
        (_, Some(LOOK_AGAIN)) => StatusCode::CONFLICT,
        (Ok(reading), None) if reading.rows.is_ok() => StatusCode::OK,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    };
    render::page(status, &PastePage::new(layout, typed, Some(read), units).saying(told))
}

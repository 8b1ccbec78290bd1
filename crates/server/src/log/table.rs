//! An athlete's log as a table, for a spreadsheet.

use axum::extract::State;
use axum::response::Response;
use chrono::NaiveDate;
use formats::log_csv::{self, Row};
use store::AthleteId;

use crate::blocks::file::{download, file_name};
use crate::error::AppError;
use crate::extract::Id;
use crate::state::AppState;

/// `GET /athletes/{athlete}/log/table`: everything that was run, the oldest first.
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<AthleteId>) -> Result<Response, AppError> {
    let athlete = state.store.athlete(id).await?.ok_or(AppError::NotFound)?;
    let weeks = state.store.done_weeks_of(id, NaiveDate::MIN).await?;
    let sessions = state.store.done_sessions_of(id, NaiveDate::MIN).await?;
    let told = weeks.iter().filter(|week| !week.line.is_empty() || !week.note.is_empty());
    let weeks =
        told.map(|week| (week.first_day, Row::Week { first: week.first_day, line: &week.line, note: &week.note }));
    let sessions = sessions.iter().map(|kept| (kept.done.date, Row::Session { done: &kept.done, line: &kept.line }));
    let mut rows: Vec<(NaiveDate, Row<'_>)> = weeks.chain(sessions).collect();
    rows.sort_by_key(|(day, _)| *day);
    let rows: Vec<Row<'_>> = rows.into_iter().map(|(_, row)| row).collect();
    let text = log_csv::write(&rows);
    let name = file_name(&["log", &athlete.draft.athlete.name], None, "csv");
    Ok(download(&name, "text/csv; charset=utf-8", text))
}

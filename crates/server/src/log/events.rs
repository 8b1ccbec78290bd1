//! Notes what happened to an athlete, and takes it back.

use axum::extract::State;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::NaiveDate;
use formats::words;
use planning::{EventKind, LifeEvent, ProblemKind};
use store::{AthleteId, EventId, StoreError};

use super::open::{control, end_label};
use super::save::{read_day, refused};
use super::show::{Typed, kind_value};
use crate::conflict::{ConflictPage, Row};
use crate::error::AppError;
use crate::extract::Id;
use crate::form::{Problems, one_line, read_version};
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{Area, Layout};
use crate::state::AppState;

/// The longest note about an event, in characters.
const NOTE_MOST: usize = 500;

/// `POST /athletes/{athlete}/events`
pub(crate) async fn add(
    State(state): State<AppState>,
    Id(id): Id<AthleteId>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let mut problems = Problems::default();
    let kind = EventKind::ALL.into_iter().find(|kind| kind_value(*kind) == typed.kind);
    if kind.is_none() {
        problems.add("kind", "What: choose one of the list.");
    }
    let from = read_day(&typed.from, "from", "From", &mut problems);
    if let (Some(kind), Some(from)) = (kind, from)
        && kind.may_be_open()
        && from > state.clock.today()
    {
        problems.add("from", still_ahead(kind, from));
    }
    // An illness or injury without an end goes on; of anything else one day is said by its first alone.
    let is_open = typed.to.trim().is_empty() && kind.is_some_and(EventKind::may_be_open);
    let to = match from {
        Some(from) if is_open => Some(from.max(state.clock.today())),
        from if typed.to.trim().is_empty() => from,
        _ => read_day(&typed.to, "to", "To", &mut problems),
    };
    let note = one_line(&typed.note);
    problems.check_length("note", "Your note", &note, NOTE_MOST);
    let (Some(kind), Some(from), Some(to), true) = (kind, from, to, problems.is_empty()) else {
        return refused(&state, layout, id, typed, problems).await;
    };
    let event = LifeEvent { kind, from, to, noted: state.clock.today(), open: is_open };
    match state.store.add_event(id, &event, &note, state.clock.now()).await {
        Ok(_) => Ok(notice::redirect(&paths::log(id), Notice::EventAdded)),
        Err(StoreError::Refused(found)) => {
            for problem in &found {
                let (field, name) = match problem.kind {
                    ProblemKind::DateOutOfRange { date } if date == from => ("from", "From"),
                    _ => ("to", "To"),
                };
                problems.add(field, format!("{name}: {}.", words::problem_kind(&problem.kind)));
            }
            refused(&state, layout, id, typed, problems).await
        }
        Err(error) => Err(error.into()),
    }
}

/// Nobody is ill or injured on a day that has not come: the date is a slip, or the kind is another.
fn still_ahead(kind: EventKind, from: NaiveDate) -> String {
    let what = if kind == EventKind::Injury { "injury" } else { "illness" };
    format!(
        "From: an {what} cannot begin on {}, which is still ahead; for days away choose travel or no time.",
        words::full_date(from)
    )
}

/// `POST /athletes/{athlete}/events/{event}/end`: the first day without it; its last is the one before.
pub(crate) async fn end(
    State(state): State<AppState>,
    Id((id, event)): Id<(AthleteId, EventId)>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let typed = Typed { ended: Some(event.0), ..typed };
    let mut problems = Problems::default();
    let field = control(event);
    let name = end_label(state.store.events_of(id).await?.iter().find(|record| record.id == event));
    let well = read_day(&typed.well, &field, name, &mut problems);
    if let Some(well) = well.filter(|well| *well > state.clock.today()) {
        let day = words::full_date(well);
        problems.add(field.clone(), format!("{name}: {day} has not come yet; note it on the day itself or later."));
    }
    let Some(well) = well.filter(|_| problems.is_empty()) else {
        return refused(&state, layout, id, typed, problems).await;
    };
    let last = well.pred_opt().unwrap_or(well);
    match state.store.end_event(id, event, read_version(&typed.version), last).await {
        Ok(()) => Ok(notice::redirect(&paths::log(id), Notice::EventAdded)),
        Err(StoreError::Refused(found)) => {
            for problem in &found {
                let told = match problem.kind {
                    ProblemKind::EndsBeforeItBegins { from, .. } => {
                        format!("{} must be after {}, when it began", words::full_date(well), words::full_date(from))
                    }
                    ref kind => words::problem_kind(kind),
                };
                problems.add(field.clone(), format!("{name}: {told}."));
            }
            refused(&state, layout, id, typed, problems).await
        }
        Err(StoreError::Conflict) => ended_twice(&state, layout, (id, event), &typed).await,
        Err(error) => Err(error.into()),
    }
}

/// Both ends of an event: the one that was noted meanwhile, and the one just typed.
async fn ended_twice(
    state: &AppState,
    layout: Layout,
    (id, event): (AthleteId, EventId),
    typed: &Typed,
) -> Result<Response, AppError> {
    let athlete = state.store.athlete(id).await?.ok_or(AppError::NotFound)?;
    let events = state.store.events_of(id).await?;
    let kept = events.into_iter().find(|record| record.id == event).ok_or(AppError::NotFound)?;
    let well = if kept.event.open { String::new() } else { (kept.event.to + chrono::Days::new(1)).to_string() };
    let page = ConflictPage {
        layout: layout.at(Area::Athletes),
        what: format!("{} of {}", words::event_kind(kept.event.kind), athlete.draft.athlete.name),
        rows: vec![Row::new("well", end_label(Some(&kept)), &well, &typed.well)],
        version: kept.version.to_string(),
        action: paths::end_event(id, event),
        back: paths::log(id),
    };
    page.answer()
}

/// `POST /athletes/{athlete}/events/{event}/remove`
pub(crate) async fn remove(
    State(state): State<AppState>,
    Id((athlete, id)): Id<(AthleteId, EventId)>,
) -> Result<Response, AppError> {
    state.store.remove_event(athlete, id, state.clock.now()).await?;
    Ok(notice::redirect(&paths::log(athlete), Notice::EventRemoved(id)))
}

/// `POST /events/{event}/restore`
pub(crate) async fn restore(State(state): State<AppState>, Id(id): Id<EventId>) -> Result<Response, AppError> {
    let athlete = state.store.restore_event(id).await?;
    Ok(notice::redirect(&paths::log(athlete), Notice::EventAdded))
}

//! The printed sheet of a block.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use store::{BlockId, BlockRecord};

use super::hand_over;
use super::load::Loaded;
use super::sheet::{Sheet, SheetPage};
use super::view::Reader;
use super::withheld::before_print;
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::paths;
use crate::race_day::{Course, Ground, RaceDay};
use crate::render;
use crate::state::{AppState, ShareDoor};

/// The sheet of a block, without what the coach should know first; `back` is the page that it was opened from.
pub(crate) fn sheet_page(loaded: &Loaded, (door, clock): (&ShareDoor, Clock), back: String) -> SheetPage {
    let (record, coach) = (&loaded.record, &loaded.coach);
    let sheet = Sheet::of_record(record, &coach.coach_name, Reader::athlete_of(record), clock);
    let (qr, no_code) = match hand_over::code(record, door, clock.today()) {
        Ok(qr) => (qr, None),
        Err(why) => (None, Some(why)),
    };
    SheetPage { sheet, paper: coach.paper, back, qr, no_code, look_first: None }
}

/// `GET /blocks/{block}/print`: with the race sheet on its other side where that was ticked when the block was handed over,
/// as everything else that the athlete has of it.
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let loaded = Loaded::read(&state, id).await?;
    let record = &loaded.record;
    let mut page = sheet_page(&loaded, (&state.share.now(), state.clock), paths::block(id));
    page.look_first = before_print(&loaded).or_else(|| holds_another(record));
    if let Some(share) = record.share.as_ref().filter(|share| share.shows.race_day) {
        let course = Course::read(&state, &record.race).await?;
        let race_day = RaceDay::showing(Ground { record, course: &course }, share.shows);
        page.sheet = page.sheet.with_race_day(Some(race_day).filter(|day| !day.is_empty()));
    }
    render::page(StatusCode::OK, &page)
}

/// That the athlete was handed another version than the one on this sheet; nothing where it is the same, or none was.
fn holds_another(record: &BlockRecord) -> Option<String> {
    let held = record.share.as_ref().map(|share| share.revision).filter(|held| *held != record.revision)?;
    let (name, now) = (&record.athlete.draft.athlete.name, record.revision);
    Some(format!(
        "{name} holds version {held}, and this sheet is version {now}: hand it over first, or both are about."
    ))
}

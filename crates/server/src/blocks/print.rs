//! The printed sheet of a block.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use store::{BlockId, BlockRecord, CoachSettings};

use super::hand_over;
use super::sheet::{Sheet, SheetPage};
use super::view::Reader;
use super::withheld::Withheld;
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::paths;
use crate::race_day::{Opened, RaceDay};
use crate::render;
use crate::state::{AppState, ShareDoor};

/// The sheet of a block; `back` is the page that it was opened from.
pub(crate) fn sheet_page(
    record: &BlockRecord,
    coach: &CoachSettings,
    (door, clock): (&ShareDoor, Clock),
    back: String,
) -> SheetPage {
    let sheet = Sheet::of_record(record, &coach.coach_name, Reader::athlete_of(record), clock);
    let (qr, no_code) = match hand_over::code(record, door, clock.today()) {
        Ok(qr) => (qr, None),
        Err(why) => (None, Some(why)),
    };
    let withheld = Withheld::of(record, clock.today()).and_then(|withheld| withheld.of_sheet());
    SheetPage { sheet, paper: coach.paper, back, qr, no_code, withheld }
}

/// `GET /blocks/{block}/print`: with the race sheet on its other side where that was ticked when the block was handed over,
/// as everything else that the athlete has of it.
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let opened = Opened::read(&state, id).await?;
    let record = &opened.record;
    let mut page = sheet_page(record, &opened.coach, (&state.share.now(), state.clock), paths::block(id));
    if let Some(share) = record.share.as_ref().filter(|share| share.shows.race_day) {
        let race_day = RaceDay::showing(opened.ground(), share.shows);
        page.sheet = page.sheet.with_race_day(Some(race_day).filter(|day| !day.is_empty()));
    }
    render::page(StatusCode::OK, &page)
}

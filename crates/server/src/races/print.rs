//! Every sheet of a race, one after the other, in one print.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use serde::Deserialize;
use store::{Paper, RaceId};

use super::all::blocks_of;
use crate::blocks::sheet::{Sheet, SheetPage, paper_style};
use crate::blocks::{Loaded, hand_over, lines};
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::paths;
use crate::race_day::{Course, Opened, PrintPage as RaceSheetPage};
use crate::render::{self, Page};
use crate::state::{AppState, ShareDoor};

/// All sheets.
#[derive(Template)]
#[template(path = "races/print.html")]
pub(crate) struct PrintAllPage {
    id: RaceId,
    race: String,
    sheets: Vec<Printed>,
    with_race_day: bool,
    paper: Paper,
}

/// What is printed for one athlete.
struct Printed {
    block: SheetPage,
    race_day: Option<RaceSheetPage>,
}

impl Printed {
    /// The parts of the sheet by the names that its template knows them by.
    const fn sheet(&self) -> &Sheet {
        &self.block.sheet
    }
}

impl PrintAllPage {
    fn new(
        (id, race): (RaceId, String),
        loaded: Vec<Loaded>,
        course: &Course,
        (door, clock): (&ShareDoor, Clock),
        with_race_day: bool,
        paper: Paper,
    ) -> Self {
        let printed = |loaded: Loaded| {
            let record = &loaded.record;
            let sheet = Sheet::of_record(record, &loaded.coach.coach_name, loaded.athlete_reader(), clock);
            let qr = hand_over::link(record, door, loaded.today).and_then(|link| link.qr);
            let block = SheetPage { sheet, paper, back: paths::race(id), qr };
            let race_day = with_race_day.then(|| {
                let Loaded { record, coach, today, .. } = loaded;
                RaceSheetPage::new(&Opened { record, coach, course: course.clone(), today })
            });
            // A side with nothing but a name is no sheet.
            Printed { block, race_day: race_day.filter(|page| !page.day.is_empty() && !page.called_off) }
        };
        Self { id, race, sheets: loaded.into_iter().map(printed).collect(), with_race_day, paper }
    }

    fn paper_style(&self) -> &'static str {
        paper_style(self.paper)
    }
}

impl Page for PrintAllPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::sample;
        use crate::blocks::sample as of_block;
        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let race = sample::race(planning::RaceDistance::TenK);
        let course = Course::flat(&race);
        let page = |with_race_day, paper| {
            let records = [
                of_block::handed_over(&of_block::ten_k()),
                of_block::record(&of_block::marathon()),
                of_block::called_off(&of_block::ten_k()),
            ];
            let loaded = records.map(|record| Loaded::sample(record, clock)).into();
            let open = ShareDoor::sample();
            Self::new((race.id, race.race.name.clone()), loaded, &course, (&open, clock), with_race_day, paper)
        };
        let none = Self { sheets: Vec::new(), ..page(false, Paper::A4) };
        vec![none, page(false, Paper::A4), page(true, Paper::Letter)]
    }
}

/// Whether race sheets are printed too.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Choice {
    race_day: String,
}

/// `GET /races/{race}/print`
pub(crate) async fn get(
    State(state): State<AppState>,
    Id(id): Id<RaceId>,
    Query(choice): Query<Choice>,
) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let course = Course::read(&state, &race).await?;
    let loaded = blocks_of(&state, id).await?;
    let paper = state.store.settings().await?.paper;
    let named = (id, lines::race_name(&race.race));
    let (door, with_race_day) = (state.share.now(), choice.race_day == "yes");
    let page = PrintAllPage::new(named, loaded, &course, (&door, state.clock), with_race_day, paper);
    render::page(StatusCode::OK, &page)
}

//! Every sheet of a race, one after the other, in one print.

use std::collections::HashMap;
use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use rayon::prelude::*;
use serde::Deserialize;
use store::{AthleteId, BlockRecord, CoachSettings, Paper, RaceId};

use super::all::records_of;
use crate::blocks::print::sheet_page;
use crate::blocks::sheet::{Sheet, SheetPage, paper_style};
use crate::blocks::{NoCode, lines};
use crate::board::needs;
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
    /// Who is ill or injured, or was only just, each with a sentence: for the coach before the sheets go out.
    unwell: Vec<(String, String)>,
    /// Whether the sheets carry no code because no phone could open what it leads to.
    is_without_codes: bool,
    with_race_day: bool,
    paper: Paper,
}

/// What is printed for one athlete.
struct Printed {
    name: String,
    /// Why the sheet must not go out as it is, for the coach.
    withheld: Option<String>,
    is_without_code: bool,
    /// The sheets, rendered: many are, on every core.
    html: String,
}

/// The sheets of one athlete.
#[derive(Template)]
#[template(path = "races/print_sheet.html")]
struct Sheets {
    block: SheetPage,
    race_day: Option<RaceSheetPage>,
}

impl Sheets {
    fn print(self) -> askama::Result<Printed> {
        Ok(Printed {
            html: self.render()?,
            is_without_code: self.block.no_code == Some(NoCode::NoPhone),
            name: self.block.sheet.name,
            withheld: self.block.withheld,
        })
    }

    /// The parts of the sheet by the names that its template knows them by.
    const fn sheet(&self) -> &Sheet {
        &self.block.sheet
    }
}

impl PrintAllPage {
    fn new(
        (id, race): (RaceId, String),
        records: Vec<BlockRecord>,
        (course, coach): (&Arc<Course>, &CoachSettings),
        (door, clock): (&ShareDoor, Clock),
        unwell: &HashMap<AthleteId, Vec<String>>,
        with_race_day: bool,
    ) -> askama::Result<Self> {
        let today = clock.today();
        let of = |record: &BlockRecord| {
            let said = unwell.get(&record.athlete.id).cloned().unwrap_or_default();
            let name = record.athlete.draft.athlete.name.clone();
            said.into_iter().map(move |sentence| (name.clone(), sentence))
        };
        let unwell = records.iter().flat_map(of).collect();
        let printed = |record: BlockRecord| {
            let block = sheet_page(&record, coach, (door, clock), paths::race(id));
            let race_day = with_race_day.then(|| {
                RaceSheetPage::new(&Opened { record, coach: coach.clone(), course: Arc::clone(course), today })
            });
            // A side with nothing but a name is no sheet.
            Sheets { block, race_day: race_day.filter(|page| !page.day.is_empty() && !page.called_off) }.print()
        };
        let sheets: Vec<Printed> = records.into_par_iter().map(printed).collect::<askama::Result<_>>()?;
        let is_without_codes = sheets.iter().any(|one| one.is_without_code);
        Ok(Self { id, race, sheets, unwell, is_without_codes, with_race_day, paper: coach.paper })
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
        let course = Arc::new(Course::flat(&race));
        let page = |with_race_day, paper| {
            let records = [
                of_block::handed_over(&of_block::ten_k()),
                of_block::record(&of_block::marathon()),
                of_block::called_off(&of_block::ten_k()),
            ];
            let (open, coach) = (ShareDoor::sample(), CoachSettings { paper, ..of_block::coach() });
            let named = (race.id, race.race.name.clone());
            let ill = HashMap::from([(AthleteId(4), vec!["Ill <b> since Tuesday, no end noted".to_owned()])]);
            let page = Self::new(named, records.into(), (&course, &coach), (&open, clock), &ill, with_race_day);
            page.expect("a page")
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
    let course = Arc::new(Course::read(&state, &race).await?);
    let records = records_of(&state, id).await?;
    let coach = state.store.settings().await?;
    let named = (id, lines::race_name(&race.race));
    let (door, with_race_day) = (state.share.now(), choice.race_day == "yes");
    let today = state.clock.today();
    let unwell = needs::unwell(&state.store.board(today).await?, today);
    let page = PrintAllPage::new(named, records, (&course, &coach), (&door, state.clock), &unwell, with_race_day)?;
    render::page(StatusCode::OK, &page)
}

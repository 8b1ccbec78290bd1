//! Every sheet of a race, one after the other, in one print.

use std::collections::HashMap;
use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, RawQuery, State};
use axum::http::StatusCode;
use axum::response::Response;
use rayon::prelude::*;
use serde::Deserialize;
use store::{AthleteId, BlockId, Paper, RaceId};

use super::all::{blocks_of, named_in};
use crate::blocks::print::sheet_page;
use crate::blocks::sheet::{Sheet, SheetPage, paper_style};
use crate::blocks::withheld::before_print;
use crate::blocks::{Loaded, NoCode, lines};
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
    /// Whose sheet the coach should look at before it goes out: printed where that is ticked.
    to_look_at: Vec<ToLookAt>,
    /// Who is ill or injured, or was only just, each with a sentence: for the coach before the sheets go out.
    unwell: Vec<(String, String)>,
    /// Whether the sheets carry no code because no phone could open what it leads to.
    is_without_codes: bool,
    with_race_day: bool,
    paper: Paper,
}

/// What is printed for one athlete.
struct Printed {
    is_without_code: bool,
    /// The sheets, rendered: many are, on every core.
    html: String,
}

/// A sheet that is left out until it is ticked.
struct ToLookAt {
    block: BlockId,
    name: String,
    /// Why, in a sentence.
    why: String,
    is_printed: bool,
}

impl ToLookAt {
    fn of(loaded: &Loaded, ticked: &[BlockId]) -> Option<Self> {
        let (block, name) = (loaded.record.id, loaded.record.athlete.draft.athlete.name.clone());
        before_print(loaded).map(|why| Self { block, name, why, is_printed: ticked.contains(&block) })
    }
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
        Ok(Printed { html: self.render()?, is_without_code: self.block.no_code == Some(NoCode::NoPhone) })
    }

    /// The parts of the sheet by the names that its template knows them by.
    const fn sheet(&self) -> &Sheet {
        &self.block.sheet
    }
}

impl PrintAllPage {
    fn new(
        (id, race): (RaceId, String),
        (loaded, paper): (Vec<Loaded>, Paper),
        course: &Arc<Course>,
        (door, clock): (&ShareDoor, Clock),
        unwell: &HashMap<AthleteId, Vec<String>>,
        (ticked, with_race_day): (&[BlockId], bool),
    ) -> askama::Result<Self> {
        let of = |one: &Loaded| {
            let said = unwell.get(&one.record.athlete.id).cloned().unwrap_or_default();
            let name = one.record.athlete.draft.athlete.name.clone();
            said.into_iter().map(move |sentence| (name.clone(), sentence))
        };
        let unwell = loaded.iter().flat_map(of).collect();
        let to_look_at: Vec<ToLookAt> = loaded.par_iter().filter_map(|one| ToLookAt::of(one, ticked)).collect();
        let is_printed = |one: &Loaded| to_look_at.iter().all(|other| other.block != one.record.id || other.is_printed);
        let printed = |one: Loaded| {
            let block = sheet_page(&one, (door, clock), paths::race(id));
            let Loaded { record, coach, today, .. } = one;
            let race_day =
                with_race_day.then(|| RaceSheetPage::new(&Opened { record, coach, course: Arc::clone(course), today }));
            // A side with nothing but a name is no sheet.
            Sheets { block, race_day: race_day.filter(|page| !page.day.is_empty() && !page.called_off) }.print()
        };
        let sheets: Vec<Printed> =
            loaded.into_par_iter().filter(is_printed).map(printed).collect::<askama::Result<_>>()?;
        let is_without_codes = sheets.iter().any(|one| one.is_without_code);
        Ok(Self { id, race, sheets, to_look_at, unwell, is_without_codes, with_race_day, paper })
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
                of_block::goal_inside(&of_block::ten_k()),
                of_block::goal_inside(&of_block::ten_k()),
            ];
            let (open, loaded) = (ShareDoor::sample(), sample::loaded(records, clock));
            let named = (race.id, race.race.name.clone());
            let ill = HashMap::from([(AthleteId(4), vec!["Ill <b> since Tuesday, no end noted".to_owned()])]);
            let page = Self::new(named, (loaded, paper), &course, (&open, clock), &ill, (&[BlockId(3)], with_race_day));
            page.expect("a page")
        };
        let none = Self { sheets: Vec::new(), ..page(false, Paper::A4) };
        vec![none, page(false, Paper::A4), page(true, Paper::Letter)]
    }
}

/// Whether race sheets are printed too; `with` beside it names blocks, see [`ToLookAt`].
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
    RawQuery(query): RawQuery,
) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let course = Arc::new(Course::read(&state, &race).await?);
    let loaded = (blocks_of(&state, id).await?, state.store.settings().await?.paper);
    let named = (id, lines::race_name(&race.race));
    let (door, ticked) = (state.share.now(), named_in(&query.unwrap_or_default(), "with"));
    let today = state.clock.today();
    let unwell = needs::unwell(&state.store.board(today).await?, today);
    let chosen = (&ticked[..], choice.race_day == "yes");
    let page = PrintAllPage::new(named, loaded, &course, (&door, state.clock), &unwell, chosen)?;
    render::page(StatusCode::OK, &page)
}

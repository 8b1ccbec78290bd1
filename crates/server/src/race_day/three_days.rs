//! The sheet of the last three days: what to run, to eat, to pack. The athlete gets it on paper.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use formats::words::race_day::days_out::days_out;
use formats::words::race_day::fuel::Reader as FuelReader;
use formats::words::race_day::stop;
use store::{BlockId, CoachSettings, Paper};

use super::body::{Body, Told};
use super::ground::{Ground, Opened};
use crate::blocks::sheet::{Sheet, paper_style};
use crate::blocks::view::{DayView, Reader};
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::paths;
use crate::render::{self, Page};
use crate::state::AppState;

/// The printed sheet.
#[derive(Template)]
#[template(path = "race_day/three_days.html")]
pub(crate) struct ThreeDaysPage {
    sheet: Sheet,
    days: Vec<DayOut>,
    body: Body,
    ill: &'static str,
    paper: Paper,
    back: String,
}

/// One of the last three days.
struct DayOut {
    day: DayView,
    /// What to do besides.
    to_do: &'static str,
}

impl ThreeDaysPage {
    fn new(ground: Ground<'_>, coach: &CoachSettings, reader: Reader, clock: Clock) -> Self {
        let sheet = Sheet::of_record(ground.record, &coach.coach_name, reader, clock);
        let times = ground.all_times();
        let told = Told { ground, times: &times, today: clock.today(), units: reader.units, reader: FuelReader::Paper };
        let body = Body::of(&told);
        let last = sheet.weeks.iter().flat_map(|week| &week.days).filter(|day| (1..=3).contains(&day.to_race));
        let fills_stores = !body.loading.is_empty();
        let days = last.map(|day| DayOut { day: day.clone(), to_do: days_out(day.to_race, fills_stores) }).collect();
        Self { sheet, days, body, ill: stop::ILL, paper: coach.paper, back: paths::race_day(ground.record.id) }
    }

    fn paper_style(&self) -> &'static str {
        paper_style(self.paper)
    }
}

impl Page for ThreeDaysPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use store::{BlockRecord, RaceFacts};

        use crate::blocks::sample;
        use crate::race_day::Course;

        let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
        let page = |record: &BlockRecord, paper, tenths: Option<i16>| {
            let athlete = &record.athlete.draft.athlete;
            let reader = Reader { units: athlete.units, today: None, pace: None };
            let facts = RaceFacts { air: tenths.map(planning::heat::Celsius::tenths), ..RaceFacts::default() };
            let course = Course { facts: Some(facts), ..Course::flat(&record.race) };
            let coach = CoachSettings { paper, coach_name: "Rui <b>".to_owned(), ..sample::coach() };
            Self::new(Ground { record, course: &course }, &coach, reader, clock)
        };
        let mut written = sample::handed_over(&sample::marathon());
        written.athlete.draft.weight = planning::Weight::grams(60_000);
        written.race_sheet = store::RaceSheet {
            breakfast: "porridge <b>".to_owned(),
            fuel_piece: "gel <b>".to_owned(),
            piece_grams: Some(25),
            grams_an_hour: Some(60),
            fuel_words: "rice on Saturday <b>".to_owned(),
            kit: Some("red shoes <b>\n\nshorts".to_owned()),
            travel: Some("passport <b>".to_owned()),
            ..store::RaceSheet::default()
        };
        let mut referred = sample::record(&sample::timed_half());
        referred.athlete.draft.fuel_referred = true;
        vec![
            page(&sample::record(&sample::ten_k()), Paper::A4, None),
            page(&written, Paper::Letter, Some(210)),
            page(&referred, Paper::A4, Some(20)),
            page(&sample::called_off(&sample::ten_k()), Paper::A4, None),
        ]
    }
}

/// `GET /blocks/{block}/race-day/three-days-out`
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    let opened = Opened::read(&state, id).await?;
    let reader = Reader::athlete_of(&opened.record);
    let page = ThreeDaysPage::new(opened.ground(), &opened.coach, reader, state.clock);
    render::page(StatusCode::OK, &page)
}

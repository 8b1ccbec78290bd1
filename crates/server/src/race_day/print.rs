//! The printed race sheet: what is carried, a strip for the wrist, and what is read in the morning.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use formats::words;
use store::{BlockId, Paper};

use super::document::{self, RaceDay};
use super::ground::Opened;
use crate::blocks::sheet::paper_style;
use crate::error::AppError;
use crate::extract::Id;
use crate::paths;
use crate::render::{self, Page};
use crate::state::AppState;

/// A printed race sheet.
#[derive(Template)]
#[template(path = "race_day/print.html")]
pub(crate) struct PrintPage {
    pub(crate) name: String,
    pub(crate) race: String,
    pub(crate) facts: String,
    pub(crate) day: RaceDay,
    paper: Paper,
    back: String,
    pub(crate) called_off: bool,
    /// `Race sheet of Thursday 26 November 2026`.
    pub(crate) printed: String,
    pub(crate) coach: String,
}

impl PrintPage {
    /// The sheet itself, for the template that several pages share.
    const fn page(&self) -> &Self {
        self
    }

    pub(crate) fn new(opened: &Opened) -> Self {
        let (ground, record) = (opened.ground(), &opened.record);
        let (name, race) = document::title(ground);
        Self {
            name,
            race,
            facts: document::facts(ground),
            day: RaceDay::of(ground),
            paper: opened.coach.paper,
            back: paths::race_day(record.id),
            called_off: record.race.called_off.is_some(),
            printed: format!("Race sheet of {}", words::full_date(opened.today)),
            coach: opened.coach.coach_name.clone(),
        }
    }

    pub(crate) const fn day(&self) -> &RaceDay {
        &self.day
    }

    fn paper_style(&self) -> &'static str {
        paper_style(self.paper)
    }
}

impl Page for PrintPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use super::ground::sample;
        let mut off = sample::full();
        off.record.race.called_off = Some(off.record.block.race_day);
        vec![Self::new(&sample::empty()), Self::new(&sample::full()), Self::new(&off)]
    }
}

/// `GET /blocks/{block}/race-day/print`
pub(crate) async fn get(State(state): State<AppState>, Id(id): Id<BlockId>) -> Result<Response, AppError> {
    render::page(StatusCode::OK, &PrintPage::new(&Opened::read(&state, id).await?))
}

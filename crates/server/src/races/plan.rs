//! Makes every block that a race still lacks, in one step.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use planning::{Field, Problem, Race};
use store::{AthleteId, RaceId, RaceRecord};

use crate::blocks::make;
use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;
use crate::{paths, words};

/// Whose block could not be made, and why; the others' blocks are made.
#[derive(Template)]
#[template(path = "races/plan.html")]
pub(crate) struct PlanPage {
    layout: Layout,
    id: RaceId,
    race: String,
    made: usize,
    failed: Vec<Failed>,
}

/// One athlete without a block.
struct Failed {
    id: AthleteId,
    name: String,
    sentences: Vec<String>,
    /// Whether the base week is what has to be put right.
    at_week: bool,
}

impl Failed {
    fn new(id: AthleteId, name: String, found: &[Problem]) -> Self {
        let at_week = |problem: &Problem| matches!(problem.at, Field::BaseWeek | Field::Session(..) | Field::WeekRange);
        Self { id, name, at_week: found.iter().any(at_week), sentences: found.iter().map(words::problem).collect() }
    }
}

impl Page for PlanPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use planning::ProblemKind;
        let problem = Problem::new(Field::BaseWeek, ProblemKind::EmptyWeek);
        let missing = Problem::new(Field::AthleteName, ProblemKind::Missing);
        let page = |made, failed| Self {
            layout: Layout::plain().at(Area::Races),
            id: RaceId(2),
            race: "River Ten <b>".to_owned(),
            made,
            failed,
        };
        let failed = |problem: &Problem| Failed::new(AthleteId(4), "<b>Ana".to_owned(), std::slice::from_ref(problem));
        vec![
            page(0, vec![failed(&problem)]),
            page(1, vec![failed(&problem), failed(&missing)]),
            page(12, vec![failed(&missing)]),
        ]
    }
}

/// `POST /races/{race}/blocks`: sending it again makes only what is still lacking.
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
) -> Result<Response, AppError> {
    let record = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let (mut made, mut failed) = (0, Vec::new());
    for entry in state.store.entrants(id).await?.into_iter().filter(|entry| entry.block.is_none()) {
        let Some(athlete) = state.store.athlete(entry.athlete).await? else {
            continue;
        };
        let race = RaceRecord { race: Race { importance: entry.importance, ..record.race.clone() }, ..record.clone() };
        match make::make(&state, &athlete, &race).await? {
            Ok(_) => made += 1,
            Err(found) => failed.push(Failed::new(entry.athlete, entry.name, &found)),
        }
    }
    if failed.is_empty() {
        let count = u32::try_from(made).unwrap_or(u32::MAX);
        return Ok(notice::redirect(&paths::race(id), Notice::BlocksMade(count)));
    }
    let page = PlanPage { layout: layout.at(Area::Races), id, race: record.race.name, made, failed };
    render::page(StatusCode::UNPROCESSABLE_ENTITY, &page)
}

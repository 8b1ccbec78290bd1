//! Makes every block that a race still lacks, in one step: the press, how far it is, and stopping it.

use std::time::Duration;

use askama::Template;
use axum::extract::State;
use axum::http::header::REFRESH;
use axum::http::{HeaderValue, StatusCode};
use axum::response::Response;
use planning::{Field, Problem};
use store::{AthleteId, Entry, RaceId, StepId};

use super::job::{self, End, Told, Unplanned};
use crate::blocks::lines;
use crate::error::AppError;
use crate::extract::Id;
use crate::notice::{self, Notice};
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;
use crate::{paths, words};

/// How long a press waits for a small squad before it shows how far it is.
const AT_ONCE: Duration = Duration::from_millis(1_500);

/// How far the blocks of a race are, and whose could not be made.
#[derive(Template)]
#[template(path = "races/plan.html")]
pub(crate) struct PlanPage {
    layout: Layout,
    id: RaceId,
    race: String,
    stands: Stands,
    /// How many whose goal race it is have no block now.
    lacking: u32,
    /// How many have one.
    have: u32,
}

/// How a job stands.
enum Stands {
    /// None is known: none was begun since the program started.
    None,
    Runs {
        done: usize,
        total: usize,
    },
    Ended {
        made: u32,
        end: End,
        step: Option<StepId>,
        failed: Vec<Failed>,
    },
}

/// One athlete without a block.
struct Failed {
    id: AthleteId,
    name: String,
    sentences: Vec<String>,
    /// Whether the base week is what has to be put right.
    at_week: bool,
    /// Whether the athlete is no longer entered.
    is_out: bool,
}

impl Failed {
    fn of(one: &Unplanned) -> Self {
        let at_week = |problem: &Problem| matches!(problem.at, Field::BaseWeek | Field::Session(..) | Field::WeekRange);
        Self {
            id: one.athlete,
            name: one.name.clone(),
            at_week: one.problems.iter().any(at_week),
            is_out: one.problems.is_empty(),
            sentences: one.problems.iter().map(words::problem).collect(),
        }
    }
}

impl Stands {
    fn of(told: &Told, total: usize) -> Self {
        match told.end {
            None => Self::Runs { done: told.done, total },
            Some(end) => Self::Ended {
                made: told.made,
                end,
                step: told.step.filter(|_| told.made > 0),
                failed: told.failed.iter().map(Failed::of).collect(),
            },
        }
    }
}

impl PlanPage {
    fn heading(&self) -> String {
        match &self.stands {
            Stands::None => "No blocks are being made now".to_owned(),
            Stands::Runs { .. } => "Making blocks".to_owned(),
            Stands::Ended { end: End::Cancelled, .. } => "Stopped".to_owned(),
            Stands::Ended { end: End::Broken(_), .. } => "It broke off".to_owned(),
            Stands::Ended { failed, .. } => match failed.len() {
                0 => "All blocks are made".to_owned(),
                1 => "One block could not be made".to_owned(),
                count => format!("{count} blocks could not be made"),
            },
        }
    }

    fn made_words(&self) -> String {
        match self.stands {
            Stands::Ended { made: 1, .. } => "One block was made and kept.".to_owned(),
            Stands::Ended { made, .. } if made > 0 => format!("{made} blocks were made and kept."),
            _ => "No block was made.".to_owned(),
        }
    }

    const fn is_running(&self) -> bool {
        matches!(self.stands, Stands::Runs { .. })
    }
}

impl Page for PlanPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use planning::ProblemKind;
        let one = |problems: Vec<Problem>| Unplanned { athlete: AthleteId(4), name: "<b>Ana".to_owned(), problems };
        let week = || one(vec![Problem::new(Field::BaseWeek, ProblemKind::EmptyWeek)]);
        let name = || one(vec![Problem::new(Field::AthleteName, ProblemKind::Missing)]);
        let page = |stands| Self {
            layout: Layout::plain().at(Area::Races),
            id: RaceId(2),
            race: "River Ten <b>".to_owned(),
            stands,
            lacking: 22,
            have: 18,
        };
        let told = |made: u32, failed, end| Told { done: 18, made, step: Some(StepId(3)), failed, end: Some(end) };
        vec![
            page(Stands::None),
            page(Stands::of(&Told { done: 18, ..Told::default() }, 40)),
            page(Stands::of(&told(0, vec![week()], End::Finished), 1)),
            page(Stands::of(&told(1, vec![week(), name(), one(Vec::new())], End::Finished), 4)),
            page(Stands::of(&told(18, Vec::new(), End::Cancelled), 40)),
            page(Stands::of(&told(10, Vec::new(), End::Broken(Some(17))), 40)),
        ]
    }
}

/// `POST /races/{race}/blocks`: sending it again joins the press that runs, and later makes only what is still
/// lacking.
pub(crate) async fn post(State(state): State<AppState>, Id(id): Id<RaceId>) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    // Its page says so, and how to take that back.
    if race.called_off.is_some() {
        return Ok(notice::see_other(&paths::race(id)));
    }
    let mut asked = Vec::new();
    // Asked before the entrants are read: what a job made that has ended by now is among them.
    let job = if let Some(running) = state.jobs.running(id) {
        running
    } else {
        let entrants = state.store.entrants(id).await?;
        let lacking: Vec<_> = entrants.into_iter().filter(Entry::lacks_block).collect();
        if lacking.is_empty() {
            return Ok(notice::see_other(&paths::race_review(id)));
        }
        asked.extend(lacking.iter().map(|entry| entry.athlete));
        job::start(&state, &race, lacking)
    };
    let told = job.wait(AT_ONCE).await;
    if told.end != Some(End::Finished) || !told.failed.is_empty() {
        return Ok(notice::see_other(&paths::plan_progress(id)));
    }
    let to = match asked.as_slice() {
        [only] => made_for(&state, id, *only).await?,
        _ => paths::race_review(id),
    };
    Ok(match told.step {
        Some(step) => notice::redirect(&to, Notice::BlocksMadeAtOnce(step, told.made)),
        None => notice::see_other(&to),
    })
}

/// Where a single block that was just made is read: its own page, several are reviewed in one table.
async fn made_for(state: &AppState, id: RaceId, athlete: AthleteId) -> Result<String, AppError> {
    let entrants = state.store.entrants(id).await?;
    let block = entrants.into_iter().find(|entry| entry.athlete == athlete).and_then(|entry| entry.block);
    Ok(block.map_or_else(|| paths::race_review(id), paths::block))
}

/// `GET /races/{race}/blocks/progress`: asks again by itself while it runs.
pub(crate) async fn progress(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<RaceId>,
) -> Result<Response, AppError> {
    let race = state.store.race(id).await?.ok_or(AppError::NotFound)?;
    let stands = state.jobs.of(id).map_or(Stands::None, |job| Stands::of(&job.now(), job.total));
    let counts = state.store.entrants_page(id, 0, 0).await?;
    let page = PlanPage {
        layout: layout.at(Area::Races),
        id,
        race: lines::race_name(&race.race),
        stands,
        lacking: counts.lacking,
        have: counts.have,
    };
    let mut response = render::page(StatusCode::OK, &page)?;
    if page.is_running() {
        response.headers_mut().insert(REFRESH, HeaderValue::from_static("1"));
    }
    Ok(response)
}

/// `POST /races/{race}/blocks/stop`: what is made stays, and can be undone.
pub(crate) async fn stop(State(state): State<AppState>, Id(id): Id<RaceId>) -> Result<Response, AppError> {
    if let Some(job) = state.jobs.of(id) {
        job.cancel();
        job.wait(AT_ONCE).await;
    }
    Ok(notice::see_other(&paths::plan_progress(id)))
}

//! One step: what it did, to whom, and for whom it was undone.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use store::{AthleteId, StepId, StepItem, StepKind, StepRecord};

use super::lately::{Lately, when};
use crate::clock::Clock;
use crate::error::AppError;
use crate::extract::Id;
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The page of a step.
#[derive(Template)]
#[template(path = "steps/show.html")]
pub(crate) struct ShowPage {
    layout: Layout,
    id: StepId,
    what: String,
    when: String,
    undoing: &'static str,
    /// Whether it was tried, with success or not.
    is_undone: bool,
    /// The later steps that have to be undone before.
    first: Vec<First>,
    /// Whether these hold everybody back who is left.
    is_all_held: bool,
    /// Where it was made: address and name.
    back: (String, String),
    /// Who was changed since and stays as they are, and why.
    left: Vec<Named>,
    why_left: &'static str,
    /// Everybody else.
    others: Vec<Named>,
    /// Whether they are to be entered in a race next.
    leads_to_race: bool,
}

/// A step that stands on this one.
struct First {
    id: StepId,
    /// `Blocks made for 40 athletes`.
    what: String,
}

/// An athlete.
struct Named {
    id: AthleteId,
    name: String,
}

impl ShowPage {
    fn new(
        layout: Layout,
        (step, items): (&StepRecord, Vec<StepItem>),
        above: &[(StepRecord, u32)],
        back: (String, String),
        clock: Clock,
    ) -> Self {
        let is_undone = step.undone.is_some();
        let (left, others): (Vec<_>, Vec<_>) = items.into_iter().partition(|item| is_undone && !item.is_given_back);
        let named =
            |items: Vec<StepItem>| items.into_iter().map(|item| Named { id: item.athlete, name: item.name }).collect();
        Self {
            layout: layout.at(if step.race.is_some() { Area::Races } else { Area::Athletes }),
            id: step.id,
            what: Lately::of(step, clock).what,
            when: when(step, clock),
            undoing: super::undoing(step.kind),
            is_undone,
            first: above.iter().map(|(step, _)| First { id: step.id, what: Lately::of(step, clock).what }).collect(),
            is_all_held: above.iter().map(|(_, count)| *count as usize).sum::<usize>() == left.len(),
            back,
            left: named(left),
            why_left: super::left(step.kind),
            others: named(others),
            leads_to_race: step.kind == StepKind::BringIn && !is_undone,
        }
    }
}

impl Page for ShowPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use store::RaceId;
        let clock = Clock::fixed("2027-04-20T09:00:00Z".parse().expect("an instant"));
        let item = |number: i64, is_given_back| StepItem {
            athlete: AthleteId(number),
            name: format!("Runner {number} <b>"),
            is_given_back,
        };
        let page = |kind, undone: bool| {
            let step = StepRecord {
                id: StepId(3),
                kind,
                race: Some(RaceId(2)),
                made: clock.now() - chrono::TimeDelta::days(2),
                undone: undone.then(|| clock.now()),
                athletes: 2,
                given_back: u32::from(undone),
            };
            let back = (paths::race(RaceId(2)), "River Ten <b>".to_owned());
            let later = StepRecord { id: StepId(4), kind: StepKind::HandOver, undone: None, ..step.clone() };
            let above = if undone && kind == StepKind::Plan { vec![(later, 1)] } else { vec![] };
            Self::new(Layout::plain(), (&step, vec![item(1, undone), item(2, false)]), &above, back, clock)
        };
        vec![
            page(StepKind::Template, false),
            page(StepKind::BringIn, false),
            page(StepKind::Enter, false),
            page(StepKind::Plan, true),
            page(StepKind::HandOver, true),
        ]
    }
}

/// `GET /steps/{step}`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Id(id): Id<StepId>,
) -> Result<Response, AppError> {
    let (step, items) = state.store.step(id).await?.ok_or(AppError::NotFound)?;
    let race = match step.race {
        Some(race) => state.store.race(race).await?,
        None => None,
    };
    let (address, name) = super::made_at(step.kind);
    let back = race.map_or_else(
        || (address.to_owned(), name.to_owned()),
        |race| (paths::race(race.id), crate::blocks::lines::race_name(&race.race)),
    );
    let above = if step.undone.is_some() { state.store.steps_above(id).await? } else { Vec::new() };
    render::page(StatusCode::OK, &ShowPage::new(layout, (&step, items), &above, back, state.clock))
}

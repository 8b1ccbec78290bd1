//! Every race: those to come first, the nearest on top; past ones below, the latest on top.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use chrono::NaiveDate;
use formats::words;
use serde::Deserialize;
use store::RaceRecord;

use super::brought_in::BroughtIn;
use crate::error::AppError;
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// The calendar.
#[derive(Template)]
#[template(path = "races/list.html")]
pub(crate) struct ListPage {
    layout: Layout,
    /// Who came with a list and is to be entered in one of them.
    list: Option<BroughtIn>,
    coming: Vec<Row>,
    past: Vec<Row>,
}

/// One race.
struct Row {
    /// Where its page is, with those of the list ticked if it takes place.
    path: String,
    name: String,
    day: String,
    away: String,
    distance: String,
    place: String,
    entrants: String,
    is_off: bool,
}

impl Row {
    fn of((record, entrants): (RaceRecord, u32), list: Option<&BroughtIn>, today: NaiveDate) -> Self {
        let list = list.filter(|_| record.called_off.is_none());
        Self {
            path: list.map_or_else(|| paths::race(record.id), |list| paths::race_for_list(record.id, list.step)),
            day: shown::day(record.race.date, today),
            away: shown::away(record.race.date, today),
            distance: shown::capital(&words::race_distance(record.race.distance)),
            entrants: match entrants {
                0 => "nobody entered yet".to_owned(),
                count => words::plural(count as usize, "athlete"),
            },
            is_off: record.called_off.is_some(),
            name: record.race.name,
            place: record.place,
        }
    }
}

impl Page for ListPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let row = |id| Row {
            path: paths::race(store::RaceId(id)),
            name: "River Ten <b>".to_owned(),
            day: "Sun 9 May".to_owned(),
            away: "in 19 days".to_owned(),
            distance: "10 km".to_owned(),
            place: "Porto <b>".to_owned(),
            entrants: "1 athlete".to_owned(),
            is_off: id == 2,
        };
        let page = |coming, past| Self { layout: Layout::plain().at(Area::Races), list: None, coming, past };
        let with_list = |page: Self| Self { list: Some(BroughtIn::sample()), ..page };
        vec![
            page(vec![], vec![]),
            page(vec![row(1), row(2)], vec![]),
            page(vec![row(1)], vec![row(3)]),
            with_list(page(vec![row(1)], vec![])),
            with_list(page(vec![], vec![row(3)])),
        ]
    }
}

/// What is asked for in the address.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Asked {
    /// The step by which a list of athletes came in.
    list: String,
}

/// `GET /races`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Query(asked): Query<Asked>,
) -> Result<Response, AppError> {
    let list = BroughtIn::named(&state, &asked.list).await?;
    let today = state.clock.today();
    let races = state.store.races().await?;
    let (coming, mut past): (Vec<_>, Vec<_>) = races.into_iter().partition(|(race, _)| race.race.date >= today);
    past.reverse();
    let rows = |races: Vec<_>, list| races.into_iter().map(|race| Row::of(race, list, today)).collect();
    let (coming, past) = (rows(coming, list.as_ref()), rows(past, None));
    let page = ListPage { layout: layout.at(Area::Races), list, coming, past };
    render::page(StatusCode::OK, &page)
}

//! Every race: those to come first, the nearest on top; past ones below, the latest on top.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use chrono::NaiveDate;
use formats::words;
use store::{RaceId, RaceRecord};

use crate::error::AppError;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// The calendar.
#[derive(Template)]
#[template(path = "races/list.html")]
pub(crate) struct ListPage {
    layout: Layout,
    coming: Vec<Row>,
    past: Vec<Row>,
}

/// One race.
struct Row {
    id: RaceId,
    name: String,
    day: String,
    away: String,
    distance: String,
    place: String,
    entrants: String,
    is_off: bool,
}

impl Row {
    fn of((record, entrants): (RaceRecord, u32), today: NaiveDate) -> Self {
        Self {
            id: record.id,
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
            id: RaceId(id),
            name: "River Ten <b>".to_owned(),
            day: "Sun 9 May".to_owned(),
            away: "in 19 days".to_owned(),
            distance: "10 km".to_owned(),
            place: "Porto <b>".to_owned(),
            entrants: "1 athlete".to_owned(),
            is_off: id == 2,
        };
        let page = |coming, past| Self { layout: Layout::plain().at(Area::Races), coming, past };
        vec![page(vec![], vec![]), page(vec![row(1), row(2)], vec![]), page(vec![row(1)], vec![row(3)])]
    }
}

/// `GET /races`
pub(crate) async fn get(State(state): State<AppState>, layout: Layout) -> Result<Response, AppError> {
    let today = state.clock.today();
    let races = state.store.races().await?;
    let (coming, mut past): (Vec<_>, Vec<_>) = races.into_iter().partition(|(race, _)| race.race.date >= today);
    past.reverse();
    let rows = |races: Vec<_>| races.into_iter().map(|race| Row::of(race, today)).collect();
    let page = ListPage { layout: layout.at(Area::Races), coming: rows(coming), past: rows(past) };
    render::page(StatusCode::OK, &page)
}

//! Every athlete, by name.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use formats::words;
use serde::Deserialize;
use store::{AthleteId, AthleteRecord, BoardRow, NameSearch};

use crate::error::AppError;
use crate::form::Choice;
use crate::pages::{Address, Pages};
use crate::paths;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The squad as a list of names.
#[derive(Template)]
#[template(path = "athletes/list.html")]
pub(crate) struct ListPage {
    layout: Layout,
    filter: Filter,
    groups: Vec<Choice>,
    rows: Vec<Row>,
    pages: Pages,
    removed: Vec<Row>,
    any: bool,
}

/// How many athletes stand on a page.
const ROWS_A_PAGE: usize = 50;

/// One athlete.
struct Row {
    id: AthleteId,
    name: String,
    group: String,
    units: &'static str,
    cautions: u32,
}

impl Row {
    fn of(row: &BoardRow) -> Self {
        Self {
            id: row.athlete,
            units: words::distance_unit(row.units),
            cautions: row.cautions,
            name: row.name.clone(),
            group: row.group.clone(),
        }
    }

    fn of_removed(record: AthleteRecord) -> Self {
        Self {
            id: record.id,
            units: words::distance_unit(record.draft.athlete.units),
            cautions: 0,
            name: record.draft.athlete.name,
            group: record.draft.group,
        }
    }
}

impl ListPage {
    fn counted(&self) -> String {
        words::plural(self.pages.total, "athlete")
    }
}

impl Page for ListPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let row = |id, name: &str| Row {
            id: AthleteId(id),
            name: name.to_owned(),
            group: "Track <b>".to_owned(),
            units: "kilometres",
            cautions: 1,
        };
        let page = |text: &str, rows: Vec<Row>, removed: Vec<Row>, any| Self {
            layout: Layout::plain().at(Area::Athletes),
            filter: Filter { text: text.to_owned(), ..Filter::default() },
            groups: vec![Choice::new("", "All groups"), Choice::new("Track <b>", "Track <b>")],
            pages: Pages::of(rows.len() + 60, ROWS_A_PAGE, "", &Filter::default().query()),
            rows,
            removed,
            any,
        };
        vec![
            page("", vec![], vec![], false),
            page("zz\"<b>", vec![], vec![], true),
            page("", vec![row(1, "Ana"), row(2, "<b>x</b>")], vec![row(3, "Bo")], true),
        ]
    }
}

/// What is asked for in the address. A value that means nothing asks for nothing.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Filter {
    text: String,
    group: String,
    page: String,
}

impl Filter {
    fn is_set(&self) -> bool {
        !self.text.trim().is_empty() || !self.group.is_empty()
    }

    /// The address of the list with everything that is asked for but the page.
    fn query(&self) -> Address {
        Address::new(paths::ATHLETES).with("group", &self.group).with("text", self.text.trim())
    }
}

/// `GET /athletes`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Query(filter): Query<Filter>,
) -> Result<Response, AppError> {
    // The board's rows are in memory, and know all that stands here.
    let board = state.store.board(state.clock.today()).await?;
    let search = NameSearch::new(&filter.text);
    let is_of_group = |row: &BoardRow| filter.group.is_empty() || row.group == filter.group;
    let found: Vec<_> = board.iter().filter(|row| is_of_group(row) && search.finds(row)).collect();
    let pages = Pages::of(found.len(), ROWS_A_PAGE, &filter.page, &filter.query());
    let page = ListPage {
        layout: layout.at(Area::Athletes),
        groups: crate::board::groups(&board),
        rows: found[pages.range()].iter().map(|row| Row::of(row)).collect(),
        pages,
        removed: state.store.removed_athletes().await?.into_iter().map(Row::of_removed).collect(),
        any: !board.is_empty(),
        filter,
    };
    render::page(StatusCode::OK, &page)
}

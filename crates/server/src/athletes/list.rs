//! Every athlete, by name.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use formats::words;
use serde::Deserialize;
use store::{AthleteId, AthleteRecord};

use crate::error::AppError;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The squad as a list of names.
#[derive(Template)]
#[template(path = "athletes/list.html")]
pub(crate) struct ListPage {
    layout: Layout,
    /// What is looked for; empty for all.
    text: String,
    rows: Vec<Row>,
    removed: Vec<Row>,
    any: bool,
}

/// One athlete.
struct Row {
    id: AthleteId,
    name: String,
    group: String,
    units: &'static str,
    cautions: usize,
}

impl Row {
    fn of(record: AthleteRecord) -> Self {
        Self {
            id: record.id,
            units: words::distance_unit(record.draft.athlete.units),
            cautions: record.draft.athlete.cautions.len(),
            name: record.draft.athlete.name,
            group: record.draft.group,
        }
    }
}

impl ListPage {
    fn counted(&self) -> String {
        words::plural(self.rows.len(), "athlete")
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
            text: text.to_owned(),
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

/// The filter in the address.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Filter {
    text: String,
}

/// `GET /athletes`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Query(filter): Query<Filter>,
) -> Result<Response, AppError> {
    let found = state.store.find_athletes(&filter.text).await?;
    let any = !found.is_empty() || !state.store.athletes().await?.is_empty();
    let page = ListPage {
        layout: layout.at(Area::Athletes),
        rows: found.into_iter().map(Row::of).collect(),
        removed: state.store.removed_athletes().await?.into_iter().map(Row::of).collect(),
        text: filter.text,
        any,
    };
    render::page(StatusCode::OK, &page)
}

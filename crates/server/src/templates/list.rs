//! Every template.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use formats::words;
use store::{TemplateId, TemplateRecord};

use crate::error::AppError;
use crate::render::{self, Area, Layout, Page};
use crate::state::AppState;

/// The templates by name.
#[derive(Template)]
#[template(path = "week_templates/list.html")]
pub(crate) struct ListPage {
    layout: Layout,
    rows: Vec<Row>,
}

/// One template.
struct Row {
    id: TemplateId,
    name: String,
    /// Its totals in a sentence.
    totals: String,
    athletes: u32,
    older: u32,
}

impl Row {
    fn of(record: TemplateRecord) -> Self {
        let week = record.draft.read().unwrap_or_default();
        Self {
            id: record.id,
            totals: words::seven_days(week.first(), None, record.draft.units, None),
            name: record.draft.name,
            athletes: record.athletes,
            older: record.older,
        }
    }
}

impl Row {
    fn runners(&self) -> String {
        runners(self.athletes, self.older)
    }
}

/// `3 athletes, 1 of them by an older version`.
pub(super) fn runners(athletes: u32, older: u32) -> String {
    let all = words::plural(athletes as usize, "athlete");
    match older {
        0 => all,
        older if older == athletes => format!("{all}, by an older version"),
        older => format!("{all}, {older} of them by an older version"),
    }
}

impl Page for ListPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let row = |id, athletes, older| Row {
            id: TemplateId(id),
            name: "Five days <b>".to_owned(),
            totals: "40 km on 5 running days.".to_owned(),
            athletes,
            older,
        };
        let page = |rows| Self { layout: Layout::plain().at(Area::Athletes), rows };
        vec![page(vec![]), page(vec![row(1, 0, 0), row(2, 3, 1), row(3, 1, 1)])]
    }
}

/// `GET /templates`
pub(crate) async fn get(State(state): State<AppState>, layout: Layout) -> Result<Response, AppError> {
    let rows = state.store.templates().await?.into_iter().map(Row::of).collect();
    render::page(StatusCode::OK, &ListPage { layout: layout.at(Area::Athletes), rows })
}

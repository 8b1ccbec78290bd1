//! All messages of the squad, each as a chosen athlete would read it.

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use formats::words;
use planning::Moment;
use serde::Deserialize;
use store::MessageText;

use super::Trial;
use crate::error::AppError;
use crate::form::Choice;
use crate::render::{self, Area, Layout, Page};
use crate::shown;
use crate::state::AppState;

/// The list.
#[derive(Template)]
#[template(path = "messages/list.html")]
pub(crate) struct ListPage {
    layout: Layout,
    rows: Vec<Row>,
    /// Blocks with which they can be read.
    blocks: Vec<Choice>,
    chosen: String,
}

/// One message.
struct Row {
    moment: Moment,
    name: String,
    /// Whether the squad has its own words.
    is_own: bool,
    /// As the athlete reads it; the text with its fields where nobody has a block.
    text: String,
}

/// With whom it is read.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Asked {
    block: String,
}

impl Page for ListPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let row = |moment: Moment, is_own| Row {
            moment,
            name: shown::capital(words::moment(moment)),
            is_own,
            text: "Hello <b>Ana</b>,\n\none week.".to_owned(),
        };
        let page = |blocks: Vec<Choice>| Self {
            layout: Layout::plain().at(Area::Settings),
            rows: vec![row(Moment::BlockStart, true), row(Moment::DayAfter, false)],
            chosen: blocks.first().map(|choice| choice.value.clone()).unwrap_or_default(),
            blocks,
        };
        vec![page(vec![]), page(vec![Choice::new("3", "Ana <b>, River Ten")])]
    }
}

/// `GET /messages`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Query(asked): Query<Asked>,
) -> Result<Response, AppError> {
    let trial = Trial::read(&state, &asked.block).await?;
    let coach = state.store.settings().await?.coach_name;
    let row = |kept: MessageText| {
        let text = kept.text.as_deref().unwrap_or(words::message(kept.moment));
        Row {
            moment: kept.moment,
            name: shown::capital(words::moment(kept.moment)),
            is_own: kept.text.is_some(),
            text: trial.fill(&state, &coach, kept.moment, text).unwrap_or_else(|| text.to_owned()),
        }
    };
    let page = ListPage {
        layout: layout.at(Area::Settings),
        rows: state.store.message_texts().await?.into_iter().map(row).collect(),
        chosen: trial.value(),
        blocks: trial.blocks,
    };
    render::page(StatusCode::OK, &page)
}

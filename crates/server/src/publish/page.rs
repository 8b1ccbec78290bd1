//! The page that publishes into a folder: only on the machine on which the program runs, because it
//! writes where its reader says.

use std::path::Path;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum_extra::extract::Form;
use formats::words;
use serde::Deserialize;

use super::Published;
use crate::error::AppError;
use crate::form::Problems;
use crate::render::{self, Area, Layout, Page};
use crate::state::{AppState, Reach};

/// The form, and what the last run did.
#[derive(Template)]
#[template(path = "publish/show.html")]
pub(crate) struct PublishPage {
    layout: Layout,
    reach: Reach,
    folder: String,
    problems: Problems,
    /// How many blocks are shared today.
    shared: usize,
    done: Option<Published>,
}

/// The form as typed.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    folder: String,
}

impl PublishPage {
    fn status(&self) -> StatusCode {
        if self.problems.is_empty() { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY }
    }
}

impl Page for PublishPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let page = |reach, done| Self {
            layout: Layout::plain().at(Area::Settings),
            reach,
            folder: "/home/ana/<b>runs".to_owned(),
            problems: Problems::default(),
            shared: 1,
            done,
        };
        let done = Published {
            folder: "/home/ana/<b>runs".into(),
            pages: vec![super::PublishedPage {
                athlete: "Ana <b>".to_owned(),
                race: "Harbour 10 (invented)".to_owned(),
                file: "0123456789abcdef0123456789abcdef01234567.html".to_owned(),
                ends: "2027-05-23".parse().expect("a date"),
            }],
            written: 2,
            unchanged: 0,
            removed: 1,
            left: vec!["b.html".to_owned()],
        };
        let nothing = Published { pages: Vec::new(), left: Vec::new(), ..done.clone() };
        let mut refused = page(Reach::ThisMachine, None);
        refused.problems.add("folder", "Write the whole path of the folder, <b>for example</b>.");
        vec![
            page(Reach::ThisMachine, None),
            page(Reach::Network, None),
            page(Reach::ThisMachine, Some(done)),
            page(Reach::ThisMachine, Some(nothing)),
            refused,
        ]
    }
}

/// `GET /settings/publish`
pub(crate) async fn get(State(state): State<AppState>, layout: Layout) -> Result<Response, AppError> {
    show(&state, layout, String::new(), Problems::default(), None).await
}

/// `POST /settings/publish`: the same again does no harm, so the answer is the page itself.
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let mut problems = Problems::default();
    let folder = typed.folder.trim();
    if state.reach == Reach::Network {
        problems.add(
            "folder",
            "Folders are written only while the coach's pages are open to this machine alone. Use ebbline publish there.",
        );
    } else if !Path::new(folder).is_absolute() || folder.contains('\0') {
        problems.add(
            "folder",
            format!("{} is not a whole path: write it from the root of the disk on.", words::quote(folder)),
        );
    }
    let done = if problems.is_empty() {
        match super::publish(&state.store, state.clock, Path::new(folder)).await {
            Ok(done) => Some(done),
            Err(super::PublishError::Store(error)) => return Err(error.into()),
            Err(error) => {
                problems.add("folder", format!("{error}."));
                None
            }
        }
    } else {
        None
    };
    show(&state, layout, typed.folder, problems, done).await
}

async fn show(
    state: &AppState,
    layout: Layout,
    folder: String,
    problems: Problems,
    done: Option<Published>,
) -> Result<Response, AppError> {
    let page = PublishPage {
        layout: layout.at(Area::Settings),
        reach: state.reach,
        folder,
        problems,
        shared: state.store.count_working_links(state.clock.today()).await?,
        done,
    };
    render::page(page.status(), &page)
}

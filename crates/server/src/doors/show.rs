//! The page about both doors.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;

use super::phrase;
use super::sharing::{self, Typed};
use crate::error::AppError;
use crate::form::{Choice, Problems};
use crate::render::{self, Area, Layout, Page};
use crate::state::{AppState, Reach, ShareDoor};

/// Where athletes' pages are served, and who may open the coach's.
#[derive(Template)]
#[template(path = "doors/show.html")]
pub(crate) struct DoorsPage {
    layout: Layout,
    typed: Typed,
    problems: Problems,
    share: ShareDoor,
    /// Whether a pass phrase is set.
    is_locked: bool,
    reach: Reach,
    least: usize,
}

impl DoorsPage {
    /// The page as things are kept, with what is wrong in a form.
    pub(super) async fn read(layout: Layout, state: &AppState, problems: Problems) -> Result<Self, AppError> {
        let doors = state.store.doors().await?;
        let share = state.share.now();
        Ok(Self {
            layout: layout.at(Area::Settings),
            typed: Typed::of(&doors, &share),
            problems,
            share,
            is_locked: doors.pass_phrase.is_some(),
            reach: state.reach,
            least: phrase::LEAST,
        })
    }

    /// The same with what was typed.
    pub(super) fn with_typed(self, typed: Typed) -> Self {
        Self { typed, ..self }
    }

    fn choices() -> Vec<Choice> {
        sharing::choices()
    }
}

impl Page for DoorsPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let typed = |served: &str, share_url: &str| Typed {
            version: "1".to_owned(),
            served: served.to_owned(),
            share_address: sharing::USUAL_ADDRESS.to_owned(),
            share_url: share_url.to_owned(),
        };
        let page = |typed: Typed, share, is_locked, reach| Self {
            layout: Layout::plain().at(Area::Settings),
            typed,
            problems: Problems::default(),
            share,
            is_locked,
            reach,
            least: phrase::LEAST,
        };
        let address = std::net::SocketAddr::from(([192, 168, 1, 20], 4651));
        let mut wrong = page(typed("on", "<b>"), ShareDoor::Off, true, Reach::ThisMachine);
        wrong.problems.add("share_url", "Not so: <b>.");
        wrong.problems.add("present", "Not that one.");
        wrong.problems.add("phrase", "Longer.");
        wrong.problems.add("again", "The same.");
        vec![
            page(typed("off", ""), ShareDoor::Off, false, Reach::ThisMachine),
            page(
                typed("on", "https://runs.example"),
                ShareDoor::Open { address, base: "https://runs.example".into() },
                true,
                Reach::Network,
            ),
            page(typed("on", ""), ShareDoor::Taken { address }, false, Reach::ThisMachine),
            wrong,
        ]
    }
}

/// `GET /settings/doors`
pub(crate) async fn get(State(state): State<AppState>, layout: Layout) -> Result<Response, AppError> {
    render::page(StatusCode::OK, &DoorsPage::read(layout, &state, Problems::default()).await?)
}

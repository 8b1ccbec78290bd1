//! From a page struct to a response.

use askama::Template;
use axum::extract::FromRequestParts;
use axum::http::StatusCode;
use axum::http::request::Parts;
use axum::response::{Html, IntoResponse, Response};

use crate::error::AppError;
use crate::notice::{Notice, Shown};

/// A page: a template, and samples of everything that it can show.
pub(crate) trait Page: Template {
    /// One page for each thing that can look different: empty, full, refused.
    #[cfg(test)]
    fn samples() -> Vec<Self>
    where
        Self: Sized;
}

/// Shows a page.
pub(crate) fn page(status: StatusCode, page: &impl Page) -> Result<Response, AppError> {
    Ok((status, Html(page.render()?)).into_response())
}

/// The part of the program that a page belongs to: marks the menu.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Area {
    None,
    Board,
    Calendar,
    Athletes,
    Races,
    Settings,
}

/// What surrounds every page of the coach's door.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Layout {
    pub(crate) area: Area,
    pub(crate) notice: Option<Notice>,
}

impl Layout {
    /// Without a notice and outside every area.
    pub(crate) const fn plain() -> Self {
        Self { area: Area::None, notice: None }
    }

    /// The same in an area of the menu.
    pub(crate) const fn at(mut self, area: Area) -> Self {
        self.area = area;
        self
    }

    /// What the menu says of an area: `page` where the reader is.
    pub(crate) fn is_at(&self, area: &str) -> bool {
        area == match self.area {
            Area::None => "",
            Area::Board => "board",
            Area::Calendar => "calendar",
            Area::Athletes => "athletes",
            Area::Races => "races",
            Area::Settings => "settings",
        }
    }
}

impl<S: Sync> FromRequestParts<S> for Layout {
    type Rejection = std::convert::Infallible;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Self::Rejection> {
        let Shown(notice) = Shown::from_request_parts(parts, state).await?;
        Ok(Self { area: Area::None, notice })
    }
}

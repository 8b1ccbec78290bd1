//! Everything that can go wrong with a request, and what the page then says.

use std::borrow::Cow;
use std::sync::atomic::{AtomicU32, Ordering};

use askama::Template;
use axum::extract::Request;
use axum::http::header::CONTENT_TYPE;
use axum::http::{HeaderValue, StatusCode};
use axum::middleware::Next;
use axum::response::{Html, IntoResponse, Response};
use store::StoreError;

use crate::render::{Layout, Page};
use crate::trouble::{self, Trouble};

/// Why a request has no page of its own to answer with.
#[derive(Debug, thiserror::Error)]
pub(crate) enum AppError {
    /// No such address or record.
    #[error("not found")]
    NotFound,
    /// The store said no.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A template failed.
    #[error("template: {0}")]
    Render(#[from] askama::Error),
    /// A thing that cannot be, said for the log.
    #[error("{0}")]
    Internal(String),
}

impl IntoResponse for AppError {
    fn into_response(self) -> Response {
        let words = match &self {
            Self::NotFound => Words::of(StatusCode::NOT_FOUND),
            Self::Store(error) => {
                let trouble = trouble::of(error);
                let reference = trouble.is_logged.then(|| log(&self));
                return ErrorPage { reference, ..ErrorPage::new(Words::from(trouble)) }.response();
            }
            Self::Render(_) | Self::Internal(_) => return ErrorPage::internal(log(&self)).response(),
        };
        ErrorPage::new(words).response()
    }
}

/// Logs what the page does not say, and gives the reference under which it stands there.
pub(crate) fn log(error: &AppError) -> u32 {
    let reference = next_reference();
    tracing::error!(reference, error = %error, "a request failed");
    reference
}

/// A number that stands on the page and in the log, so that one finds the other.
fn next_reference() -> u32 {
    static NEXT: AtomicU32 = AtomicU32::new(1);
    NEXT.fetch_add(1, Ordering::Relaxed)
}

/// Title, explanation and way out of one status.
#[derive(Clone, Debug)]
struct Words {
    status: StatusCode,
    title: &'static str,
    text: Cow<'static, str>,
    way: &'static str,
}

impl From<Trouble> for Words {
    fn from(Trouble { status, title, text, way, .. }: Trouble) -> Self {
        Self { status, title, text, way }
    }
}

impl Words {
    fn of(status: StatusCode) -> Self {
        let (title, text) = match status {
            StatusCode::NOT_FOUND => (
                "Nothing stands here",
                "This address leads nowhere. What it led to may have been removed, or the address was mistyped.",
            ),
            StatusCode::CONFLICT => (
                "This was changed meanwhile",
                "It was saved from another window since you opened it, so nothing was written over. Go back, reload and enter your change again.",
            ),
            StatusCode::FORBIDDEN => (
                "Refused: the form came from elsewhere",
                "Changes are taken only from Ebbline's own pages. Nothing was changed. Open the page here and send the form again.",
            ),
            StatusCode::METHOD_NOT_ALLOWED => (
                "This address does not take that",
                "It either only shows a page or only takes a form. Nothing was changed.",
            ),
            StatusCode::MISDIRECTED_REQUEST => (
                "This name is not known here",
                "Ebbline answers only under the address that it printed when it started. Open that address instead.",
            ),
            StatusCode::PAYLOAD_TOO_LARGE => (
                "That is more than can be taken at once",
                "One form may hold up to 2 MB. Nothing was changed. Shorten the text and send it again.",
            ),
            StatusCode::SERVICE_UNAVAILABLE | StatusCode::REQUEST_TIMEOUT => {
                ("That took too long", "It was stopped. Look whether your change has arrived before you send it again.")
            }
            StatusCode::INTERNAL_SERVER_ERROR => (
                "Something went wrong in the program",
                "It is not your fault. What was saved before is safe; look whether your last change has arrived.",
            ),
            _ => (
                "That could not be read",
                "The request was not one that a page of Ebbline sends. Nothing was changed. Go back and try again.",
            ),
        };
        Self { status, title, text: Cow::Borrowed(text), way: "" }
    }
}

/// The page of every failure.
#[derive(Template)]
#[template(path = "error.html")]
pub(crate) struct ErrorPage {
    layout: Layout,
    words: Words,
    reference: Option<u32>,
}

impl ErrorPage {
    const fn new(words: Words) -> Self {
        Self { layout: Layout::plain(), words, reference: None }
    }

    fn internal(reference: u32) -> Self {
        Self {
            layout: Layout::plain(),
            words: Words::of(StatusCode::INTERNAL_SERVER_ERROR),
            reference: Some(reference),
        }
    }

    fn response(&self) -> Response {
        let status = self.words.status;
        match self.render() {
            Ok(html) => (status, Html(html)).into_response(),
            Err(error) => {
                tracing::error!(%error, "the error page failed");
                (status, self.words.title).into_response()
            }
        }
    }
}

impl Page for ErrorPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let bare = [404, 409, 403, 405, 421, 413, 503, 408, 500, 400, 415, 422];
        let statuses = bare.into_iter().filter_map(|code| StatusCode::from_u16(code).ok()).map(Words::of);
        let named = trouble::samples().into_iter().map(Words::from);
        statuses.chain(named).map(Self::new).chain([Self::internal(17)]).collect()
    }
}

/// The page of the athletes' door for every address that shows nothing: unknown, ended and revoked
/// links look alike.
#[derive(Template)]
#[template(path = "share/missing.html")]
pub(crate) struct SharedMissingPage {
    status: StatusCode,
}

impl Page for SharedMissingPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        vec![Self { status: StatusCode::NOT_FOUND }]
    }
}

/// Layer of the coach's door: refusals of layers and extractors get our page too.
pub(crate) async fn dress(request: Request, next: Next) -> Response {
    let response = next.run(request).await;
    if is_bare(&response) { ErrorPage::new(Words::of(response.status())).response() } else { response }
}

/// Layer of the athletes' door: the same with nothing on it that only the coach should see.
pub(crate) async fn dress_shared(request: Request, next: Next) -> Response {
    let response = next.run(request).await;
    if !is_bare(&response) {
        return response;
    }
    let page = SharedMissingPage { status: response.status() };
    match page.render() {
        Ok(html) => (page.status, Html(html)).into_response(),
        Err(_) => page.status.into_response(),
    }
}

/// An error without a page or data of its own.
fn is_bare(response: &Response) -> bool {
    let status = response.status();
    let plain = response
        .headers()
        .get(CONTENT_TYPE)
        .is_none_or(|kind: &HeaderValue| kind.as_bytes().starts_with(b"text/plain"));
    (status.is_client_error() || status.is_server_error()) && plain
}

/// What a panic becomes: logged once with a reference, and a page.
#[expect(clippy::needless_pass_by_value, reason = "the layer hands the cause over")]
pub(crate) fn panicked(cause: Box<dyn std::any::Any + Send + 'static>) -> Response {
    let reference = next_reference();
    let text = cause
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| cause.downcast_ref::<&str>().copied())
        .unwrap_or("no message");
    tracing::error!(reference, text, "a request panicked");
    ErrorPage::internal(reference).response()
}

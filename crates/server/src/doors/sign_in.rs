//! Signing in with the pass phrase, and the layer that asks for it.

use std::net::{IpAddr, SocketAddr};

use askama::Template;
use axum::extract::{ConnectInfo, Query, Request, State};
use axum::http::header::{COOKIE, SET_COOKIE};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode};
use axum::middleware::Next;
use axum::response::Response;
use axum_extra::extract::Form;
use chrono::TimeDelta;
use serde::Deserialize;
use uuid::Uuid;

use super::phrase;
use crate::error::AppError;
use crate::extract::wants_json;
use crate::form::Problems;
use crate::notice::{self, Notice};
use crate::paths;
use crate::render::{self, Layout, Page};
use crate::state::AppState;

/// The cookie of a browser that is signed in.
const NAME: &str = "ebbline_sign_in";

/// How long a browser stays signed in.
const STAYS: TimeDelta = TimeDelta::days(30);

/// The page that asks for the pass phrase.
#[derive(Template)]
#[template(path = "doors/sign_in.html")]
pub(crate) struct SignInPage {
    layout: Layout,
    problems: Problems,
    /// Where to go then.
    to: String,
    /// Whether a form was sent meanwhile.
    held_up: bool,
}

impl Page for SignInPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        let page = |held_up, to: &str| Self {
            layout: Layout::plain(),
            problems: Problems::default(),
            to: to.to_owned(),
            held_up,
        };
        let mut wrong = page(false, "/blocks/7?preview=1&days=9\"<b>");
        wrong.problems.add("phrase", "Not that one.");
        vec![page(false, "/"), page(true, "/"), wrong]
    }
}

/// Where to go after signing in.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(crate) struct Asked {
    to: String,
}

/// The form as typed.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(crate) struct Typed {
    phrase: String,
    to: String,
}

/// `GET /sign-in`
pub(crate) async fn get(
    State(state): State<AppState>,
    layout: Layout,
    Query(asked): Query<Asked>,
) -> Result<Response, AppError> {
    let to = inside(&asked.to).to_owned();
    if state.store.doors().await?.pass_phrase.is_none() {
        return Ok(notice::see_other(&to));
    }
    render::page(StatusCode::OK, &SignInPage { layout, problems: Problems::default(), to, held_up: false })
}

/// `POST /sign-in`
pub(crate) async fn post(
    State(state): State<AppState>,
    layout: Layout,
    from: From,
    Form(typed): Form<Typed>,
) -> Result<Response, AppError> {
    let to = inside(&typed.to).to_owned();
    let Some(kept) = state.store.doors().await?.pass_phrase else { return Ok(notice::see_other(&to)) };
    let mut problems = Problems::default();
    let status = if let Some(left) = state.limit.wait(from.0, state.clock.now()) {
        problems
            .add("phrase", format!("Too many wrong tries. Wait {} seconds, then try again.", left.num_seconds() + 1));
        StatusCode::TOO_MANY_REQUESTS
    } else if phrase::is_right(&typed.phrase, &kept).await? {
        state.limit.forget(from.0);
        let mut response = notice::see_other(&to);
        start(&state, &mut response).await?;
        return Ok(response);
    } else {
        tracing::warn!(from = ?from.0, "a wrong pass phrase");
        problems.add("phrase", "This is not the pass phrase.");
        StatusCode::UNPROCESSABLE_ENTITY
    };
    render::page(status, &SignInPage { layout, problems, to, held_up: false })
}

/// `POST /sign-out`
pub(crate) async fn out(State(state): State<AppState>, headers: HeaderMap) -> Result<Response, AppError> {
    if let Some(secret) = secret_of(&headers) {
        state.store.sign_out(&secret).await?;
    }
    let mut response = notice::redirect(paths::SIGN_IN, Notice::SignedOut);
    set_cookie(&mut response, "", TimeDelta::zero());
    Ok(response)
}

/// Signs the browser in that gets this answer.
pub(super) async fn start(state: &AppState, response: &mut Response) -> Result<(), AppError> {
    let secret = format!("{}{}", Uuid::new_v4().simple(), Uuid::new_v4().simple());
    let now = state.clock.now();
    state.store.sign_in(&secret, now, now + STAYS).await?;
    set_cookie(response, &secret, STAYS);
    Ok(())
}

fn set_cookie(response: &mut Response, secret: &str, stays: TimeDelta) {
    let cookie = format!("{NAME}={secret}; Path=/; Max-Age={}; HttpOnly; SameSite=Strict", stays.num_seconds());
    if let Ok(value) = HeaderValue::from_str(&cookie) {
        response.headers_mut().append(SET_COOKIE, value);
    }
}

/// Layer: with a pass phrase set, nobody passes who is not signed in, but to the page that asks for it and
/// its style files.
pub(crate) async fn require(
    State(state): State<AppState>,
    layout: Layout,
    request: Request,
    next: Next,
) -> Result<Response, AppError> {
    let path = request.uri().path();
    let is_open = path == paths::SIGN_IN || path == paths::HEALTH || path.starts_with(paths::ASSETS);
    if is_open || state.store.doors().await?.pass_phrase.is_none() {
        return Ok(next.run(request).await);
    }
    let is_signed_in = match secret_of(request.headers()) {
        Some(secret) => state.store.is_signed_in(&secret, state.clock.now()).await?,
        None => false,
    };
    if is_signed_in {
        return Ok(next.run(request).await);
    }
    let reads = matches!(*request.method(), Method::GET | Method::HEAD);
    if reads && !wants_json(request.headers()) {
        let to = request.uri().path_and_query().map_or("/", |path| path.as_str());
        return Ok(notice::see_other(&paths::sign_in(to)));
    }
    // A form that was filled in for an hour is not thrown away: the browser still has it.
    let page = SignInPage { layout, problems: Problems::default(), to: paths::BOARD.to_owned(), held_up: true };
    render::page(StatusCode::UNAUTHORIZED, &page)
}

fn secret_of(headers: &HeaderMap) -> Option<String> {
    let cookies = headers.get_all(COOKIE).iter().filter_map(|value| value.to_str().ok());
    let mut pairs = cookies.flat_map(|value| value.split(';')).filter_map(|pair| pair.trim().split_once('='));
    let (_, secret) = pairs.find(|(name, _)| *name == NAME)?;
    (secret.len() == 64).then(|| secret.to_owned())
}

/// A page of our own: a link from elsewhere cannot send a coach who signs in to another site.
fn inside(to: &str) -> &str {
    let is_path = to.starts_with('/') && !to.starts_with("//") && !to.starts_with("/\\");
    if is_path && !to.contains(|next: char| next.is_control()) { to } else { paths::BOARD }
}

/// The address from which a request came, where the server knows it.
pub(crate) struct From(Option<IpAddr>);

impl<S: Sync> axum::extract::FromRequestParts<S> for From {
    type Rejection = std::convert::Infallible;

    async fn from_request_parts(parts: &mut axum::http::request::Parts, _: &S) -> Result<Self, Self::Rejection> {
        Ok(Self(parts.extensions.get::<ConnectInfo<SocketAddr>>().map(|info| info.0.ip())))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_pages_of_ours_are_gone_to() {
        for good in ["/", "/blocks/7?preview=1", "/races"] {
            assert_eq!(inside(good), good);
        }
        for bad in ["//evil.example", "https://evil.example", "/\\evil.example", "", "races", "/a\r\nSet-Cookie: x=1"] {
            assert_eq!(inside(bad), "/", "{bad:?}");
        }
    }
}

//! What a request asks for: extractors whose refusals look like our own pages, and whether it wants data.

use axum::extract::{FromRequestParts, Path};
use axum::http::HeaderMap;
use axum::http::header::ACCEPT;
use axum::http::request::Parts;
use serde::de::DeserializeOwned;

use crate::error::AppError;

/// The id in an address; anything that is not one is our page "not found".
pub(crate) struct Id<T>(pub(crate) T);

impl<S, T> FromRequestParts<S> for Id<T>
where
    S: Send + Sync,
    T: DeserializeOwned + Send,
{
    type Rejection = AppError;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Self::Rejection> {
        match Path::<T>::from_request_parts(parts, state).await {
            Ok(Path(id)) => Ok(Self(id)),
            Err(_) => Err(AppError::NotFound),
        }
    }
}

/// Whether the caller asks for data before a page; browsers ask for pages first.
pub(crate) fn wants_json(headers: &HeaderMap) -> bool {
    let first = headers.get(ACCEPT).and_then(|value| value.to_str().ok()).and_then(|value| value.split(',').next());
    first
        .and_then(|kind| kind.split(';').next())
        .is_some_and(|kind| kind.trim().eq_ignore_ascii_case("application/json"))
}

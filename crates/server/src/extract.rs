//! Extractors whose refusals look like our own pages.

use axum::extract::{FromRequestParts, Path};
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

//! What an athlete sees, on the athletes' door only.

mod calendar;
mod kept;
mod print;
mod show;

use axum::Router;
use axum::extract::{FromRequestParts, Path};
use axum::http::StatusCode;
use axum::http::header::HOST;
use axum::http::request::Parts;
use axum::response::{IntoResponse, Response};
use axum::routing::get;

use crate::error::AppError;
use crate::paths;
use crate::state::ShareState;

pub(crate) use kept::Kept;
#[cfg(test)]
pub(crate) use show::SharedPage;

/// Every address of the athletes' door but the style sheets.
pub(crate) fn routes() -> Router<ShareState> {
    Router::new()
        .route(paths::SHARED, get(show::get))
        .route(paths::SHARED_PRINT, get(print::get))
        .route(paths::SHARED_CALENDAR, get(calendar::get))
}

/// The unguessable part of an address.
pub(crate) struct Token(String);

impl<S: Send + Sync> FromRequestParts<S> for Token {
    type Rejection = Refused;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Self::Rejection> {
        match Path::<String>::from_request_parts(parts, state).await {
            Ok(Path(token)) => Ok(Self(token)),
            Err(_) => Err(Refused(StatusCode::NOT_FOUND)),
        }
    }
}

/// The name under which the reader came, one of ours: the guards let no other through.
pub(crate) struct Host(String);

impl<S: Sync> FromRequestParts<S> for Host {
    type Rejection = std::convert::Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Self::Rejection> {
        let host = parts.headers.get(HOST).and_then(|host| host.to_str().ok()).unwrap_or_default();
        Ok(Self(host.to_ascii_lowercase()))
    }
}

/// Why an athlete's page cannot be shown, without a page of its own: the layer around the door gives
/// every refusal the same one, so that an unknown link looks like any other address.
pub(crate) struct Refused(StatusCode);

impl From<AppError> for Refused {
    fn from(error: AppError) -> Self {
        match error {
            AppError::NotFound => Self(StatusCode::NOT_FOUND),
            error => {
                tracing::error!(%error, "an athlete's page failed");
                Self(StatusCode::INTERNAL_SERVER_ERROR)
            }
        }
    }
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        self.0.into_response()
    }
}

//! The feed: the shared block as a calendar that phones ask for again and again.

use axum::extract::State;
use axum::http::header::{CACHE_CONTROL, ETAG, IF_NONE_MATCH};
use axum::http::{HeaderMap, HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};

use super::kept::{self, Answer, What};
use super::{Refused, Token};
use crate::calendar;
use crate::error::AppError;
use crate::state::ShareState;

/// A calendar may keep what it has, but asks each time whether it is still true.
const KEEP: HeaderValue = HeaderValue::from_static("private, no-cache");

/// `GET /p/{token}/calendar.ics`: the same bytes and the same tag as long as nothing changed.
pub(crate) async fn get(
    State(state): State<ShareState>,
    Token(token): Token,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    let answer = kept::answer(&state, What::Calendar, &token, "", async || {
        let history = state.reader.shared_history(&token, state.clock.today()).await.map_err(AppError::from)?;
        Ok(Answer::calendar(calendar::write(&history.ok_or(AppError::NotFound)?)?))
    });
    let answer = answer.await?;
    let mut response = match &answer.tag {
        Some(tag) if knows(&headers, tag) => StatusCode::NOT_MODIFIED.into_response(),
        _ => answer.response(),
    };
    response.headers_mut().insert(CACHE_CONTROL, KEEP);
    if let Some(tag) = answer.tag {
        response.headers_mut().insert(ETAG, tag);
    }
    Ok(response)
}

/// Whether the reader holds the bytes of this tag already.
///
/// # Source
///
/// RFC 9110, 13.1.2: a list of tags or `*`, compared weakly.
fn knows(headers: &HeaderMap, tag: &HeaderValue) -> bool {
    let strong = |tag: &str| tag.trim().trim_start_matches("W/").to_owned();
    let Ok(ours) = tag.to_str().map(strong) else {
        return false;
    };
    let lists = headers.get_all(IF_NONE_MATCH).iter().filter_map(|list| list.to_str().ok());
    lists.flat_map(|list| list.split(',')).any(|theirs| theirs.trim() == "*" || strong(theirs) == ours)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tag_is_known_weak_or_strong_alone_or_in_a_list() {
        let tag = HeaderValue::from_static("W/\"abc\"");
        let asked = |value: &'static str| {
            let mut headers = HeaderMap::new();
            headers.append(IF_NONE_MATCH, HeaderValue::from_static(value));
            knows(&headers, &tag)
        };
        for known in ["W/\"abc\"", "\"abc\"", "\"x\", W/\"abc\"", "*"] {
            assert!(asked(known), "{known}");
        }
        for unknown in ["\"ab\"", "abc", "", "\"x\""] {
            assert!(!asked(unknown), "{unknown}");
        }
        assert!(!knows(&HeaderMap::new(), &tag));
    }
}

//! Answers that are kept as bytes: athletes look far more often than their coach writes.
//!
//! A kept answer is given as long as nothing in the data file changed and the day is the same; any
//! change at all lets every answer go. So it needs no thought, here or later, on what a page is made
//! from: a link that was ended is gone with the next request. What another program writes into the
//! file is seen within [`LOOK`].

use std::collections::HashMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use askama::Template;
use axum::body::{Body, Bytes};
use axum::http::header::CONTENT_TYPE;
use axum::http::{HeaderName, HeaderValue};
use axum::response::Response;
use chrono::NaiveDate;
use sha2::{Digest, Sha256};

use super::Refused;
use crate::calendar;
use crate::error::AppError;
use crate::hex::hex;
use crate::state::ShareState;

/// How long changes by other programs may go unseen.
const LOOK: Duration = Duration::from_secs(1);
/// The most that is kept, in bytes: about a thousand pages and their calendars.
const BYTES_MOST: usize = 32 * 1024 * 1024;

/// Which answer of a link.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum What {
    Page,
    Sheet,
    Calendar,
}

/// An answer as it leaves.
#[derive(Clone, Debug)]
pub(super) struct Answer {
    body: Bytes,
    content: HeaderValue,
    /// A tag of the bytes, where the reader may keep them.
    pub(super) tag: Option<HeaderValue>,
}

impl Answer {
    pub(super) fn page(page: &impl Template) -> Result<Self, Refused> {
        let body = page.render().map_err(AppError::from)?.into();
        Ok(Self { body, content: HeaderValue::from_static("text/html; charset=utf-8"), tag: None })
    }

    pub(super) fn calendar(file: String) -> Self {
        // Weak, because the same bytes may leave compressed.
        let tag = format!("W/\"{}\"", hex(&Sha256::digest(file.as_bytes())[..16]));
        let tag = HeaderValue::from_str(&tag).ok();
        Self { body: file.into(), content: HeaderValue::from_static(calendar::CONTENT), tag }
    }

    /// The answer as a response. Search engines have no business here, also where it is not HTML.
    pub(super) fn response(&self) -> Response {
        let mut response = Response::new(Body::from(self.body.clone()));
        let headers = response.headers_mut();
        headers.insert(CONTENT_TYPE, self.content.clone());
        headers
            .insert(HeaderName::from_static("x-robots-tag"), HeaderValue::from_static("noindex, nofollow, noarchive"));
        response
    }
}

/// Every answer that is still true.
#[derive(Clone, Debug, Default)]
pub(crate) struct Kept(Arc<Mutex<Inner>>);

#[derive(Debug, Default)]
struct Inner {
    /// The state of the file and the day at which the answers are true.
    at: (u64, NaiveDate),
    answers: HashMap<(What, String, String), Answer>,
    bytes: usize,
    looked: Option<Instant>,
}

impl Kept {
    fn lock(&self) -> MutexGuard<'_, Inner> {
        // Whoever panicked under the lock left at worst an answer out.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether it is time to ask after other programs' changes; whoever is told so asks.
    fn is_due(&self) -> bool {
        let (mut inner, now) = (self.lock(), Instant::now());
        let is_due = inner.looked.is_none_or(|looked| now.duration_since(looked) >= LOOK);
        if is_due {
            inner.looked = Some(now);
        }
        is_due
    }
}

impl Inner {
    fn move_to(&mut self, at: (u64, NaiveDate)) {
        if self.at != at {
            self.answers.clear();
            (self.at, self.bytes) = (at, 0);
        }
    }

    fn keep(&mut self, at: (u64, NaiveDate), key: (What, String, String), answer: Answer) {
        // The file may have changed while the answer was made: then it is true no more.
        if self.at != at {
            return;
        }
        if self.bytes + answer.body.len() > BYTES_MOST {
            self.answers.clear();
            self.bytes = 0;
        }
        self.bytes += answer.body.len();
        self.answers.insert(key, answer);
    }
}

/// The kept answer, or the one that `make` gives, which is kept then; refusals never are, so that
/// guessing fills nothing. `host` is what the answer depends on besides the link, empty where it does not.
pub(super) async fn answer(
    state: &ShareState,
    what: What,
    token: &str,
    host: &str,
    make: impl AsyncFnOnce() -> Result<Answer, Refused>,
) -> Result<Answer, Refused> {
    if state.kept.is_due() {
        state.reader.look().await.map_err(AppError::from)?;
    }
    // Before anything is read: what is written from now on makes the answer untrue.
    let at = (state.reader.changes(), state.clock.today());
    let key = (what, token.to_owned(), host.to_owned());
    {
        let mut inner = state.kept.lock();
        inner.move_to(at);
        if let Some(found) = inner.answers.get(&key) {
            return Ok(found.clone());
        }
    }
    let fresh = make().await?;
    state.kept.lock().keep(at, key, fresh.clone());
    Ok(fresh)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer_of(size: usize) -> Answer {
        Answer::calendar("x".repeat(size))
    }

    #[test]
    fn a_change_or_another_day_lets_every_answer_go() {
        let mut inner = Inner::default();
        let day = NaiveDate::default();
        let key = |token: &str| (What::Page, token.to_owned(), String::new());
        inner.move_to((1, day));
        inner.keep((1, day), key("a"), answer_of(3));
        inner.move_to((1, day));
        assert_eq!((inner.answers.len(), inner.bytes), (1, 3));
        inner.move_to((2, day));
        assert_eq!((inner.answers.len(), inner.bytes), (0, 0));
        inner.keep((1, day), key("late"), answer_of(3));
        assert!(inner.answers.is_empty(), "it was made before the change");
        inner.keep((2, day), key("a"), answer_of(3));
        inner.move_to((2, day.succ_opt().unwrap()));
        assert!(inner.answers.is_empty());
    }

    #[test]
    fn what_is_kept_has_a_limit() {
        let mut inner = Inner::default();
        for number in 0..40 {
            inner.keep(inner.at, (What::Page, number.to_string(), String::new()), answer_of(BYTES_MOST / 16));
            assert!(inner.bytes <= BYTES_MOST && inner.answers.len() <= 16);
        }
    }

    #[test]
    fn equal_bytes_have_equal_tags() {
        assert_eq!(answer_of(5).tag, answer_of(5).tag);
        assert_ne!(answer_of(5).tag, answer_of(6).tag);
    }
}

//! The base week: what an athlete really does.

mod borrow;
mod form;
mod offered;
mod reading;
mod show;

use axum::Router;
use axum::routing::{get, post};

use crate::paths;
use crate::state::AppState;

pub(crate) use offered::{Answer, Offered, Taken};
pub(crate) use reading::{control, or_rest, weekdays, written};
pub(crate) use show::LINE_MOST;
#[cfg(test)]
pub(crate) use {form::FormPage, show::ShowPage};

/// Lines of a day with what they mean, for whoever types one for the first time. Each can be typed as it stands.
pub(crate) const EXAMPLES: [(&str, &str); 14] = [
    ("7", "an easy run of 7, in the athlete's unit"),
    ("50-60 min", "an easy run by time; a range is fine everywhere"),
    ("1:30 easy", "1 h 30 min"),
    ("6 x 800 m 10k pace, 90 s jog, 10-11 km", "intervals: the repetitions, the recovery, the whole run"),
    ("2 km warm up, 6 x 800 m, 2 km cool down", "the same by its parts; the whole run is their sum, 8.8 km"),
    ("15 min wu, 5 x 1 km, 10 min cd, 11 km", "parts in two units: the whole run stands behind them"),
    ("tempo 9 km, hard 4", "of which 4 km are hard"),
    ("12 km with 6 km @ MP", "race pace 12 km, of which 6 are hard; w/ and incl. say the same"),
    ("16 km, last 5 km at marathon pace", "the same, at the end"),
    ("2 km warm up, tempo 5 km, 2 km cool down", "9 km, of which 5 are hard"),
    ("3 km easy, 6 km tempo, 3 km easy", "12 km, of which 6 are hard"),
    ("5 + strength 30, loaded", "two sessions; strength and mobility count in minutes"),
    ("AM 6, PM 8 easy", "two runs of a day"),
    ("tempo or hills 9 (with the club)", "one of two, and a note in brackets"),
];

/// Every page and form of base weeks.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route(paths::WEEK, get(show::get).post(show::post))
        .route(paths::WEEK_PREVIEW, post(show::preview))
        .route(paths::WEEK_FIT, post(show::fit))
        .route(paths::WEEK_BORROW, post(borrow::post))
        .route(paths::WEEK_FORM, get(form::get).post(form::post))
}

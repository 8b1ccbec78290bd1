//! The athlete's page: today first, then the rest of the block.

use askama::Template;
use axum::extract::State;
use axum::response::Response;
use chrono::NaiveDate;
use store::SharedBlock;

use super::kept::{self, Answer, What};
use super::{Host, Refused, Token};
use crate::blocks::lines;
use crate::blocks::picture::Picture;
use crate::blocks::sheet::Sheet;
use crate::blocks::view::{DayView, Reader};
use crate::clock::Clock;
use crate::error::AppError;
use crate::paths;
use crate::render::Page;
use crate::state::ShareState;

/// One block as its athlete sees it.
#[derive(Template)]
#[template(path = "share/show.html")]
pub(crate) struct SharedPage {
    sheet: Sheet,
    picture: Picture,
    to_go: String,
    today: Today,
    print: String,
    calendar: String,
    /// The same for a calendar that follows it: `webcal:` opens the phone's calendar.
    follow: String,
}

/// What stands on top.
enum Today {
    /// Nothing of the block is told yet.
    Before,
    /// A day of the block.
    Day(Box<DayView>),
    /// The race is over.
    After,
}

impl SharedPage {
    fn new(shared: &SharedBlock, (token, host): (&str, &str), today: NaiveDate, clock: Clock) -> Self {
        // Of a race called off no day is today: nothing leads to it any more.
        let day = Some(today).filter(|_| shared.called_off.is_none());
        let reader = reader(shared, day);
        let mut sheet = Sheet::of_shared(shared, reader, clock);
        sheet.race_comes_first = (0..=1).contains(&(shared.race.date - today).num_days());
        let picture = sheet.picture(&shared.block, reader);
        let found = sheet.weeks.iter().flat_map(|week| &week.days).find(|day| day.today).cloned();
        let today_is = match found {
            Some(day) => Today::Day(Box::new(day)),
            None if today > shared.race.date => Today::After,
            None => Today::Before,
        };
        Self {
            to_go: lines::days_to_go(shared.race.date, today),
            today: today_is,
            print: paths::shared_print(token),
            calendar: paths::shared_calendar(token),
            follow: format!("webcal://{host}{}", paths::shared_calendar(token)),
            sheet,
            picture,
        }
    }
}

impl Page for SharedPage {
    #[cfg(test)]
    fn samples() -> Vec<Self> {
        use crate::blocks::sample;
        let page = |kept: sample::Sample, now: &str| {
            let clock = Clock::fixed(now.parse().expect("an instant"));
            let link = ("3f1c2e8a5b7d4c60a1f2e3d4c5b6a798", "192.168.1.20:4651");
            Self::new(&sample::shared(&kept), link, clock.today(), clock)
        };
        let off = {
            let clock = Clock::fixed("2027-05-04T08:00:00Z".parse().expect("an instant"));
            let day = Some(clock.today());
            let shared = SharedBlock { called_off: day, ..sample::shared(&sample::ten_k()) };
            Self::new(&shared, ("3f1c2e8a5b7d4c60a1f2e3d4c5b6a798", "192.168.1.20:4651"), clock.today(), clock)
        };
        vec![
            page(sample::ten_k(), "2027-05-04T08:00:00Z"),
            page(sample::marathon(), "2027-05-11T08:00:00Z"),
            page(sample::marathon(), "2027-04-05T08:00:00Z"),
            page(sample::timed_half(), "2027-04-25T08:00:00Z"),
            page(sample::ten_k(), "2027-05-10T08:00:00Z"),
            off,
        ]
    }
}

/// `GET /p/{token}`
pub(crate) async fn get(
    State(state): State<ShareState>,
    Token(token): Token,
    Host(host): Host,
) -> Result<Response, Refused> {
    let answer = kept::answer(&state, What::Page, &token, &host, async || {
        let shared = read(&state, &token).await?;
        Answer::page(&SharedPage::new(&shared, (&token, &host), state.clock.today(), state.clock))
    });
    Ok(answer.await?.response())
}

/// What a token shows; an unknown, an ended and a revoked one are all "not found".
pub(super) async fn read(state: &ShareState, token: &str) -> Result<SharedBlock, Refused> {
    let found = state.reader.shared(token, state.clock.today()).await.map_err(AppError::from)?;
    Ok(found.ok_or(AppError::NotFound)?)
}

/// The athlete reads in the athlete's units.
pub(crate) fn reader(shared: &SharedBlock, today: Option<NaiveDate>) -> Reader {
    Reader { units: shared.units, today, pace: shared.block.pace }
}

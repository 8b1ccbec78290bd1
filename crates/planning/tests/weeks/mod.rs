//! A runner with a race, ready to be planned for.

#![expect(clippy::expect_used, reason = "a test helper stops where its own data is wrong")]

mod how_many;

use chrono::NaiveDate;
use planning::{Athlete, BaseWeek, Block, Importance, Pin, Race, RaceDistance, Request, Settings, plan};

pub(crate) use how_many::cases;

/// A runner with a race: everything a default block needs.
#[derive(Clone, Debug)]
pub(crate) struct Runner {
    pub(crate) athlete: Athlete,
    pub(crate) week: BaseWeek,
    pub(crate) race: Race,
}

impl Runner {
    pub(crate) fn request<'a>(&'a self, settings: &'a Settings, pins: &'a [Pin]) -> Request<'a> {
        Request { pins, ..Request::new(&self.athlete, &self.week, &self.race, settings) }
    }

    pub(crate) fn block(&self) -> Block {
        plan(&self.request(&Settings::default(), &[])).expect("a runner whom nobody would refuse")
    }
}

pub(crate) fn monday() -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, 5, 3).expect("a day of the calendar")
}

pub(crate) fn race_on(date: NaiveDate, distance: RaceDistance) -> Race {
    Race { name: "Goal race".into(), date, distance, start: None, zone: None, importance: Importance::Goal }
}

//! Requests and blocks in a coach's words, for tests that read like a plan on a wall.

#![expect(clippy::expect_used, clippy::panic, reason = "a test helper stops where its own data is wrong")]

use chrono::{Datelike, Days, NaiveDate, Weekday};
use planning::notation::{read_day, read_week, write_day};
use planning::{
    Athlete, Block, Day, DistanceUnit, Importance, Pin, Planned, Problem, Race, RaceDistance, Request, Role, Session,
    Settings, Slot, plan,
};

/// A request in the making: a week, Monday first, its days parted by `|`, and a race on Sunday.
#[derive(Clone, Debug)]
pub(crate) struct Coach {
    pub(crate) athlete: Athlete,
    pub(crate) week: planning::BaseWeek,
    pub(crate) race: Race,
    pub(crate) settings: Settings,
    pub(crate) pins: Vec<Pin>,
    pub(crate) today: Option<NaiveDate>,
}

/// Longer than a marathon.
pub(crate) const FIFTY_KM: RaceDistance = RaceDistance::Own(planning::Milli::whole(50), DistanceUnit::Km);

pub(crate) fn before(distance: RaceDistance, week: &str) -> Coach {
    let lines: Vec<&str> = week.split('|').collect();
    let lines = lines.try_into().expect("seven days");
    let week = read_week(&lines, "", DistanceUnit::Km).unwrap_or_else(|problems| panic!("{week}: {problems:?}"));
    let date = NaiveDate::from_ymd_opt(2027, 5, 9).expect("a Sunday");
    let race = Race { name: "Goal".into(), date, distance, start: None, zone: None, importance: Importance::Goal };
    Coach {
        athlete: Athlete { name: "A. Runner".into(), ..Athlete::default() },
        week,
        race,
        settings: Settings::default(),
        pins: Vec::new(),
        today: None,
    }
}

/// A block whose curve leaves nearly all, so that only the other bounds are seen.
pub(crate) fn hardly_cut(coach: Coach, days: u8) -> Coach {
    coach.set(|settings| {
        settings.days = Some(days);
        settings.curve = Some(4.0);
        settings.floor = Some(0.9);
    })
}

impl Coach {
    /// The race on another weekday of the same week.
    pub(crate) fn on(mut self, weekday: Weekday) -> Self {
        let monday = NaiveDate::from_ymd_opt(2027, 5, 3).expect("a Monday");
        self.race.date = monday + Days::new(u64::from(weekday.num_days_from_monday()));
        self
    }

    pub(crate) fn aged(mut self, age: i32) -> Self {
        self.athlete.birth_year = Some(self.race.date.year() - age);
        self
    }

    pub(crate) fn set(mut self, change: impl Fn(&mut Settings)) -> Self {
        change(&mut self.settings);
        self
    }

    pub(crate) fn suits(mut self, change: impl Fn(&mut planning::Suits)) -> Self {
        change(&mut self.athlete.suits);
        self
    }

    /// Fixes a day so many days before the race.
    pub(crate) fn pin(mut self, to_race: u64, line: &str) -> Self {
        let slots = read_day(line, DistanceUnit::Km).expect("a day of the trade");
        let sessions = slots.iter().map(|slot| slot.chosen().clone()).collect();
        self.pins.push(Pin::plain(self.race.date - Days::new(to_race), sessions));
        self
    }

    pub(crate) fn plan(&self) -> Result<Block, Vec<Problem>> {
        plan(&Request {
            today: self.today,
            pins: &self.pins,
            ..Request::new(&self.athlete, &self.week, &self.race, &self.settings)
        })
    }

    pub(crate) fn block(&self) -> Block {
        self.plan().unwrap_or_else(|problems| panic!("{problems:?}"))
    }

    /// One planned day in words: `key tempo 5 km, hard 2 km`, `easy 6 km with strides`, `shake-out 3 km`, `rest`.
    pub(crate) fn day(&self, to_race: u16) -> String {
        words(on(&self.block(), to_race))
    }

    /// The reasons that stand beside the sessions of a day, in their short form.
    pub(crate) fn why(&self, to_race: u16) -> Vec<String> {
        let block = self.block();
        let day = on(&block, to_race);
        let planned = day.sessions.iter().flat_map(|planned| &planned.why);
        let dropped = day.dropped.iter().flat_map(|dropped| &dropped.why);
        planned.chain(dropped).map(ToString::to_string).collect()
    }

    /// The days from D6 to D1.
    pub(crate) fn race_week(&self) -> String {
        self.days(6, 1)
    }

    /// Some days in order, parted by ` | `.
    pub(crate) fn days(&self, from: u16, to: u16) -> String {
        let block = self.block();
        (to..=from).rev().map(|to_race| words(on(&block, to_race))).collect::<Vec<_>>().join(" | ")
    }
}

/// The day so many days before the race.
pub(crate) fn on(block: &Block, to_race: u16) -> &Day {
    block.days.iter().find(|day| day.to_race == to_race).expect("a day of the block")
}

fn words(day: &Day) -> String {
    if day.sessions.is_empty() {
        return "rest".to_owned();
    }
    day.sessions.iter().map(planned_words).collect::<Vec<_>>().join(" + ")
}

fn planned_words(planned: &Planned) -> String {
    let session = session_words(&planned.session);
    match planned.role {
        Role::Plain => session,
        Role::Key => format!("key {session}"),
        Role::ShakeOut => format!("shake-out {session}"),
        Role::OtherRace => format!("race {session}"),
        Role::EasyWithStrides => format!("{session} with strides"),
        Role::EasyWithRacePace => format!("{session} with race pace"),
    }
}

fn session_words(session: &Session) -> String {
    write_day(&[Slot::one(session.clone())])
}

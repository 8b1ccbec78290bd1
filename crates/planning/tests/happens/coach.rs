//! A coach's words for tests: weeks, races, what happens, and how much is left.

#![expect(clippy::expect_used, clippy::panic, reason = "a test helper stops where its own data is wrong")]

use chrono::{Days, NaiveDate};
use planning::notation::{read_week, write_day};
use planning::review::Subject;
use planning::{
    Athlete, BaseWeek, Block, Day, DistanceUnit, EventKind, Happened, Importance, LifeEvent, Pace, Race, RaceDistance,
    Request, Role, Settings, Slot, plan, replan,
};

/// An athlete with a week and a race.
#[derive(Clone, Debug)]
pub(crate) struct Plan {
    pub(crate) athlete: Athlete,
    pub(crate) week: BaseWeek,
    pub(crate) race: Race,
    pub(crate) others: Vec<Race>,
    pub(crate) settings: Settings,
    pub(crate) events: Vec<LifeEvent>,
}

pub(crate) fn day(text: &str) -> NaiveDate {
    text.parse().expect("a day of the calendar")
}

pub(crate) fn race(date: &str, distance: RaceDistance, importance: Importance) -> Race {
    Race { name: "Invented race".into(), date: day(date), distance, start: None, zone: None, importance }
}

/// A week of seven days, Monday first, parted by `|`, in kilometres, and a goal race.
pub(crate) fn before(date: &str, distance: RaceDistance, week: &str) -> Plan {
    before_in(DistanceUnit::Km, date, distance, week)
}

pub(crate) fn before_in(units: DistanceUnit, date: &str, distance: RaceDistance, week: &str) -> Plan {
    let lines: Vec<&str> = week.split('|').collect();
    let lines = lines.try_into().expect("seven days");
    let week = read_week(&lines, "", units).unwrap_or_else(|problems| panic!("{week}: {problems:?}"));
    Plan {
        athlete: Athlete { name: "A. Runner".into(), units, ..Athlete::default() },
        week,
        race: race(date, distance, Importance::Goal),
        others: Vec::new(),
        settings: Settings::default(),
        events: Vec::new(),
    }
}

impl Plan {
    pub(crate) fn other(mut self, date: &str, distance: RaceDistance, importance: Importance) -> Self {
        self.others.push(race(date, distance, importance));
        self
    }

    /// Something from one day to another, known since its first day.
    pub(crate) fn event(self, kind: EventKind, from: &str, to: &str) -> Self {
        let noted = from.to_owned();
        self.event_noted(kind, from, to, &noted)
    }

    pub(crate) fn event_noted(mut self, kind: EventKind, from: &str, to: &str, noted: &str) -> Self {
        self.events.push(LifeEvent { kind, from: day(from), to: day(to), noted: day(noted), open: false });
        self
    }

    pub(crate) fn request(&self) -> Request<'_> {
        Request { other_races: &self.others, ..Request::new(&self.athlete, &self.week, &self.race, &self.settings) }
    }

    /// The plan without what happened.
    pub(crate) fn plan(&self) -> Block {
        plan(&self.request()).unwrap_or_else(|problems| panic!("{problems:?}"))
    }

    /// The plan under what happened.
    pub(crate) fn block(&self) -> Block {
        let happened = Happened { events: &self.events, excess: None };
        replan(&self.plan(), &self.athlete, &self.week, &happened).unwrap_or_else(|problems| panic!("{problems:?}"))
    }

    pub(crate) fn findings(&self, block: &Block) -> Vec<planning::Finding> {
        planning::review(&Subject {
            other_races: &self.others,
            events: &self.events,
            ..Subject::new(block, &self.athlete, &self.week)
        })
    }
}

/// The running of some days in kilometres, minutes at ten an hour.
pub(crate) fn km<'a>(days: impl IntoIterator<Item = &'a Day>) -> f64 {
    days.into_iter().map(|day| day.planned_running().middle_km(Pace::ASSUMED)).sum()
}

/// The days from one to another days-to-race, both inside, the farther first.
pub(crate) fn between(block: &Block, from: u16, to: u16) -> impl Iterator<Item = &Day> {
    block.days.iter().filter(move |day| (to..=from).contains(&day.to_race))
}

pub(crate) fn on<'a>(block: &'a Block, date: &str) -> &'a Day {
    block.day(day(date)).unwrap_or_else(|| panic!("{date} is in the block"))
}

pub(crate) fn is_hard(day: &Day) -> bool {
    day.sessions.iter().any(|planned| planned.session.is_hard())
}

/// A day in words: `easy 6 km`, `rest`.
pub(crate) fn words(day: &Day) -> String {
    if day.sessions.is_empty() {
        return "rest".to_owned();
    }
    let one = |planned: &planning::Planned| {
        let line = write_day(&[Slot::one(planned.session.clone())]);
        if planned.role == Role::EasyWithStrides { format!("{line} with strides") } else { line }
    };
    day.sessions.iter().map(one).collect::<Vec<_>>().join(" + ")
}

/// Every day from D so many to the race, for a message.
pub(crate) fn wall(block: &Block) -> String {
    let line = |day: &Day| format!("{} D{}: {}", day.date, day.to_race, words(day));
    block.days.iter().map(line).collect::<Vec<_>>().join("\n")
}

pub(crate) fn days_before(race: &Race, days: u64) -> NaiveDate {
    race.date - Days::new(days)
}

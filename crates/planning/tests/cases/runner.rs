//! A runner before a race, and what holds for every block.

#![expect(clippy::expect_used, clippy::panic, reason = "a test helper stops where its own data is wrong")]

use chrono::{Days, NaiveDate};
use planning::notation::read_week;
use planning::review::Subject;
use planning::{
    Amount, Athlete, BaseWeek, Block, Day, DistanceUnit, Event, Finding, Importance, Milli, Pace, Pin, Race,
    RaceDistance, Request, Role, RuleId, Session, Settings, Unit, plan,
};

#[derive(Clone, Debug)]
pub(crate) struct Runner {
    pub(crate) athlete: Athlete,
    pub(crate) week: BaseWeek,
    pub(crate) race: Race,
    pub(crate) settings: Settings,
    pub(crate) pins: Vec<Pin>,
}

/// A week, Monday first, its days parted by `|`, and a goal race on Sunday, 9 May 2027.
pub(crate) fn runner(units: DistanceUnit, distance: RaceDistance, week: &str) -> Runner {
    let lines: Vec<&str> = week.split('|').collect();
    let lines = lines.try_into().expect("seven days");
    let week = read_week(&lines, "", units).unwrap_or_else(|problems| panic!("{week}: {problems:?}"));
    let date = NaiveDate::from_ymd_opt(2027, 5, 9).expect("a Sunday");
    Runner {
        athlete: Athlete { name: "A. Runner".into(), units, ..Athlete::default() },
        week,
        race: Race { name: "Invented".into(), date, distance, start: None, zone: None, importance: Importance::Goal },
        settings: Settings::default(),
        pins: Vec::new(),
    }
}

impl Runner {
    pub(crate) fn days(mut self, days: u8) -> Self {
        self.settings.days = Some(days);
        self
    }

    /// The same with some days fixed, said by their days to race.
    pub(crate) fn fixed(mut self, days: &[(u64, &str)]) -> Self {
        let pin = |(to_race, line): &(u64, &str)| {
            let slots = planning::notation::read_day(line, self.athlete.units).expect("a day");
            let sessions = slots.iter().map(|slot| slot.chosen().clone()).collect();
            Pin::plain(self.race.date - Days::new(*to_race), sessions)
        };
        self.pins = days.iter().map(pin).collect();
        self
    }

    pub(crate) fn aged(mut self, age: i32) -> Self {
        self.athlete.birth_year = Some(2027 - age);
        self
    }

    /// Race and week moved together by so many days: every session keeps its distance to the race.
    pub(crate) fn on_every_weekday(&self) -> impl Iterator<Item = Self> {
        (0..7_usize).map(|by| {
            let days: Vec<_> = planning::week::WEEKDAYS.map(|weekday| self.week.day(weekday).to_vec()).to_vec();
            let moved: Vec<_> = (0..7).map(|index| days[(index + 7 - by) % 7].clone()).collect();
            let mut other = self.clone();
            other.week = BaseWeek::new(moved.try_into().expect("seven days"), None);
            other.race.date = self.race.date + Days::new(by as u64);
            other
        })
    }

    /// The same runner with more or less running.
    pub(crate) fn at_percent(&self, percent: i32) -> Self {
        let total = self.week.running().parts()[0];
        let wanted = Amount::exact(Milli(total.middle().0 / 100 * percent), total.unit());
        Self { week: planning::fit::scaled_to(&self.week, wanted, None), ..self.clone() }
    }

    pub(crate) fn request(&self) -> Request<'_> {
        Request { pins: &self.pins, ..Request::new(&self.athlete, &self.week, &self.race, &self.settings) }
    }

    /// The block, of which everything holds that always holds.
    pub(crate) fn block(&self) -> Block {
        let block = self.block_as_is();
        check(self, &block);
        block
    }

    /// The block, whatever holds of it.
    pub(crate) fn block_as_is(&self) -> Block {
        plan(&self.request()).unwrap_or_else(|problems| panic!("{problems:?}"))
    }

    pub(crate) fn findings(&self, block: &Block) -> Vec<Finding> {
        planning::review(&Subject::new(block, &self.athlete, &self.week))
    }

    pub(crate) fn says(&self, rule: RuleId) -> bool {
        self.findings(&self.block()).iter().any(|finding| finding.rule == rule)
    }
}

/// What holds for every block: the routine stays, weeks fall, no run is longer than the longest, hard
/// sessions keep their pace and stay away from the last days, totals are the sums of their days.
fn check(runner: &Runner, block: &Block) {
    let all = runner.week.sessions().map(|(_, session)| session.running_middle());
    let longest = all.max().unwrap_or_default();
    for week in block.weeks() {
        let days = block.days.iter().filter(|day| (week.from..=week.to).contains(&day.date));
        let sum: planning::Totals = days.flat_map(|day| day.planned_running().parts().to_vec()).collect();
        assert_eq!(sum, week.planned, "totals are the sums of the days");
        if week.before > 0 {
            assert!(week.run_days * 5 >= week.usual_run_days * 4, "the routine stays\n{}", show(block));
        }
    }
    for pair in block.weeks().windows(2) {
        assert!(km(&pair[1].planned) <= km(&pair[0].planned) + 0.01, "weeks fall\n{}", show(block));
    }
    for (day, session) in sessions(block) {
        assert!(session.running_middle() <= longest || session.running().is_none(), "{}", show(block));
        let last = if block.event >= Event::Half { 3 } else { 2 };
        let is_a_third = day.to_race == 3;
        assert!(day.to_race > last || !session.is_hard() || is_a_third, "D{}\n{}", day.to_race, show(block));
    }
    for planned in block.days.iter().flat_map(|day| &day.sessions).filter(|planned| planned.session.is_hard()) {
        let paces = |session: &Session| -> Vec<String> {
            session.sets.iter().map(|line| format!("{} {}", line.pace, line.recovery)).collect()
        };
        let known: Vec<_> = runner.week.sessions().map(|(_, session)| paces(session)).collect();
        let now = paces(&planned.session);
        assert!(known.iter().any(|usual| usual.starts_with(&now)), "the pace stays\n{}", show(block));
    }
}

pub(crate) fn sessions(block: &Block) -> impl Iterator<Item = (&Day, &Session)> {
    block.days.iter().flat_map(|day| day.sessions.iter().map(move |planned| (day, &planned.session)))
}

pub(crate) fn on(block: &Block, to_race: u16) -> &Day {
    block.days.iter().find(|day| day.to_race == to_race).expect("a day of the block")
}

fn km(totals: &planning::Totals) -> f64 {
    totals.middle_km(Pace::ASSUMED)
}

/// Planned running of some days before the race, in one unit; nothing may be in another.
pub(crate) fn sum(block: &Block, days: std::ops::RangeInclusive<u16>, unit: Unit) -> f64 {
    let days = block.days.iter().filter(|day| days.contains(&day.to_race));
    let totals: planning::Totals = days.flat_map(|day| day.planned_running().parts().to_vec()).collect();
    assert!(totals.parts().iter().all(|part| part.unit() == unit), "only {}", unit.symbol());
    totals.of(unit).middle().as_f64()
}

/// The running of a day in its own unit.
pub(crate) fn of(block: &Block, to_race: u16) -> f64 {
    on(block, to_race).planned_running().parts().iter().map(|part| part.middle().as_f64()).sum()
}

/// The hard running of a day in its own unit.
pub(crate) fn hard(block: &Block, to_race: u16) -> f64 {
    let hard = on(block, to_race).sessions.iter().filter(|planned| planned.session.is_hard());
    hard.map(|planned| planned.session.hard_middle().as_f64()).sum()
}

pub(crate) fn key_day(block: &Block) -> Option<u16> {
    let is_key = |day: &&Day| day.sessions.iter().any(|planned| planned.role == Role::Key);
    block.days.iter().find(is_key).map(|day| day.to_race)
}

#[track_caller]
pub(crate) fn within(value: f64, low: f64, high: f64, block: &Block) {
    assert!((low..=high).contains(&value), "{value} not in {low} to {high}\n{}", show(block));
}

pub(crate) fn show(block: &Block) -> String {
    use std::fmt::Write;
    let mut text = format!("{:?}\n", block.curve);
    for day in &block.days {
        let line = |sessions: Vec<&Session>| {
            let slots: Vec<_> = sessions.into_iter().cloned().map(planning::Slot::one).collect();
            planning::notation::write_day(&slots)
        };
        let planned: Vec<&Session> = day.sessions.iter().map(|planned| &planned.session).collect();
        let _ = writeln!(text, "D{}: {} -> {}", day.to_race, line(day.usual.iter().collect()), line(planned));
    }
    text
}

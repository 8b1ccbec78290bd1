//! A base week and its block for the tests of the rules, bent day by day until a rule speaks.

use std::fmt::Write;

use chrono::NaiveDate;

use super::{About, ClockShift, Figure, Finding, RuleId, Subject, review};
use crate::athlete::Athlete;
use crate::block::{Block, Pin, Planned, Request, Role, plan};
use crate::curve::Settings;
use crate::life::{EventKind, LifeEvent};
use crate::notation::{read_day, read_week};
use crate::race::{Importance, Race, RaceDistance};
use crate::units::{DistanceUnit, Share};
use crate::week::BaseWeek;

/// Four runs and 40 km a week: Tuesday hard, the longest run, two fifths of the week, on Sunday.
pub(super) const WEEK: &str = "rest | tempo 9, hard 4 | rest | easy 8 | rest | easy 7 | long 16";

/// An athlete before a race on Sunday, 9 May 2027, with a block that can be bent.
pub(super) struct Sample {
    pub(super) athlete: Athlete,
    pub(super) week: BaseWeek,
    pub(super) race: Race,
    pub(super) other_races: Vec<Race>,
    pub(super) block: Block,
    pub(super) events: Vec<LifeEvent>,
    pub(super) ran: Option<Share>,
    pub(super) clock_shift: Option<ClockShift>,
    pub(super) made: Option<u16>,
}

impl Sample {
    /// The default block of a week, Monday first, its days parted by `|`.
    pub(super) fn new(week: &str, distance: RaceDistance) -> Self {
        Self::of(Athlete { name: "A. Runner".into(), ..Athlete::default() }, week, distance)
    }

    /// The default block of an athlete.
    pub(super) fn of(athlete: Athlete, week: &str, distance: RaceDistance) -> Self {
        Self::planned(athlete, week, distance, &Settings::default())
    }

    /// The default block of a week but for its length.
    pub(super) fn long(week: &str, distance: RaceDistance, days: u8) -> Self {
        let athlete = Athlete { name: "A. Runner".into(), ..Athlete::default() };
        Self::planned(athlete, week, distance, &Settings { days: Some(days), ..Settings::default() })
    }

    fn planned(athlete: Athlete, week: &str, distance: RaceDistance, settings: &Settings) -> Self {
        let lines: Vec<&str> = week.split('|').collect();
        let week = read_week(&lines.try_into().expect("seven days"), "", athlete.units).expect("a week of the trade");
        let race = race_on(NaiveDate::from_ymd_opt(2027, 5, 9).expect("a Sunday"), distance, Importance::Goal);
        let request = Request {
            today: None,
            athlete: &athlete,
            week: &week,
            race: &race,
            settings,
            pins: &[],
            other_races: &[],
            begun: None,
        };
        let block = plan(&request).expect("a block");
        Self {
            athlete,
            week,
            race,
            other_races: Vec::new(),
            block,
            events: Vec::new(),
            ran: None,
            clock_shift: None,
            made: None,
        }
    }

    /// Every day before the race as usual.
    pub(super) fn uncut(mut self) -> Self {
        for day in self.block.days.iter_mut().filter(|day| day.to_race > 0) {
            day.sessions = day
                .usual
                .iter()
                .map(|usual| Planned {
                    session: usual.clone(),
                    usual: Some(usual.clone()),
                    role: Role::Plain,
                    why: Vec::new(),
                })
                .collect();
        }
        self
    }

    /// Another day so many days before the race: its sessions stand in the usual ones' places.
    pub(super) fn with(mut self, to_race: u16, line: &str) -> Self {
        let slots = read_day(line, self.athlete.units).expect("a day of the trade");
        let day = self.block.days.iter_mut().find(|day| day.to_race == to_race).expect("a day of the block");
        day.sessions = slots
            .iter()
            .enumerate()
            .map(|(place, slot)| Planned {
                session: slot.chosen().clone(),
                usual: day.usual.get(place).cloned(),
                role: Role::Plain,
                why: Vec::new(),
            })
            .collect();
        self
    }

    /// The block planned anew with some days fixed.
    pub(super) fn pinned(mut self, days: &[(u16, &str)]) -> Self {
        let pins: Vec<Pin> = days
            .iter()
            .map(|(to_race, line)| {
                let slots = read_day(line, self.athlete.units).expect("a day of the trade");
                let sessions = slots.iter().map(|slot| slot.chosen().clone()).collect();
                Pin::plain(self.race.date - chrono::Days::new(u64::from(*to_race)), sessions)
            })
            .collect();
        let request = Request {
            today: None,
            athlete: &self.athlete,
            week: &self.week,
            race: &self.race,
            settings: &Settings::default(),
            pins: &pins,
            other_races: &[],
            begun: None,
        };
        self.block = plan(&request).expect("a block");
        self
    }

    /// Rest on these days.
    pub(super) fn resting(self, days: impl IntoIterator<Item = u16>) -> Self {
        days.into_iter().fold(self, |sample, to_race| sample.with(to_race, "rest"))
    }

    /// Another race of the athlete, so many days before this one (after it where negative).
    pub(super) fn other(mut self, days_before: i64, distance: RaceDistance, importance: Importance) -> Self {
        let date = self.race.date - chrono::TimeDelta::days(days_before);
        self.other_races.push(race_on(date, distance, importance));
        self
    }

    /// Something that happened, from and to so many days before the race, noted on its first day.
    pub(super) fn event(mut self, kind: EventKind, from: i64, to: i64) -> Self {
        let date = |before: i64| self.race.date - chrono::TimeDelta::days(before);
        self.events.push(LifeEvent { kind, from: date(from), to: date(to), noted: date(from), open: false });
        self
    }

    /// Everything that the review finds.
    pub(super) fn findings(&self) -> Vec<Finding> {
        review(&self.subject())
    }

    pub(super) fn subject(&self) -> Subject<'_> {
        Subject {
            block: &self.block,
            athlete: &self.athlete,
            week: &self.week,
            other_races: &self.other_races,
            events: &self.events,
            ran: self.ran,
            clock_shift: self.clock_shift,
            made: self.made,
        }
    }

    /// What one rule says, each in short: level, figure, limit, day and detail.
    pub(super) fn says(&self, rule: RuleId) -> Vec<String> {
        self.findings().iter().filter(|finding| finding.rule == rule).map(|finding| self.short(finding)).collect()
    }

    fn short(&self, finding: &Finding) -> String {
        let mut text = format!("{}: {} for {}", finding.level.code(), figure(finding.figure), figure(finding.limit));
        if let Some(date) = finding.date {
            let _ = write!(text, " on D{}", (self.race.date - date).num_days());
        }
        let about = about(&finding.about);
        if !about.is_empty() {
            let _ = write!(text, " ({about})");
        }
        text
    }
}

fn about(about: &About) -> String {
    match about {
        About::Nothing | About::RaceWeek => String::new(),
        About::Race(name) | About::Noted(name) => name.clone(),
        About::Event { kind, open } => {
            let what = if kind.has_fever() { "fever" } else { kind.code() };
            if *open { format!("{what}, no end noted") } else { what.to_owned() }
        }
        About::OnTheWay => "on the way".to_owned(),
        About::HardAfter(kind) => format!("hard after {}", kind.code()),
        About::Kind(kind) => kind.code().to_owned(),
        About::SecondRun => "second run".to_owned(),
    }
}

fn race_on(date: NaiveDate, distance: RaceDistance, importance: Importance) -> Race {
    Race { name: "Goal race".into(), date, distance, start: None, zone: None, importance }
}

fn figure(figure: Figure) -> String {
    match figure {
        Figure::None => "nothing".to_owned(),
        Figure::Share(share) => format!("{:.1} %", share.0 * 100.0),
        Figure::Days(days) => format!("{days} days"),
        Figure::Count(count) => count.to_string(),
        Figure::Amount(value, unit) => format!("{value:.2} {}", unit.symbol()),
    }
}

/// A distance longer than a marathon.
pub(super) const FIFTY_KM: RaceDistance = RaceDistance::Own(crate::units::Milli::whole(50), DistanceUnit::Km);

/// What a rule says that has nothing to say.
pub(super) const SILENT: [&str; 0] = [];

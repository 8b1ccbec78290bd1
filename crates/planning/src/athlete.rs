//! What a plan needs to know of the athlete.

use chrono::{Datelike, NaiveDate, Weekday};

use crate::curve::{DayBefore, LENGTHS};
use crate::problem::{Field, Problem, ProblemKind};
use crate::units::{DistanceUnit, Pace};

/// The athlete, as far as planning goes.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Athlete {
    /// As the squad calls them.
    pub name: String,
    /// The units of this athlete's sheets and pages.
    pub units: DistanceUnit,
    /// Pace of easy running: only to convert minutes and distance.
    pub easy_pace: Option<Pace>,
    /// Year of birth: age is taken as the age reached in the race's year.
    pub birth_year: Option<i32>,
    /// The time zone where the athlete lives by its IANA name; checked where zones are known (`formats`).
    pub home_zone: Option<String>,
    /// Cautions in the coach's words; never on a shared page.
    pub cautions: Vec<String>,
    /// What the coach noted as suiting this athlete; overrules the defaults.
    pub suits: Suits,
}

/// What suits an athlete, as far as the coach knows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Suits {
    /// Length of the block in days.
    pub days: Option<u8>,
    /// The day before the race.
    pub day_before: Option<DayBefore>,
    /// Weekday of the extra rest day.
    pub extra_rest: Option<Weekday>,
}

impl Athlete {
    /// The longest name, in characters.
    pub const NAME_MOST: usize = 80;
    /// The longest caution, in characters.
    pub const CAUTION_MOST: usize = 300;
    /// Years of birth that are believed: whoever was born before would be the oldest marathon runner ever, and
    /// nobody is coached in the year after their birth. No clock is asked, so the last one is a year of this
    /// program's making.
    pub const YEARS: std::ops::RangeInclusive<i32> = 1910..=2025;

    /// The age reached in the year of a date.
    pub fn age_in(&self, date: NaiveDate) -> Option<i32> {
        self.birth_year.map(|year| date.year() - year)
    }

    /// Whether the athlete turns less than 18 in the year of a date.
    pub fn is_under_18(&self, date: NaiveDate) -> bool {
        self.age_in(date).is_some_and(|age| age < 18)
    }

    /// What is wrong with a name by which something of an athlete is found again.
    pub fn name_problem(name: &str) -> Option<Problem> {
        let length = name.chars().count();
        let kind = if name.trim().is_empty() {
            ProblemKind::Missing
        } else if length > Self::NAME_MOST {
            ProblemKind::TooLong { length, most: Self::NAME_MOST }
        } else {
            return None;
        };
        Some(Problem::new(Field::AthleteName, kind))
    }

    /// Everything that is wrong with the athlete as typed.
    pub fn problems(&self) -> Vec<Problem> {
        let mut found = Vec::new();
        found.extend(Self::name_problem(&self.name));
        if let Some(year) = self.birth_year.filter(|year| !Self::YEARS.contains(year)) {
            let (from, to) = (*Self::YEARS.start(), *Self::YEARS.end());
            found.push(Problem::new(Field::BirthYear, ProblemKind::YearOutOfRange { year, from, to }));
        }
        if let Some(days) = self.suits.days.filter(|days| !LENGTHS.contains(days)) {
            found.push(Problem::new(
                Field::SuitsDays,
                ProblemKind::OutOfRange {
                    value: f64::from(days),
                    from: f64::from(*LENGTHS.start()),
                    to: f64::from(*LENGTHS.end()),
                },
            ));
        }
        found
    }
}

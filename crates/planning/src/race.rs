//! Races: what the block leads to.

use chrono::{Datelike, NaiveDate, NaiveTime};

use crate::problem::{Field, Problem, ProblemKind};
use crate::units::{Distance, DistanceUnit, Milli};

/// A race distance: one of the standard ones, or the coach's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RaceDistance {
    /// 5,000 m.
    FiveK,
    /// 10,000 m.
    TenK,
    /// 16,093.44 m.
    TenMiles,
    /// 21,097.5 m.
    Half,
    /// 42,195 m.
    Marathon,
    /// Any other, in the unit in which it was typed (see [`RaceDistance::own`]).
    Own(Milli, DistanceUnit),
}

impl RaceDistance {
    /// The shortest and the longest race that is planned for, in kilometres.
    ///
    /// # Source
    ///
    /// Common practice, no published source: nobody tapers for less than 800 m, and more than 400 km
    /// is not run in one go.
    pub const LIMITS_KM: (f64, f64) = (0.8, 400.0);

    /// The standard distances, in order.
    pub const STANDARD: [Self; 5] = [Self::FiveK, Self::TenK, Self::TenMiles, Self::Half, Self::Marathon];

    /// The length of the course.
    ///
    /// # Source
    ///
    /// World Athletics technical rules for the half marathon and the marathon; the international
    /// mile for ten miles.
    pub fn distance(self) -> Distance {
        match self {
            Self::FiveK => Distance::metres(5_000),
            Self::TenK => Distance::metres(10_000),
            Self::TenMiles => Distance::millimetres(16_093_440),
            Self::Half => Distance::millimetres(21_097_500),
            Self::Marathon => Distance::metres(42_195),
            Self::Own(value, unit) => Distance::from_milli(value, unit),
        }
    }

    /// What is wrong with it: a distance that nobody races.
    pub fn problem(self) -> Option<ProblemKind> {
        let km = self.distance().as_km();
        let (from, to) = Self::LIMITS_KM;
        (!(from..=to).contains(&km)).then_some(ProblemKind::DistanceOutOfRange { km })
    }

    /// What is wrong with it as what was run of a race, which may have ended soon after the start.
    pub fn problem_as_run(self) -> Option<ProblemKind> {
        let km = self.distance().as_km();
        let (_, to) = Self::LIMITS_KM;
        (km <= 0.0 || km > to).then_some(ProblemKind::DistanceOutOfRange { km })
    }

    /// The event whose defaults this distance takes.
    ///
    /// # Source
    ///
    /// Borders half-way between the named distances: a convention of ours, no published source.
    pub fn event(self) -> Event {
        let km = self.distance().as_km();
        if km <= 6.5 {
            Event::FiveK
        } else if km <= 17.5 {
            Event::TenK
        } else if km <= 30.0 {
            Event::Half
        } else if km <= 44.0 {
            Event::Marathon
        } else {
            Event::Longer
        }
    }

    /// The name in files: `5k`, `10k`, `10mi`, `half`, `marathon`; nothing for the coach's own.
    pub const fn code(self) -> Option<&'static str> {
        match self {
            Self::FiveK => Some("5k"),
            Self::TenK => Some("10k"),
            Self::TenMiles => Some("10mi"),
            Self::Half => Some("half"),
            Self::Marathon => Some("marathon"),
            Self::Own(..) => None,
        }
    }

    /// The standard distance with this code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::STANDARD.into_iter().find(|distance| distance.code() == Some(code))
    }
}

/// The class of event that decides a block's defaults.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Event {
    /// Up to 5 km.
    FiveK,
    /// 10 km to 10 miles.
    TenK,
    /// Half marathon.
    Half,
    /// Marathon.
    Marathon,
    /// Longer than a marathon.
    Longer,
}

impl Event {
    /// Every event, shortest first.
    pub const ALL: [Self; 5] = [Self::FiveK, Self::TenK, Self::Half, Self::Marathon, Self::Longer];

    /// Whether the rules for "up to 10 miles" hold.
    pub const fn up_to_10_miles(self) -> bool {
        matches!(self, Self::FiveK | Self::TenK)
    }
}

/// How much a race matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Importance {
    /// The block is for this one.
    #[default]
    Goal,
    /// A race inside the preparation, with two lighter days.
    TuneUp,
    /// A race run out of normal training.
    TrainingThrough,
}

impl Importance {
    /// Whether a block leads to such a race. Any other race has its place in the block of the goal race, or is run out of
    /// normal training.
    pub const fn has_block(self) -> bool {
        matches!(self, Self::Goal)
    }

    /// Every importance, most important first.
    pub const ALL: [Self; 3] = [Self::Goal, Self::TuneUp, Self::TrainingThrough];

    /// The name in files and forms.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Goal => "goal",
            Self::TuneUp => "tune-up",
            Self::TrainingThrough => "training-through",
        }
    }

    /// The importance with this code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|importance| importance.code() == code)
    }
}

/// A race in an athlete's calendar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Race {
    /// As the organiser calls it.
    pub name: String,
    /// The day, as the place of the race counts it.
    pub date: NaiveDate,
    /// How far.
    pub distance: RaceDistance,
    /// When it starts, by the clocks of the place.
    pub start: Option<NaiveTime>,
    /// The time zone of the place by its IANA name; checked where zones are known (`formats`).
    pub zone: Option<String>,
    /// How much it matters.
    pub importance: Importance,
}

/// The years in which anything is planned or was run: outside them a date is a slip of the pen.
pub const YEARS: std::ops::RangeInclusive<i32> = 1990..=2190;

/// Whether a date lies in [`YEARS`].
pub(crate) fn is_believed(date: NaiveDate) -> bool {
    YEARS.contains(&date.year())
}

impl Race {
    /// The longest name, in characters.
    pub const NAME_MOST: usize = 120;

    /// Everything that is wrong with the race as typed.
    pub fn problems(&self) -> Vec<Problem> {
        let mut found = Vec::new();
        let length = self.name.chars().count();
        if length > Self::NAME_MOST {
            found.push(Problem::new(Field::RaceName, ProblemKind::TooLong { length, most: Self::NAME_MOST }));
        }
        found.extend(self.distance.problem().map(|kind| Problem::new(Field::RaceDistance, kind)));
        if !is_believed(self.date) {
            found.push(Problem::new(Field::RaceDate, ProblemKind::DateOutOfRange { date: self.date }));
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_standard_distances_have_their_events_and_codes() {
        let events = RaceDistance::STANDARD.map(RaceDistance::event);
        assert_eq!(events, [Event::FiveK, Event::TenK, Event::TenK, Event::Half, Event::Marathon]);
        for distance in RaceDistance::STANDARD {
            assert_eq!(distance.code().and_then(RaceDistance::from_code), Some(distance));
        }
        assert_eq!(RaceDistance::Own(Milli::whole(5), DistanceUnit::Km).code(), None);
    }

    #[test]
    fn borders_between_events_lie_between_the_named_distances() {
        let event = |metres: i32| RaceDistance::Own(Milli(metres), DistanceUnit::Km).event();
        for (most, event_below, event_above) in [
            (6_500, Event::FiveK, Event::TenK),
            (17_500, Event::TenK, Event::Half),
            (30_000, Event::Half, Event::Marathon),
            (44_000, Event::Marathon, Event::Longer),
        ] {
            assert_eq!(event(most), event_below);
            assert_eq!(event(most + 1), event_above);
        }
        assert_eq!(RaceDistance::Own(Milli::whole(4), DistanceUnit::Mi).event(), Event::FiveK);
        assert_eq!(RaceDistance::Own(Milli::whole(5), DistanceUnit::Mi).event(), Event::TenK);
    }
}

//! The days of a block on which an athlete hears from the coach.

use chrono::{Days, NaiveDate};

use crate::Block;

/// A day on which a short message is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Moment {
    /// The day on which the block is handed over, whichever that is.
    HandOver,
    /// The first day of the block.
    BlockStart,
    /// A week before the race.
    WeekOut,
    /// Three days before the race.
    ThreeDaysOut,
    /// The day before the race.
    DayBefore,
    /// The day after the race.
    DayAfter,
}

impl Moment {
    /// Every moment, in the order of their days.
    pub const ALL: [Self; 6] =
        [Self::HandOver, Self::BlockStart, Self::WeekOut, Self::ThreeDaysOut, Self::DayBefore, Self::DayAfter];

    /// The name in files and addresses: `block-start`.
    pub const fn code(self) -> &'static str {
        match self {
            Self::HandOver => "hand-over",
            Self::BlockStart => "block-start",
            Self::WeekOut => "week-out",
            Self::ThreeDaysOut => "three-days-out",
            Self::DayBefore => "day-before",
            Self::DayAfter => "day-after",
        }
    }

    /// The moment with this code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|moment| moment.code() == code)
    }
}

/// The moments of a block that have a day of their own, with their days, in order: all but
/// [`Moment::HandOver`].
///
/// A block of a week or less begins when a week is left, or later: its first message then says what the
/// second would.
///
/// # Source
///
/// Common practice, no published source.
pub fn moments(block: &Block) -> Vec<(Moment, NaiveDate)> {
    moments_between(block.first_day(), block.race_day)
}

/// The same for a block of which only its first day and its race day are known.
pub fn moments_between(first: NaiveDate, race: NaiveDate) -> Vec<(Moment, NaiveDate)> {
    let day = |moment| match moment {
        Moment::HandOver => None,
        Moment::BlockStart => Some(first),
        Moment::WeekOut => Some(race - Days::new(7)),
        Moment::ThreeDaysOut => Some(race - Days::new(3)),
        Moment::DayBefore => Some(race - Days::new(1)),
        Moment::DayAfter => Some(race + Days::new(1)),
    };
    let all = Moment::ALL.into_iter().filter_map(|moment| Some((moment, day(moment)?)));
    all.filter(|(moment, day)| *moment == Moment::BlockStart || *day > first).collect()
}

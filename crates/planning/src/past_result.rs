//! A race or a time trial that was run.

use chrono::NaiveDate;

use crate::race::RaceDistance;
use crate::race_time::RaceTime;

/// What came out of one race or time trial.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PastResult {
    /// The day.
    pub date: NaiveDate,
    /// How far.
    pub distance: RaceDistance,
    /// How long it took.
    pub time: RaceTime,
    /// What was said beside it; may be empty.
    pub note: String,
}

/// How a race ended for an athlete.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Outcome {
    /// At the finish line.
    #[default]
    Finished,
    /// Somewhere on the way.
    DidNotFinish,
    /// Before it began: nothing was run, and nothing is to recover from.
    DidNotStart,
}

impl Outcome {
    /// Every outcome.
    pub const ALL: [Self; 3] = [Self::Finished, Self::DidNotFinish, Self::DidNotStart];

    /// The name in files and forms.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Finished => "finished",
            Self::DidNotFinish => "did-not-finish",
            Self::DidNotStart => "did-not-start",
        }
    }

    /// The outcome with this code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|outcome| outcome.code() == code)
    }
}

/// A feeling from 0, the least, to 10, the most.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OutOfTen(u8);

impl OutOfTen {
    /// From a number, if it lies on the scale.
    pub fn new(value: u8) -> Option<Self> {
        (value <= 10).then_some(Self(value))
    }

    /// 0 to 10.
    pub const fn get(self) -> u8 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outcomes_read_back_from_their_codes_and_from_nothing_else() {
        for outcome in Outcome::ALL {
            assert_eq!(Outcome::from_code(outcome.code()), Some(outcome));
        }
        assert_eq!(Outcome::from_code("won"), None);
    }

    #[test]
    fn the_scale_ends_at_ten() {
        assert_eq!(OutOfTen::new(10).map(OutOfTen::get), Some(10));
        assert_eq!(OutOfTen::new(11), None);
    }
}

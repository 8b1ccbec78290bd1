//! How long a race takes.

use std::fmt;

use crate::problem::ProblemKind;
use crate::units::Distance;

/// A time for a race in whole seconds, as it stands in a list of results.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RaceTime(u32);

impl RaceTime {
    /// The fastest and the slowest pace that is believed, in seconds for one kilometre.
    ///
    /// # Source
    ///
    /// The fastest lies below every world record from 800 m up, the slowest above the cut-offs of races
    /// with nights in them: a guard of ours, no published source.
    pub const PACES: (f64, f64) = (120.0, 1800.0);

    /// From seconds.
    pub const fn seconds(seconds: u32) -> Self {
        Self(seconds)
    }

    /// From seconds, if somebody may run the distance in them.
    ///
    /// # Errors
    ///
    /// [`ProblemKind::RaceTimeOutOfRange`] outside [`RaceTime::PACES`].
    pub(crate) fn for_distance(seconds: u32, distance: Distance) -> Result<Self, ProblemKind> {
        let limit = |pace: f64| Self((pace * distance.as_km()).round() as u32);
        let (from, to) = (limit(Self::PACES.0), limit(Self::PACES.1));
        let time = Self(seconds);
        if (from..=to).contains(&time) { Ok(time) } else { Err(ProblemKind::RaceTimeOutOfRange { time, from, to }) }
    }

    /// Whole seconds.
    pub const fn as_seconds(self) -> u32 {
        self.0
    }

    /// Minutes.
    pub(crate) fn as_minutes(self) -> f64 {
        f64::from(self.0) / 60.0
    }

    /// Seconds for one kilometre over a distance.
    pub(crate) fn seconds_per_km(self, distance: Distance) -> f64 {
        f64::from(self.0) / distance.as_km()
    }
}

impl fmt::Display for RaceTime {
    /// `42:10`, `3:25:00`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (hours, minutes, seconds) = (self.0 / 3600, self.0 / 60 % 60, self.0 % 60);
        if hours > 0 { write!(f, "{hours}:{minutes:02}:{seconds:02}") } else { write!(f, "{minutes}:{seconds:02}") }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_written_as_in_a_list_of_results() {
        for (seconds, text) in [(0, "0:00"), (59, "0:59"), (2530, "42:10"), (3600, "1:00:00"), (12_300, "3:25:00")] {
            assert_eq!(RaceTime::seconds(seconds).to_string(), text);
        }
    }

    #[test]
    fn a_time_that_nobody_runs_is_refused_with_its_limits() {
        let marathon = Distance::metres(42_195);
        assert!(RaceTime::for_distance(2 * 3600 + 35, marathon).is_ok(), "the world record of 2023");
        for seconds in [0, 5062, 75_952, 30 * 3600] {
            let refused = RaceTime::for_distance(seconds, marathon);
            assert!(matches!(refused, Err(ProblemKind::RaceTimeOutOfRange { .. })), "{seconds}: {refused:?}");
        }
        assert!(RaceTime::for_distance(30 * 3600, Distance::metres(160_934)).is_ok(), "a hundred miles");
    }
}

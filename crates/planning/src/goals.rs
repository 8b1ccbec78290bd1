//! Goals A, B and C of a race as times.

use crate::notation::find_race_time;
use crate::problem::ProblemKind;
use crate::race_time::RaceTime;
use crate::units::Distance;

/// Best day, good day, the least that counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the names say it")]
pub enum GoalLetter {
    A,
    B,
    C,
}

impl GoalLetter {
    /// Every letter, the best day first.
    pub const ALL: [Self; 3] = [Self::A, Self::B, Self::C];

    /// `A`.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::A => "A",
            Self::B => "B",
            Self::C => "C",
        }
    }
}

/// The times among the goals of one race; a goal in words has none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct GoalTimes {
    /// A, B and C.
    pub times: [Option<RaceTime>; 3],
}

/// Something about goals that cannot be meant, or is of little use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GoalFinding {
    /// The better goal is the slower time, or the same.
    OutOfOrder {
        /// The letter that should be faster.
        better: GoalLetter,
        /// The letter that should be slower.
        lesser: GoalLetter,
    },
    /// Two goals lie so close that nobody can steer by the difference.
    TooClose {
        /// The better goal.
        better: GoalLetter,
        /// The one after it.
        lesser: GoalLetter,
        /// Tenths of a second for one kilometre between them.
        tenths_a_km: u16,
    },
}

/// Goals closer than this many seconds for a kilometre cannot be told apart on the course.
///
/// # Source
///
/// Common practice, no published source.
const CLOSE: f64 = 2.0;

impl GoalTimes {
    /// Reads the three goals as typed, each a time, a sentence with one, or words.
    ///
    /// # Errors
    ///
    /// For each goal in which only a time stands that nobody runs, what is wrong with it.
    pub fn read(typed: [&str; 3], distance: Distance) -> Result<Self, Vec<(GoalLetter, ProblemKind)>> {
        let mut found = Self::default();
        let mut wrong = Vec::new();
        for (letter, text) in GoalLetter::ALL.into_iter().zip(typed) {
            match find_race_time(text, distance) {
                Ok(time) => found.times[letter as usize] = time,
                Err(kind) => wrong.push((letter, kind)),
            }
        }
        if wrong.is_empty() { Ok(found) } else { Err(wrong) }
    }

    /// The same, without the goals that cannot be read.
    pub fn readable(typed: [&str; 3], distance: Distance) -> Self {
        Self { times: typed.map(|text| find_race_time(text, distance).ok().flatten()) }
    }

    /// The time of a letter.
    pub const fn of(&self, letter: GoalLetter) -> Option<RaceTime> {
        self.times[letter as usize]
    }

    /// Letters and times, as far as there are times.
    pub fn known(&self) -> impl Iterator<Item = (GoalLetter, RaceTime)> {
        let times = self.times;
        GoalLetter::ALL.into_iter().filter_map(move |letter| times[letter as usize].map(|time| (letter, time)))
    }

    /// The one that paper and clock follow: B, else C, else A.
    pub fn main(&self) -> Option<(GoalLetter, RaceTime)> {
        let with = |letter: GoalLetter| self.of(letter).map(|time| (letter, time));
        with(GoalLetter::B).or_else(|| with(GoalLetter::C)).or_else(|| with(GoalLetter::A))
    }

    /// The best goal that a time reaches; nothing where it reaches none, or no goal is a time.
    pub fn reached(&self, time: RaceTime) -> Option<GoalLetter> {
        self.known().find(|(_, goal)| time <= *goal).map(|(letter, _)| letter)
    }

    /// What is odd about them over a distance, best day first.
    pub fn findings(&self, distance: Distance) -> Vec<GoalFinding> {
        let known: Vec<(GoalLetter, RaceTime)> = self.known().collect();
        let judge = |pair: &[(GoalLetter, RaceTime)]| {
            let ((better, fast), (lesser, slow)) = (pair[0], pair[1]);
            let apart = slow.seconds_per_km(distance) - fast.seconds_per_km(distance);
            if fast >= slow {
                Some(GoalFinding::OutOfOrder { better, lesser })
            } else if apart < CLOSE {
                Some(GoalFinding::TooClose { better, lesser, tenths_a_km: (apart * 10.0).round() as u16 })
            } else {
                None
            }
        };
        known.windows(2).filter_map(judge).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MARATHON: Distance = Distance::metres(42_195);

    fn goals(typed: [&str; 3]) -> GoalTimes {
        GoalTimes::read(typed, MARATHON).unwrap()
    }

    #[test]
    fn goals_are_times_or_words() {
        let read = goals(["3:25", "3:30:00 if windy", "finish well"]);
        assert_eq!(
            read.known().map(|(letter, time)| format!("{} {time}", letter.as_str())).collect::<Vec<_>>(),
            ["A 3:25:00", "B 3:30:00"]
        );
        assert_eq!(read.main().map(|(letter, _)| letter), Some(GoalLetter::B));
        assert_eq!(goals(["3:25", "", ""]).main().map(|(letter, _)| letter), Some(GoalLetter::A));
        assert_eq!(goals(["", "", ""]).main(), None);
        let words =
            goals(["sub 3:25 if cool", "second half at most 2 min slower than the first", "10 min of walking less"]);
        assert_eq!(words.known().map(|(letter, _)| letter).collect::<Vec<_>>(), [GoalLetter::A]);
    }

    #[test]
    fn a_time_reaches_the_best_goal_that_is_not_faster() {
        let reached = |time: &str| {
            let time = crate::notation::read_race_time(time, MARATHON).unwrap();
            goals(["3:25", "3:30", "finish well"]).reached(time)
        };
        assert_eq!(reached("3:25:00"), Some(GoalLetter::A));
        assert_eq!(reached("3:25:01"), Some(GoalLetter::B));
        assert_eq!(reached("3:30:01"), None);
        assert_eq!(goals(["", "", ""]).reached(RaceTime::seconds(12_000)), None);
    }

    #[test]
    fn a_goal_that_nobody_runs_is_named_by_its_letter() {
        assert!(GoalTimes::read(["2 min", "", ""], MARATHON).is_err(), "nothing but a time");
        let wrong = GoalTimes::read(["0:00", "3:30", "under 30:00:00"], MARATHON).unwrap_err();
        assert_eq!(wrong.iter().map(|(letter, _)| *letter).collect::<Vec<_>>(), [GoalLetter::A, GoalLetter::C]);
        assert_eq!(GoalTimes::readable(["0:00", "3:30", "soon"], MARATHON).known().count(), 1);
    }

    #[test]
    fn order_and_distance_between_goals_are_judged_on_both_sides_of_the_border() {
        let findings = |typed: [&str; 3]| goals(typed).findings(MARATHON);
        assert_eq!(findings(["3:25", "3:30", "3:40"]), []);
        let (a, b, c) = (GoalLetter::A, GoalLetter::B, GoalLetter::C);
        assert_eq!(findings(["3:31", "3:30", ""]), [GoalFinding::OutOfOrder { better: a, lesser: b }]);
        assert_eq!(findings(["3:30", "", "3:30"]), [GoalFinding::OutOfOrder { better: a, lesser: c }]);
        // 84 seconds over the marathon are 1.99 a kilometre, 85 are 2.01.
        assert!(matches!(findings(["", "3:30:00", "3:31:24"])[..], [GoalFinding::TooClose { tenths_a_km: 20, .. }]));
        assert_eq!(findings(["", "3:30:00", "3:31:25"]), []);
    }
}

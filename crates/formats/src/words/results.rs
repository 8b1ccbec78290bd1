//! What came out of a race, and what comes after it.

use chrono::{Days, NaiveDate};
use planning::recovery::{Step, days, days_off};
use planning::{Event, GoalTimes, Outcome, RaceTime};

use super::amounts::per_cent;
use super::dates::long_date;
use super::plural;

/// How a race ended.
pub const fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Finished => "finished",
        Outcome::DidNotFinish => "did not finish",
        Outcome::DidNotStart => "did not start",
    }
}

/// Where a time lies among the goals; nothing where no goal is a time.
pub fn against_goals(time: RaceTime, goals: &GoalTimes) -> Option<String> {
    let reached = goals.known().position(|(_, goal)| time <= goal);
    let known: Vec<String> = goals.known().map(|(letter, goal)| format!("goal {} ({goal})", letter.as_str())).collect();
    Some(match reached {
        Some(0) => format!("{time} is within {}.", known.first()?),
        Some(place) => format!("{time} lies between {} and {}.", known.get(place - 1)?, known.get(place)?),
        None => format!("{time} is slower than {}.", known.last()?),
    })
}

/// A step of the recovery from a race: `until Sunday 16 May: 0% to 25% of the usual running`.
pub fn recovery_step(race_day: NaiveDate, step: Step) -> String {
    let until = long_date(race_day + Days::new(u64::from(step.until)));
    format!("until {until}: {} to {} of the usual running", per_cent(step.least), per_cent(step.most))
}

/// From when on hard running has its place again, and what else waits.
pub fn no_hard_running(race_day: NaiveDate, event: Event) -> String {
    let first = long_date(race_day + Days::new(u64::from(days(event)) + 1));
    let off = match days_off(event) {
        0 => String::new(),
        off => {
            format!(" No running at all on the first {}.", plural(usize::from(off), "day").replacen("1 day", "day", 1))
        }
    };
    format!("No hard running before {first}, and no strength with load until then.{off}")
}

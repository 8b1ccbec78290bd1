//! When to change the goal in a race, a sentence a rule.

use planning::pacing::{ChangeRule, Look};
use planning::station::Station;
use planning::{DistanceUnit, RaceTime};

use super::course::place;
use super::pacing::pace;

/// A rule for changing the goal.
pub fn change_rule(rule: &ChangeRule<'_>, unit: DistanceUnit) -> String {
    match rule {
        ChangeRule::GoForA { look, elapsed, left, rest } => {
            format!(
                "Run B up to {} ({elapsed}). Go for A from there only if it felt easy so far: {} on average to the finish. \
                 A's own times are for whoever runs A from the start.",
                look_name(look, unit),
                pace(*left, *rest, unit)
            )
        }
        ChangeRule::AFromTheStart => {
            "A is too far from B to change to it on the way: it has to be run from the start.".to_owned()
        }
        ChangeRule::RunC(look, elapsed, behind) => format!(
            "At {} more than {} behind B ({elapsed}) and breathing hard: run C from here.",
            look_name(look, unit),
            gap(*behind)
        ),
        ChangeRule::CCounts(look, elapsed, behind) => format!(
            "At {} more than {} behind B ({elapsed}): C is the goal now, and it counts.",
            look_name(look, unit),
            gap(*behind)
        ),
    }
}

/// `85 s`, `3:35 min`, `34 min`, `1 h 21 min`.
fn gap(seconds: u32) -> String {
    match seconds {
        seconds @ ..100 => format!("{seconds} s"),
        seconds @ ..600 => format!("{} min", RaceTime::seconds(seconds)),
        _ => match seconds / 60 {
            minutes @ ..60 => format!("{minutes} min"),
            minutes if minutes % 60 == 0 => format!("{} h", minutes / 60),
            minutes => format!("{} h {} min", minutes / 60, minutes % 60),
        },
    }
}

fn look_name(look: &Look<'_>, unit: DistanceUnit) -> String {
    look.station.map_or_else(|| place(look.at, unit), |station| station_name(station, unit))
}

/// `27.5 km (Saddle)`.
fn station_name(station: &Station, unit: DistanceUnit) -> String {
    let at = place(station.at.distance(), unit);
    if station.name.is_empty() { at } else { format!("{at} ({})", station.name) }
}

#[cfg(test)]
mod tests {
    use planning::pacing::change_rules;
    use planning::{GoalTimes, Pacing, Profile, RaceDistance, Strategy};

    use super::*;

    #[test]
    fn rules_for_changing_the_goal_stand_on_the_goals_own_times() {
        let profile = Profile::flat(RaceDistance::Marathon.distance());
        let times = GoalTimes::readable(["3:25", "3:30", "3:40"], profile.length());
        let pacings = times.times.map(|time| time.map(|time| Pacing::new(&profile, Strategy::default(), time)));
        let said = |unit| -> Vec<String> {
            change_rules(&pacings, &profile, &[], unit).iter().map(|rule| change_rule(rule, unit)).collect()
        };
        assert_eq!(
            said(DistanceUnit::Km),
            [
                "Run B up to 10 km (49:46). Go for A from there only if it felt easy so far: 4:49/km on average to the finish. \
                 A's own times are for whoever runs A from the start.",
                "At 10 km more than 75 s behind B (49:46) and breathing hard: run C from here.",
                "At 30 km more than 3:35 min behind B (2:29:18): C is the goal now, and it counts.",
            ]
        );
        let in_miles = said(DistanceUnit::Mi);
        let places = ["Run B up to 6 mi", "At 6 mi more", "At 18 mi more"];
        assert!(in_miles.iter().zip(places).all(|(rule, place)| rule.starts_with(place)), "every third: {in_miles:?}");
    }

    #[test]
    fn what_lies_between_far_goals_is_in_minutes_and_hours() {
        assert_eq!([85, 215, 600, 660, 2_040].map(gap), ["85 s", "3:35 min", "10 min", "11 min", "34 min"]);
        assert_eq!([3_600, 4_860].map(gap), ["1 h", "1 h 21 min"]);
    }
}

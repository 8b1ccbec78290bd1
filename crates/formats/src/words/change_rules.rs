//! When to change the goal in a race.

use planning::pacing::paper_step;
use planning::station::Station;
use planning::{Distance, DistanceUnit, GoalLetter, Milli, Pacing, Profile, RaceTime};

use super::course::place;

/// When to change the goal, as the program proposes it: a rule a line, from the goals that have times.
/// `pacings` are those of A, B and C; `stations` where the athlete looks at the clock, whole kilometres or
/// miles where there are none.
///
/// # Source
///
/// Common practice, no published source.
pub fn change_rules(
    pacings: &[Option<Pacing>; 3],
    profile: &Profile,
    stations: &[Station],
    unit: DistanceUnit,
) -> Vec<String> {
    let of = |letter: GoalLetter| pacings[letter as usize].as_ref();
    let mut rules = Vec::new();
    let length = profile.length();
    let at_stations = |share| nearest(stations, length, share).map(|one| (one.at.distance(), station_name(one, unit)));
    let whole = |share| {
        let at = whole_units(length, unit, share);
        (at, place(at, unit))
    };
    let ((early, early_name), (turn, turn_name)) = match (at_stations(EARLY), at_stations(TURNING)) {
        (Some(early), Some(turn)) if early.0 < turn.0 => (early, turn),
        _ => (whole(EARLY), whole(TURNING)),
    };
    if let (Some(_), Some(better)) = (of(GoalLetter::A), of(GoalLetter::B)) {
        rules.push(format!(
            "Run B up to {turn_name} ({}). Go for A from there only if it felt easy so far.",
            better.elapsed(turn)
        ));
    }
    if let (Some(b), Some(c)) = (of(GoalLetter::B), of(GoalLetter::C)) {
        let behind = half_the_gap(b, c, early);
        rules.push(format!(
            "At {early_name} more than {behind} behind B ({}) and breathing hard: run C from here.",
            b.elapsed(early)
        ));
        rules.push(format!(
            "At {turn_name} more than {} behind B ({}): C is the goal now, and it counts.",
            half_the_gap(b, c, turn),
            b.elapsed(turn)
        ));
    }
    rules
}

/// Half of what lies between two goals at a mark, to five seconds, from ten minutes on to a minute: whoever is
/// further behind is nearer to the other goal.
fn half_the_gap(better: &Pacing, lesser: &Pacing, at: Distance) -> String {
    let gap = lesser.elapsed(at).as_seconds().saturating_sub(better.elapsed(at).as_seconds());
    match (gap / 2).div_ceil(5).max(1) * 5 {
        seconds @ ..100 => format!("{seconds} s"),
        seconds @ ..600 => format!("{} min", RaceTime::seconds(seconds)),
        seconds => match seconds.div_ceil(60) {
            minutes @ ..60 => format!("{minutes} min"),
            minutes if minutes % 60 == 0 => format!("{} h", minutes / 60),
            minutes => format!("{} h {} min", minutes / 60, minutes % 60),
        },
    }
}

/// The share of the way after which the first look back is worth it,
///
/// # Source
///
/// Common practice, no published source.
const EARLY: f64 = 0.25;

/// and the one after which the look back decides.
///
/// # Source
///
/// Common practice, no published source.
const TURNING: f64 = 2.0 / 3.0;

/// The station nearest to a share of the way, the finish left out.
fn nearest(stations: &[Station], length: Distance, share: f64) -> Option<&Station> {
    let wanted = (length.as_millimetres() as f64 * share) as i64;
    let on_the_way = stations.iter().filter(|station| station.at.distance() < length);
    on_the_way.min_by_key(|station| (station.at.distance().as_millimetres() - wanted).abs())
}

/// `27.5 km (Saddle)`.
fn station_name(station: &Station, unit: DistanceUnit) -> String {
    let at = place(station.at.distance(), unit);
    if station.name.is_empty() { at } else { format!("{at} ({})", station.name) }
}

/// The row of the paper nearest to a share of the way: there the athlete has a time to look at.
fn whole_units(length: Distance, unit: DistanceUnit, share: f64) -> Distance {
    let units = length.as_millimetres() as f64 / unit.millimetres() as f64 * share;
    let step = f64::from(paper_step(unit, length));
    let at = Distance::from_milli(Milli::nearest((units / step).round().max(1.0) * step), unit);
    if at < length { at } else { Distance::millimetres(length.as_millimetres() / 2) }
}

#[cfg(test)]
mod tests {
    use planning::{GoalTimes, RaceDistance, Strategy};

    use super::*;

    fn marathon(goals: [&str; 3]) -> ([Option<Pacing>; 3], Profile) {
        let profile = Profile::flat(RaceDistance::Marathon.distance());
        let times = GoalTimes::readable(goals, profile.length());
        let pacings = times.times.map(|time| time.map(|time| Pacing::new(&profile, Strategy::default(), time)));
        (pacings, profile)
    }

    #[test]
    fn rules_for_changing_the_goal_stand_on_the_goals_own_times() {
        let (pacings, profile) = marathon(["3:25", "3:30", "3:40"]);
        assert_eq!(
            change_rules(&pacings, &profile, &[], DistanceUnit::Km),
            [
                "Run B up to 30 km (2:29:18). Go for A from there only if it felt easy so far.",
                "At 10 km more than 75 s behind B (49:46) and breathing hard: run C from here.",
                "At 30 km more than 3:35 min behind B (2:29:18): C is the goal now, and it counts.",
            ]
        );
        let in_miles = change_rules(&pacings, &profile, &[], DistanceUnit::Mi);
        let places = ["Run B up to 18 mi", "At 6 mi more", "At 18 mi more"];
        assert!(in_miles.iter().zip(places).all(|(rule, place)| rule.starts_with(place)), "every third: {in_miles:?}");
        let (pacings, profile) = marathon(["", "3:30", "finish well"]);
        assert!(
            change_rules(&pacings, &profile, &[], DistanceUnit::Km).is_empty(),
            "one time alone has no other to change to"
        );
    }

    #[test]
    fn what_lies_between_far_goals_is_in_minutes_and_hours() {
        let profile = Profile::flat(Distance::metres(160_000));
        let pacing = |goal| Pacing::new(&profile, Strategy::default(), RaceTime::seconds(goal));
        let gap = |lesser| half_the_gap(&pacing(80_000), &pacing(lesser), profile.length());
        assert_eq!([80_170, 81_198, 81_290, 84_000].map(gap), ["85 s", "10 min", "11 min", "34 min"]);
        assert_eq!([87_200, 89_720].map(gap), ["1 h", "1 h 21 min"]);
    }
}

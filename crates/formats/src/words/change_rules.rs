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
    let looks = |share: f64| at_stations(share).unwrap_or_else(|| whole(share));
    let are_apart = looks(EARLY).0 < looks(TURNING).0;
    let mark = |share| if are_apart { looks(share) } else { whole(share) };
    let ((early, early_name), (turn, turn_name)) = (mark(EARLY), mark(TURNING));
    if let (Some(a), Some(b)) = (of(GoalLetter::A), of(GoalLetter::B)) {
        let later = [TURNING, HALFWAY, EARLY].map(mark).into_iter().find(|(at, _)| is_believable(a, b, *at));
        rules.push(later.map_or_else(
            || "A is too far from B to change to it on the way: it has to be run from the start.".to_owned(),
            |(at, name)| {
                format!("Run B up to {name} ({}). Go for A from there only if it felt easy so far.", b.elapsed(at))
            },
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

/// Whether whoever has run B up to a mark can still reach A: the rest is then hardly faster than A's own.
fn is_believable(a: &Pacing, b: &Pacing, at: Distance) -> bool {
    let rest_of_a = a.goal().as_seconds().saturating_sub(a.elapsed(at).as_seconds());
    let left = a.goal().as_seconds().saturating_sub(b.elapsed(at).as_seconds());
    f64::from(left) >= f64::from(rest_of_a) * (1.0 - FASTER_AT_MOST)
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

/// How much faster than the goal's own pace anybody may hope to run the rest.
///
/// # Source
///
/// Common practice, no published source.
const FASTER_AT_MOST: f64 = 0.02;

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

/// Where a goal that is out of reach from [`TURNING`] on may still be in reach.
///
/// # Source
///
/// Common practice, no published source.
const HALFWAY: f64 = 0.5;

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
                "Run B up to 10 km (49:46). Go for A from there only if it felt easy so far.",
                "At 10 km more than 75 s behind B (49:46) and breathing hard: run C from here.",
                "At 30 km more than 3:35 min behind B (2:29:18): C is the goal now, and it counts.",
            ]
        );
        let in_miles = change_rules(&pacings, &profile, &[], DistanceUnit::Mi);
        let places = ["Run B up to 6 mi", "At 6 mi more", "At 18 mi more"];
        assert!(in_miles.iter().zip(places).all(|(rule, place)| rule.starts_with(place)), "every third: {in_miles:?}");
        let (pacings, profile) = marathon(["", "3:30", "finish well"]);
        assert!(
            change_rules(&pacings, &profile, &[], DistanceUnit::Km).is_empty(),
            "one time alone has no other to change to"
        );
    }

    /// How many times faster than A's even pace the rest has to be run.
    fn asked(profile: &Profile, [a, b]: [u32; 2]) -> (String, Option<f64>) {
        let pacing = |goal| Some(Pacing::new(profile, Strategy::default(), RaceTime::seconds(goal)));
        let pacings = [pacing(a), pacing(b), None];
        let rule = change_rules(&pacings, profile, &[], DistanceUnit::Km).remove(0);
        let km = rule.strip_prefix("Run B up to ").and_then(|rest| rest.split_once(" km")).map(|(km, _)| km);
        let faster = km.map(|km| {
            let at = Distance::metres(km.parse::<i64>().unwrap() * 1000);
            let left = a - pacings[1].as_ref().unwrap().elapsed(at).as_seconds();
            let even = f64::from(a) * (1.0 - at.as_millimetres() as f64 / profile.length().as_millimetres() as f64);
            even / f64::from(left)
        });
        (rule, faster)
    }

    #[test]
    fn no_rule_asks_for_a_rest_that_nobody_believes() {
        let half = Profile::flat(RaceDistance::Half.distance());
        let (rule, _) = asked(&half, [5880, 5970]);
        assert!(rule.starts_with("Run B up to 10 km"), "15 km would be too late: {rule}");
        for length in [5_000, 10_000, 21_097, 42_195, 100_000] {
            let profile = Profile::flat(Distance::metres(length));
            let b = u32::try_from(length).unwrap() / 3;
            for percent in 1..=12 {
                let (rule, faster) = asked(&profile, [b - b * percent / 200, b]);
                match faster {
                    Some(faster) => assert!(faster < 1.03, "{length} m, {percent}/2 %: {faster}: {rule}"),
                    None => assert!(percent > 2 && rule.starts_with("A is too far from B"), "{length} m: {rule}"),
                }
            }
        }
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

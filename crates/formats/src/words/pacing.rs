//! Times on a course, and when to change the goal.

use planning::pacing::{MarkName, paper_step};
use planning::station::Station;
use planning::{
    Distance, DistanceUnit, GoalFinding, GoalLetter, GoalTimes, Milli, Pacing, Profile, RaceDistance, RaceTime,
    Strategy,
};

use super::amounts::short_number;
use super::course::place;

/// The name of a place: `10 km`, `half marathon`, `finish`.
pub fn mark(name: MarkName) -> String {
    match name {
        MarkName::Km(count) => format!("{count} km"),
        MarkName::Miles(count) => format!("{count} miles"),
        MarkName::Half => super::race_distance(RaceDistance::Half),
        MarkName::Marathon => super::race_distance(RaceDistance::Marathon),
        MarkName::Finish => "finish".to_owned(),
    }
}

/// The pace of a time over a distance: `4:59/km`.
pub fn pace(time: RaceTime, over: Distance, unit: DistanceUnit) -> String {
    let units = over.as_millimetres() as f64 / unit.millimetres() as f64;
    format!("{}/{}", RaceTime::seconds((f64::from(time.as_seconds()) / units).round() as u32), unit.symbol())
}

/// How the effort is spread, in a sentence.
pub fn strategy(strategy: Strategy, profile: &Profile, unit: DistanceUnit) -> String {
    let percent = |tenths: u16| format!("{}%", short_number(f64::from(tenths) / 10.0));
    let halves = match strategy.slower_half_tenths {
        0 => "Even effort".to_owned(),
        slower @ 1.. => format!("The second half {} slower", percent(slower.unsigned_abs())),
        faster => format!("The second half {} faster", percent(faster.unsigned_abs())),
    };
    let first = place(Strategy::first_kilometres(profile.length()), unit);
    let start = match u16::from(strategy.first_easier_tenths) {
        0 => format!("the first {first} no faster than the average"),
        easier => format!("the first {first} at least {} easier than the average", percent(easier)),
    };
    let descents = match (profile.has_heights(), strategy.descent_percent) {
        (false, _) => String::new(),
        (true, 0) => "; nothing that a descent saves is counted on".to_owned(),
        (true, 100) => "; all that a descent saves is counted on".to_owned(),
        (true, part) => format!("; {part}% of what a descent saves is counted on"),
    };
    format!("{halves} on equal terms, {start}{descents}.")
}

/// What is odd about the goals.
pub fn goal_finding(finding: GoalFinding, times: &GoalTimes) -> String {
    let time = |letter: GoalLetter| times.of(letter).map_or(String::new(), |time| time.to_string());
    match finding {
        GoalFinding::OutOfOrder { better, lesser } => format!(
            "goal {} ({}) is not faster than goal {} ({}); A is the best day, C the least that counts",
            better.as_str(),
            time(better),
            lesser.as_str(),
            time(lesser)
        ),
        GoalFinding::TooClose { better, lesser, tenths_a_km } => format!(
            "goals {} and {} are {} s a kilometre apart, too close to steer by",
            better.as_str(),
            lesser.as_str(),
            if tenths_a_km == 0 { "less than 0.1".to_owned() } else { short_number(f64::from(tenths_a_km) / 10.0) }
        ),
    }
}

/// The most words of an effort, a focus or a cue that are remembered in a race.
///
/// # Source
///
/// Common practice, no published source.
const WORDS_MOST: usize = 5;

/// That a text for a stretch has more words than are remembered; nothing where it has not.
pub fn too_many_words(stretch: &str, what: &str, text: &str) -> Option<String> {
    let count = text.split_whitespace().count();
    (count > WORDS_MOST)
        .then(|| format!("{stretch}, {what}: {count} words; in a race at most {WORDS_MOST} are remembered."))
}

/// That a clinician comes before any goal, because of what the coach noted.
pub fn for_a_clinician(cautions: &[&str]) -> String {
    format!(
        "Noted: {}. Whether and how hard to race is for the athlete and a clinician to say first; the times here are \
         reckoned, not advised.",
        cautions.join("; ")
    )
}

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

/// The share of the way after which the first look back is worth it, and the one that decides.
const EARLY: f64 = 0.25;
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
    use super::*;

    fn marathon(goals: [&str; 3]) -> ([Option<Pacing>; 3], Profile, GoalTimes) {
        let profile = Profile::flat(RaceDistance::Marathon.distance());
        let times = GoalTimes::readable(goals, profile.length());
        let pacings = times.times.map(|time| time.map(|time| Pacing::new(&profile, Strategy::default(), time)));
        (pacings, profile, times)
    }

    #[test]
    fn rules_for_changing_the_goal_stand_on_the_goals_own_times() {
        let (pacings, profile, _) = marathon(["3:25", "3:30", "3:40"]);
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
        let (pacings, profile, _) = marathon(["", "3:30", "finish well"]);
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

    #[test]
    fn findings_name_goals_and_times() {
        let (_, profile, times) = marathon(["3:31", "3:30", "3:31"]);
        let said: Vec<String> =
            times.findings(profile.length()).into_iter().map(|finding| goal_finding(finding, &times)).collect();
        assert_eq!(
            said,
            [
                "goal A (3:31:00) is not faster than goal B (3:30:00); A is the best day, C the least that counts",
                "goals B and C are 1.4 s a kilometre apart, too close to steer by",
            ]
        );
    }

    #[test]
    fn a_strategy_is_one_sentence() {
        let profile = Profile::flat(RaceDistance::TenK.distance());
        let said = |strategy| super::strategy(strategy, &profile, DistanceUnit::Km);
        assert_eq!(
            said(Strategy::default()),
            "Even effort on equal terms, the first 3.3 km no faster than the average."
        );
        assert_eq!(
            said(Strategy { slower_half_tenths: -15, first_easier_tenths: 20, ..Strategy::default() }),
            "The second half 1.5% faster on equal terms, the first 3.3 km at least 2% easier than the average."
        );
    }

    #[test]
    fn places_and_paces_are_short() {
        let marathon = RaceDistance::Marathon.distance();
        assert_eq!(place(marathon, DistanceUnit::Km), "42.2 km");
        assert_eq!(place(marathon, DistanceUnit::Mi), "26.2 mi");
        assert_eq!(pace(RaceTime::seconds(12_600), marathon, DistanceUnit::Km), "4:59/km");
        assert_eq!(pace(RaceTime::seconds(12_600), marathon, DistanceUnit::Mi), "8:01/mi");
    }
}

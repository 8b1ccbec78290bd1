//! Times on a course, and what is odd about the goals for it.

use planning::pacing::MarkName;
use planning::{Distance, DistanceUnit, GoalFinding, GoalLetter, GoalTimes, Profile, RaceDistance, RaceTime, Strategy};

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn findings_name_goals_and_times() {
        let marathon = RaceDistance::Marathon.distance();
        let times = GoalTimes::readable(["3:31", "3:30", "3:31"], marathon);
        let said: Vec<String> =
            times.findings(marathon).into_iter().map(|finding| goal_finding(finding, &times)).collect();
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
    fn paces_are_short() {
        let marathon = RaceDistance::Marathon.distance();
        assert_eq!(pace(RaceTime::seconds(12_600), marathon, DistanceUnit::Km), "4:59/km");
        assert_eq!(pace(RaceTime::seconds(12_600), marathon, DistanceUnit::Mi), "8:01/mi");
    }
}

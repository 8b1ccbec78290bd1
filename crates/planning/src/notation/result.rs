//! Results as people write them, one a line: `2027-03-14 10k 42:10 (windy)`.

use chrono::{Datelike, NaiveDate};

use super::amounts::{clean, read_distance};
use super::date::read_date;
use super::line::unreadable;
use super::time::read_race_time;
use crate::past_result::PastResult;
use crate::problem::{Expected, Field, Problem, ProblemKind};
use crate::race::is_believed;

/// Reads one result: the day, the distance, the time, and whatever is said behind it.
///
/// # Errors
///
/// The first part that cannot be read.
pub fn read_result(line: &str) -> Result<PastResult, ProblemKind> {
    let line = clean(line);
    let words: Vec<&str> = line.split(' ').collect();
    let (date, of_date) = day_in_front(&words)?;
    if !is_believed(date) {
        return Err(ProblemKind::DateOutOfRange { date });
    }
    let rest = &words[of_date..];
    // "30 km" and "10 km race" are several words: the most that are a distance together.
    let of_distance = (1..=rest.len()).rev().find(|count| read_distance(&rest[..*count].join(" ")).is_ok());
    let Some(of_distance) = of_distance else {
        return Err(unreadable(rest.first().copied().unwrap_or_default(), Expected::RaceDistance));
    };
    let distance = read_distance(&rest[..of_distance].join(" "))?;
    if let Some(kind) = distance.problem() {
        return Err(kind);
    }
    let rest = &rest[of_distance..];
    let of_time = (1..=rest.len()).rev().find(|count| is_time(&rest[..*count]));
    let (time, note) = rest.split_at(of_time.unwrap_or_else(|| rest.len().min(1)));
    let time = read_race_time(time.join(" ").trim_end_matches([',', ';']), distance.distance())?;
    Ok(PastResult { date, distance, time, note: without_brackets(&note.join(" ")) })
}

/// The longest date in words: "Sat 14th of March 2027".
const MOST_WORDS_OF_DATE: usize = 5;

/// The day in front and of how many words it is.
fn day_in_front(words: &[&str]) -> Result<(NaiveDate, usize), ProblemKind> {
    for count in (1..=words.len().min(MOST_WORDS_OF_DATE)).rev() {
        match read_date(&words[..count].join(" ")) {
            Ok(date) => return Ok((date, count)),
            Err(two @ ProblemKind::TwoDates { .. }) => return Err(two),
            Err(_) => {}
        }
    }
    Err(unreadable(words[0], Expected::Date))
}

/// The results as typed, with the year of each day that has none: the last such day up to today, since nobody notes
/// what is still to be run. A line that is more than that is left as it is.
pub fn with_years(text: &str, today: NaiveDate) -> String {
    text.split('\n')
        .map(|line| with_year(line, today).unwrap_or_else(|| line.to_owned()))
        .collect::<Vec<_>>()
        .join("\n")
}

fn with_year(line: &str, today: NaiveDate) -> Option<String> {
    let written = clean(line);
    let words: Vec<&str> = written.split(' ').collect();
    if day_in_front(&words).is_ok() {
        return None;
    }
    (1..words.len().min(MOST_WORDS_OF_DATE)).rev().find_map(|count| {
        let (day, rest) = words.split_at(count);
        // A leap day, or a day of the week, may fit no earlier than that many years ago.
        let years =
            (0..8).map(|back| format!("{} {}", day.join(" ").trim_end_matches([',', ':']), today.year() - back));
        let dated = years.into_iter().find(|day| read_date(day).is_ok_and(|date| date <= today))?;
        Some(format!("{dated} {}", rest.join(" ")))
    })
}

/// Reads results, one a line; empty lines are left out.
///
/// # Errors
///
/// Every line that cannot be read, by its number from 1 and its text.
pub fn read_results(text: &str) -> Result<Vec<PastResult>, Vec<Problem>> {
    let (mut read, mut wrong) = (Vec::new(), Vec::new());
    for (index, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
        match read_result(line) {
            Ok(result) => read.push(result),
            Err(kind) => wrong.push(Problem::new(Field::RecentResult(index + 1, line.trim().to_owned()), kind)),
        }
    }
    if wrong.is_empty() { Ok(read) } else { Err(wrong) }
}

/// Whether these words look like a time, whoever may run it.
fn is_time(words: &[&str]) -> bool {
    let text = words.join(" ");
    // Any distance will do to tell a time from words; whether it fits this one is asked afterwards.
    let marathon = crate::race::RaceDistance::Marathon.distance();
    !matches!(
        read_race_time(text.trim_end_matches([',', ';']), marathon),
        Err(ProblemKind::Unreadable { .. } | ProblemKind::Missing)
    )
}

fn without_brackets(note: &str) -> String {
    let inside = note.strip_prefix('(').and_then(|note| note.strip_suffix(')'));
    inside.filter(|inside| !inside.contains(['(', ')'])).unwrap_or(note).trim().to_owned()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::race::RaceDistance;
    use crate::units::{DistanceUnit, Milli};

    fn read(line: &str) -> (String, RaceDistance, String, String) {
        let result = read_result(line).unwrap_or_else(|problem| panic!("{line}: {problem:?}"));
        (result.date.to_string(), result.distance, result.time.to_string(), result.note)
    }

    #[test]
    fn a_line_is_day_distance_time_and_whatever_is_said() {
        let own = |value, unit| RaceDistance::Own(Milli(value), unit);
        for (line, distance, time, note) in [
            ("2027-03-14 10k 42:10 (windy)", RaceDistance::TenK, "42:10", "windy"),
            ("  2027-03-14\t10 km  42:10", RaceDistance::TenK, "42:10", ""),
            ("2027-03-14 half marathon 1:32:05, alone", RaceDistance::Half, "1:32:05", "alone"),
            ("2027-03-14 marathon 3:25", RaceDistance::Marathon, "3:25:00", ""),
            ("2027-03-14 30 km 2 h 25 hilly (very)", own(30_000, DistanceUnit::Km), "2:25:00", "hilly (very)"),
            ("2027-03-14 3000 m 12:40", own(3_000, DistanceUnit::Km), "12:40", ""),
            ("2027-03-14 mile 5:10 track", own(1_000, DistanceUnit::Mi), "5:10", "track"),
            ("14 March 2027 10k 42.10", RaceDistance::TenK, "42:10", ""),
            ("Sun Mar 14, 2027 marathon 3.25.00", RaceDistance::Marathon, "3:25:00", ""),
            ("14/03/2027 10k 42:10", RaceDistance::TenK, "42:10", ""),
            ("2027-03-14 10 mi 72:30", RaceDistance::TenMiles, "1:12:30", ""),
        ] {
            let expected = ("2027-03-14".to_owned(), distance, time.to_owned(), note.to_owned());
            assert_eq!(read(line), expected, "{line}");
        }
    }

    #[test]
    fn a_day_without_its_year_is_the_last_one_up_to_today() {
        let today = "2027-05-09".parse().unwrap();
        for (typed, dated) in [
            ("11 Oct 10k 49:30", "11 Oct 2026 10k 49:30"),
            ("9 May 5k 20:10", "9 May 2027 5k 20:10"),
            ("May 10th, 5k 20:10", "May 10th 2026 5k 20:10"),
            ("Sun 11 Oct: half 1:50:00 (hot)", "Sun 11 Oct 2026 half 1:50:00 (hot)"),
            ("29 Feb 10 km 42:10", "29 Feb 2024 10 km 42:10"),
            ("2027-03-14 10k 42:10\n\n14 March 10 mi 72:30", "2027-03-14 10k 42:10\n\n14 March 2027 10 mi 72:30"),
        ] {
            assert_eq!(with_years(typed, today), dated);
            assert!(read_results(dated).is_ok(), "{dated}");
        }
        for strange in ["10k last year", "3/4 10k 42:10", "10 km 42:10", "", "14 10k 42:10"] {
            assert_eq!(with_years(strange, today), strange);
        }
    }

    #[test]
    fn what_cannot_be_read_says_which_part() {
        let wrong = |line: &str| match read_result(line) {
            Err(ProblemKind::Unreadable { text, expected }) => (text, expected),
            other => panic!("{line}: {other:?}"),
        };
        for (line, text, expected) in [
            ("", "", Expected::Date),
            ("14 March 10k 42:10", "14", Expected::Date),
            ("2027-02-30 10k 42:10", "2027-02-30", Expected::Date),
            ("2027-03-14", "", Expected::RaceDistance),
            ("2027-03-14 10 42:10", "10", Expected::RaceDistance),
            ("2027-03-14 10k", "", Expected::RaceTime),
            ("2027-03-14 10k fast", "fast", Expected::RaceTime),
        ] {
            assert_eq!(wrong(line), (text.to_owned(), expected), "{line}");
        }
        let nobody = read_result("2027-03-14 10k 12:10");
        assert!(matches!(nobody, Err(ProblemKind::RaceTimeOutOfRange { .. })), "{nobody:?}");
        let far = read_result("2027-03-14 900 km 90:00:00");
        assert!(matches!(far, Err(ProblemKind::DistanceOutOfRange { .. })), "{far:?}");
        let old = read_result("1927-03-14 10k 42:10");
        assert!(matches!(old, Err(ProblemKind::DateOutOfRange { .. })), "{old:?}");
    }

    #[test]
    fn every_line_that_cannot_be_read_is_named_by_number_and_text() {
        let wrong = read_results("2027-03-14 10k 42:10\n\n10k last year\n2027-03-20 5k 20:10\nfast ").unwrap_err();
        let places: Vec<_> = wrong.into_iter().map(|problem| problem.at).collect();
        let line = |number, text: &str| Field::RecentResult(number, text.to_owned());
        assert_eq!(places, [line(3, "10k last year"), line(5, "fast")]);
        assert_eq!(read_results("\n2027-03-14 10k 42:10\n").map(|read| read.len()), Ok(1));
    }

    proptest! {
        #[test]
        fn no_line_is_too_strange(line in "\\PC{0,40}") {
            let _ = read_result(&line);
        }

        #[test]
        fn no_result_is_too_strange(line in "2027-0[0-9]-1[0-9] ?(10k|half|[0-9.]{1,4} (km|mi|m)) [0-9:hms ]{0,9}( \\PC{0,9})?") {
            if let Ok(result) = read_result(&line) {
                prop_assert!(result.distance.problem().is_none());
            }
        }
    }
}

//! Results as people write them, one a line: `2027-03-14 10k 42:10 (windy)`, `Turkey Trot 10k, 26 Nov 2026, 45:10`.
//!
//! Day, distance and time stand in any order, and what is left of the words is the name or a note. A line that begins with
//! its day, goes on with the distance and then with the time is read in that order first, and everything behind is a note,
//! whatever it says; any other is taken apart by [`free`]. Lines are kept with whole dates: [`with_years`] completes what
//! was typed.

mod dated;
mod free;
mod pieces;

#[cfg(test)]
mod tests;

use chrono::NaiveDate;

use super::amounts::{clean, read_distance};
use super::date::read_date;
use super::line::unreadable;
use super::time::read_race_time;
use crate::past_result::PastResult;
use crate::problem::{Expected, Field, Problem, ProblemKind};
use crate::race::is_believed;

pub use dated::with_years;

/// Reads one result: the day, the distance and the time in any order, and whatever else is said.
///
/// # Errors
///
/// What of it is missing, or cannot be read.
pub fn read_result(line: &str) -> Result<PastResult, ProblemKind> {
    let line = clean(line);
    match in_order(&line) {
        Ok(result) => Ok(result),
        // A number that stands where the distance or the time does was meant for it.
        Err(ProblemKind::Unreadable { text, .. }) if !text.starts_with(|first: char| first.is_ascii_digit()) => {
            free::read(&line)
        }
        Err(wrong) => free::read(&line).or(Err(wrong)),
    }
}

/// A line that says day, distance and time one after the other.
fn in_order(line: &str) -> Result<PastResult, ProblemKind> {
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
    let of_time = (1..=rest.len()).rev().find(|count| is_time(&rest[..*count].join(" ")));
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
    // Words with a month in them may stand for a day without its year; what else stands there is no date at all.
    Err(unreadable("", Expected::Date))
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

/// Whether a text looks like a time, whoever may run it.
fn is_time(text: &str) -> bool {
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

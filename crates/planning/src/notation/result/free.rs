//! A result whose day, distance and time stand in any order: "half 1:23:40 on 2026-11-08".
//!
//! Every piece of the line that is a date, a distance or a time is found. One of each that fit together is the result; what
//! stands in brackets is only looked at for what is missing outside. Where more than one result could be meant the line is
//! asked about.

use chrono::NaiveDate;

use super::super::amounts::read_distance;
use super::super::date::{names_month, read_date};
use super::super::line::unreadable;
use super::super::time::read_race_time;
use super::pieces::{Span, Words};
use super::{is_time, without_brackets};
use crate::past_result::PastResult;
use crate::problem::{Expected, ProblemKind};
use crate::race::{RaceDistance, is_believed};

/// What of a line may be the pieces of a result.
struct Found<'a> {
    words: Words<'a>,
    dates: Vec<(Span, Result<NaiveDate, ProblemKind>)>,
    distances: Vec<(Span, RaceDistance)>,
    times: Vec<(Span, &'a str)>,
}

/// A choice of the three.
struct Choice {
    spans: [Span; 3],
    result: PastResult,
}

/// Reads a clean line whose pieces stand in any order.
pub(super) fn read(line: &str) -> Result<PastResult, ProblemKind> {
    let found = Found::of(line);
    let choices = found.choices();
    let bracketed = |choice: &Choice| choice.spans.iter().filter(|span| found.words.is_bracketed(**span)).count();
    let least = choices.iter().map(bracketed).min();
    let mut likeliest = choices.iter().filter(|choice| Some(bracketed(choice)) == least);
    let Some(one) = likeliest.next() else { return Err(found.wrong(line)) };
    let is_same = |other: &Choice| {
        let (one, other) = (&one.result, &other.result);
        (one.date, one.distance, one.time) == (other.date, other.distance, other.time)
    };
    if !likeliest.all(is_same) {
        return Err(unreadable(line, Expected::OneResult));
    }
    let note = without_brackets(&found.words.beside(one.spans));
    Ok(PastResult { note, ..one.result.clone() })
}

impl<'a> Found<'a> {
    fn of(line: &'a str) -> Self {
        let words = Words::of(line);
        let dates = words.found(|text| match read_date(text) {
            Ok(date) if !is_believed(date) => Some(Err(ProblemKind::DateOutOfRange { date })),
            Err(ProblemKind::Unreadable { .. }) => None,
            read => Some(read),
        });
        let distances = words.found(distance);
        let times = words.found(|text| is_time(text).then_some(text));
        Self { words, dates, distances, times }
    }

    /// Every choice of a day, a distance and a time in which somebody runs it.
    fn choices(&self) -> Vec<Choice> {
        let mut choices = Vec::new();
        for (of_date, date) in &self.dates {
            let Ok(date) = *date else { continue };
            for (of_distance, distance) in self.distances.iter().filter(|(span, _)| !span.meets(*of_date)) {
                for (of_time, time) in &self.times {
                    let Ok(time) = read_race_time(time, distance.distance()) else { continue };
                    if distance.problem().is_none() && !of_time.meets(*of_date) && !of_time.meets(*of_distance) {
                        let result = PastResult { date, distance: *distance, time, note: String::new() };
                        choices.push(Choice { spans: [*of_date, *of_distance, *of_time], result });
                    }
                }
            }
        }
        choices
    }

    /// Why none of them is a result.
    fn wrong(&self, line: &str) -> ProblemKind {
        if let Some(wrong) = self.dates.iter().find_map(|(_, date)| date.as_ref().err()) {
            return wrong.clone();
        }
        if self.dates.is_empty() {
            if let Some(month) = self.words.all(|text| names_month(text).then_some(text)).first() {
                return unreadable(month.1, Expected::DayOfMonth);
            }
            // "2027-02-30"
            let is_figures = |word: &str| {
                let figures: Vec<&str> = word.split(['-', '/', '.']).collect();
                figures.len() == 3 && figures.iter().all(|one| one.parse::<u16>().is_ok())
            };
            if let Some(figures) = self.words.each().find(|word| is_figures(word) && !is_time(word)) {
                return unreadable(figures, Expected::Date);
            }
        }
        let (day, distance, time) = (self.dates.is_empty(), self.distances.is_empty(), self.times.is_empty());
        if day || distance || time {
            return ProblemKind::ResultLacks { day, distance, time };
        }
        match (self.distances.as_slice(), self.times.as_slice()) {
            ([(_, distance)], _) if distance.problem().is_some() => distance.problem(),
            ([(_, distance)], [(_, time)]) => read_race_time(time, distance.distance()).err(),
            _ => None,
        }
        .unwrap_or_else(|| unreadable(line, Expected::OneResult))
    }
}

/// A race distance, "10-mile" too.
fn distance(text: &str) -> Option<RaceDistance> {
    read_distance(text).or_else(|_| read_distance(&text.replace('-', " "))).ok()
}

//! Whole dates for results that were typed without: nobody notes what is still to be run, so a day without its year is the
//! last such day up to today.

use chrono::NaiveDate;

use super::super::amounts::clean;
use super::super::date::{middle_of_month, past_date};
use super::pieces::{Span, Words};
use super::{is_time, read_result};
use crate::units::DistanceUnit;

/// The results as typed, each with the whole date of its day: of a day without a year it is the last one up to today.
/// Figures that may be two days, "8/11", have the month in front where distances are in miles, as where both are usual.
/// A line that is read as it stands, or in which no day is to be seen, is left as it is.
pub fn with_years(text: &str, today: NaiveDate, units: DistanceUnit) -> String {
    text.split('\n')
        .map(|line| with_year(line, today, units).unwrap_or_else(|| line.to_owned()))
        .collect::<Vec<_>>()
        .join("\n")
}

fn with_year(line: &str, today: NaiveDate, units: DistanceUnit) -> Option<String> {
    if read_result(line).is_ok() {
        return None;
    }
    let written = clean(line);
    let words = Words::of(&written);
    let days: Vec<(Span, String)> = words.all(|text| past_date(text, today, units).map(|(_, dated)| dated));
    let dated: Vec<(Span, String)> = days.iter().map(|(span, day)| (*span, words.replaced(*span, day))).collect();
    let read = |(_, line): &&(Span, String)| read_result(line).is_ok();
    let Some((longest, first)) = dated.iter().find(read) else {
        // Nothing else is wrong with the day of a line that lacks its time.
        let is_day = |span: Span| !is_time(words.text(span));
        let of_day = dated.into_iter().find(|(span, _)| is_day(*span)).map(|(_, line)| line);
        return of_day.or_else(|| with_middle_of_month(&words, today));
    };
    // "5k 18.10. 12.11.": of two figures either may be the day.
    let of_one = |line: &str| read_result(line).ok().map(|read| (read.date, read.distance, read.time));
    let others = dated.iter().filter(read).filter(|(span, _)| span.length() == longest.length());
    others.map(|(_, line)| of_one(line)).all(|other| other == of_one(first)).then(|| first.clone())
}

/// A month is enough to know what a result says of today: the day in the middle of it, with a note that nobody told it.
fn with_middle_of_month(words: &Words<'_>, today: NaiveDate) -> Option<String> {
    let months: Vec<(Span, NaiveDate)> = words.all(|text| middle_of_month(text, today));
    let dated = |(span, date): &(Span, NaiveDate)| {
        let line = format!("{} (day not told)", words.replaced(*span, &date.format("%-d %b %Y").to_string()));
        read_result(&line).is_ok().then_some(line)
    };
    let longest = months.iter().map(|(span, _)| span.length()).max()?;
    months.iter().filter(|(span, date)| span.length() == longest && *date <= today).find_map(dated)
}

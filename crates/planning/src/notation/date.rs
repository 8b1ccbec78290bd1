//! Dates as people write them.

use chrono::{Datelike, NaiveDate, Weekday};

use super::amounts::clean;
use super::line::unreadable;
use super::text::Text;
use crate::problem::{Expected, ProblemKind};
use crate::units::DistanceUnit;

/// Reads a day of the calendar: `2027-05-09`, `2027/5/9`, `9 May 2027`, `Sun, May 9th, 2027`, `25.12.2026`.
///
/// # Errors
///
/// Not a date with its year in four figures, and [`ProblemKind::TwoDates`] for figures that are one day where the
/// month stands first and another where the day does: `10/11/2026`.
pub fn read_date(text: &str) -> Result<NaiveDate, ProblemKind> {
    let line = clean(text);
    let fault = || unreadable(&line, Expected::Date);
    let mut left = Text::new(&line);
    let weekday = take_weekday(&mut left);
    let date = match in_figures(left) {
        Some(date) => date?,
        None => with_month_name(left).ok_or_else(fault)?,
    };
    if weekday.is_some_and(|weekday| date.weekday() != weekday) {
        return Err(fault());
    }
    Ok(date)
}

/// The last day up to today that a text means which leaves its year out, tells it by two figures, or may be two days: with
/// it, a text that says the whole date. Where figures may be either, the month stands in front for whoever counts in
/// miles, but never before a point; with a day of the week it is the day that fell on it lately.
pub(super) fn past_date(text: &str, today: NaiveDate, units: DistanceUnit) -> Option<(NaiveDate, String)> {
    let line = clean(text);
    if let Ok(date) = read_date(&line) {
        return (date <= today).then_some((date, line));
    }
    let mut left = Text::new(&line);
    let weekday = take_weekday(&mut left);
    let is_fit = |date: &NaiveDate| *date <= today && weekday.is_none_or(|weekday| date.weekday() == weekday);
    // A leap day, or a day of the week, may fit no earlier than that many years ago.
    let years = || (0..8).map(|back| today.year() - back);
    let Some(figures) = Figures::of(left) else { return named_day(&line, today, years()) };
    let said = figures.year.map(|year| in_full(year, today));
    let of = |month: u32, date: u32| match said {
        Some(year) => NaiveDate::from_ymd_opt(year?, month, date).filter(is_fit),
        None => years().filter_map(|year| NaiveDate::from_ymd_opt(year, month, date)).find(is_fit),
    };
    let [one, two] = figures.numbers;
    let (month_first, day_first) = (of(one, two), of(two, one));
    let is_dotted = figures.mark == '.';
    let in_order =
        if units == DistanceUnit::Mi && !is_dotted { [month_first, day_first] } else { [day_first, month_first] };
    let date = match in_order {
        [Some(likelier), Some(other)] => {
            if weekday.is_some() {
                likelier.max(other)
            } else {
                likelier
            }
        }
        // There is no thirteenth month, and no result of a day to come. "11.26" without a year is no day.
        [likelier, other] => likelier.or(other.filter(|_| !is_dotted || said.is_some()))?,
    };
    Some((date, date.to_string()))
}

/// "9 May", "Sat 9 May", "9 May 26", "May 9 '26".
fn named_day(line: &str, today: NaiveDate, mut years: impl Iterator<Item = i32>) -> Option<(NaiveDate, String)> {
    let past = |text: String| read_date(&text).ok().filter(|date| *date <= today).map(|date| (date, text));
    let front = line.trim_end_matches([',', ':', '.']);
    if let Some(found) = years.find_map(|year| past(format!("{front} {year}"))) {
        return Some(found);
    }
    let (day, short) = front.rsplit_once(' ')?;
    let short = short.trim_start_matches(['\'', '\u{2019}']);
    let is_short = short.len() == 2 && day.contains(|one: char| one.is_ascii_digit());
    past(format!("{day} {}", in_full(Some(short).filter(|_| is_short)?, today)?))
}

/// A year as it is written; of two figures the last one up to this year that ends in them.
fn in_full(written: &str, today: NaiveDate) -> Option<i32> {
    /// Nobody tells a race of so long ago with two figures.
    const MOST: i32 = 40;
    let year: i32 = written.parse().ok()?;
    if written.len() > 2 {
        return Some(year);
    }
    let ago = (today.year() - year).rem_euclid(100);
    (ago < MOST).then(|| today.year() - ago)
}

/// The middle of the month that a text means, where it tells no day, "Oct", "Sept '26", "October 2025": of this month today
/// at the latest, and without a year the last such month up to today.
pub(super) fn middle_of_month(text: &str, today: NaiveDate) -> Option<NaiveDate> {
    const MIDDLE: u32 = 15;
    let line = clean(text);
    let mut left = Text::new(&line);
    let month = take_month(&mut left)?;
    left.skip_space();
    left.take_any(&[',', '-', '/', '\'', '\u{2019}']);
    left.skip_space();
    let written = left.take_digits();
    let year = match written.len() {
        _ if !left.is_done() => return None,
        0 => today.year() - i32::from(month > today.month()),
        2 | 4 => in_full(written, today)?,
        _ => return None,
    };
    let is_now = (year, month) == (today.year(), today.month());
    NaiveDate::from_ymd_opt(year, month, if is_now { MIDDLE.min(today.day()) } else { MIDDLE })
}

/// Whether a text is a month with its year, without a day: "May 2026".
pub(super) fn names_month(text: &str) -> bool {
    let mut left = Text::new(text);
    let has_month = take_month(&mut left).is_some();
    left.skip_space();
    left.take_any(&[',', '-', '/', '\'', '\u{2019}']);
    left.skip_space();
    let year = left.take_digits();
    has_month
        && left.is_done()
        && (year.len() == 4 || (year.len() == 2 && year.parse::<u32>().is_ok_and(|one| one > 31)))
}

/// A day and its month in figures, in whichever order: "8.11.", "11/26", "8.11.26", "8/11/2026".
struct Figures<'a> {
    numbers: [u32; 2],
    /// Two figures or four.
    year: Option<&'a str>,
    mark: char,
}

impl<'a> Figures<'a> {
    fn of(mut text: Text<'a>) -> Option<Self> {
        text.skip_space();
        let first = text.take_digits();
        let mark = text.take_any(&['/', '.', '-'])?;
        text.skip_space();
        let second = text.take_digits();
        let is_marked = text.take_any(&[mark]).is_some();
        text.skip_space();
        let year = text.take_digits();
        let fits = [first, second].iter().all(|figure| (1..=2).contains(&figure.len()))
            && matches!((year.len(), is_marked), (2 | 4, true) | (0, _))
            && (!is_marked || !year.is_empty() || mark == '.');
        let numbers = [first.parse().ok()?, second.parse().ok()?];
        (fits && text.is_done()).then(|| Self { numbers, year: (!year.is_empty()).then_some(year), mark })
    }
}

/// `2027-05-09`, `9.5.2027`: nothing where it is no date in three figures.
fn in_figures(mut text: Text<'_>) -> Option<Result<NaiveDate, ProblemKind>> {
    let written = text.left();
    text.skip_space();
    let first = text.take_digits();
    let mark = text.take_any(&['-', '/', '.'])?;
    text.skip_space();
    let second = text.take_digits();
    text.take_any(&[mark])?;
    text.skip_space();
    let third = text.take_digits();
    if !text.is_done() || ![first, second, third].iter().all(|figure| (1..=4).contains(&figure.len())) {
        return None;
    }
    let numbers = [first, second, third].map(|figure| figure.parse::<u32>().unwrap_or_default());
    match (first.len(), second.len(), third.len()) {
        (4, 1..=2, 1..=2) => day(numbers[0], numbers[1], numbers[2]).map(Ok),
        (1..=2, 1..=2, 4) => {
            let [one, two, year] = numbers;
            match (day(year, two, one), day(year, one, two)) {
                (Some(day_first), Some(month_first)) if day_first != month_first => {
                    let text = written.to_owned();
                    Some(Err(ProblemKind::TwoDates { text, day_first, month_first }))
                }
                (one, other) => one.or(other).map(Ok),
            }
        }
        _ => None,
    }
}

/// `9 May 2027`, `May 9th, 2027`, `9th of May 2027`.
fn with_month_name(mut text: Text<'_>) -> Option<NaiveDate> {
    let in_front = take_month(&mut text);
    text.skip_space();
    let number = text.take_digits();
    text.take_any_phrase(&["st", "nd", "rd", "th"]);
    text.take_any(&['.']);
    text.take_any(&['-', '/']);
    text.take_phrase("of");
    let month = in_front.or_else(|| take_month(&mut text))?;
    text.skip_space();
    text.take_any(&[',', '-', '/']);
    text.skip_space();
    let year = text.take_digits();
    let fits = text.is_done() && year.len() == 4 && (1..=2).contains(&number.len());
    fits.then(|| day(year.parse().ok()?, month, number.parse().ok()?)).flatten()
}

fn day(year: u32, month: u32, day: u32) -> Option<NaiveDate> {
    NaiveDate::from_ymd_opt(i32::try_from(year).ok()?, month, day)
}

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Takes the name of a month, or its first letters from three on.
fn take_month(text: &mut Text<'_>) -> Option<u32> {
    let mut after = *text;
    after.skip_space();
    let number = named(after.take_while(char::is_alphabetic), &MONTHS)?;
    after.take_any(&['.']);
    *text = after;
    u32::try_from(number + 1).ok()
}

fn take_weekday(text: &mut Text<'_>) -> Option<Weekday> {
    const DAYS: [&str; 7] = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
    let mut after = *text;
    after.skip_space();
    let number = named(after.take_while(char::is_alphabetic), &DAYS)?;
    after.take_any(&['.']);
    after.take_any(&[',']);
    *text = after;
    Weekday::try_from(u8::try_from(number).ok()?).ok()
}

/// Which of some names a word is, or begins with three letters or more.
fn named(word: &str, names: &[&str]) -> Option<usize> {
    let word = word.to_ascii_lowercase();
    (word.len() >= 3).then(|| names.iter().position(|name| name.starts_with(&word))).flatten()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_day_is_read_in_every_spelling_that_means_one() {
        for text in [
            "2026-10-10",
            "2026/10/10",
            "2026.10.10",
            "10.10.2026",
            "10/10/2026",
            "10. 10. 2026",
            "10 Oct 2026",
            "10-Oct-2026",
            "Oct 10, 2026",
            "October 10 2026",
            "10th of October 2026",
            "10. October 2026",
            "Sat 10 Oct 2026",
            "Saturday, October 10th, 2026",
        ] {
            assert_eq!(read_date(text).map(|date| date.to_string()).as_deref(), Ok("2026-10-10"), "{text}");
        }
        let read = |text| read_date(text).map(|date| date.to_string());
        assert_eq!(read("25/12/2026").as_deref(), Ok("2026-12-25"));
        assert_eq!(read("12/25/2026").as_deref(), Ok("2026-12-25"));
        assert_eq!(read("2026/5/9").as_deref(), Ok("2026-05-09"));
        assert_eq!(read("1 sept 2026").as_deref(), Ok("2026-09-01"));
    }

    #[test]
    fn figures_that_may_be_two_days_are_asked_about() {
        for text in ["10/11/2026", "10.11.2026", "10-11-2026"] {
            let (day_first, month_first) = (day(2026, 11, 10).unwrap(), day(2026, 10, 11).unwrap());
            let asked = ProblemKind::TwoDates { text: text.to_owned(), day_first, month_first };
            assert_eq!(read_date(text), Err(asked), "{text}");
        }
    }

    #[test]
    fn what_is_no_day_is_refused() {
        for text in [
            "",
            "10 Oct",
            "10.10.26",
            "31/02/2026",
            "2026-02-30",
            "13/13/2026",
            "10 Ok 2026",
            "Mon 10 Oct 2026",
            "soon",
            "2026-10",
            "2026-10-10 x",
            "10/11/12",
            "ma 5 2026",
        ] {
            let refused = ProblemKind::Unreadable { text: text.to_owned(), expected: Expected::Date };
            assert_eq!(read_date(text), Err(refused), "{text}");
        }
    }

    proptest! {
        #[test]
        fn every_day_written_with_its_month_reads_back(days in 0_i32..200_000) {
            let date = NaiveDate::from_ymd_opt(1900, 1, 1).unwrap() + chrono::Duration::days(i64::from(days));
            for format in ["%Y-%m-%d", "%-d %b %Y", "%B %-d, %Y", "%a %-d %b %Y", "%Y/%-m/%-d"] {
                prop_assert_eq!(read_date(&date.format(format).to_string()), Ok(date));
            }
        }

        #[test]
        fn no_text_is_too_strange(text in "\\PC{0,30}") {
            let _ = read_date(&text);
        }
    }
}

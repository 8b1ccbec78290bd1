//! Days.

use chrono::{Datelike as _, NaiveDate, Weekday};

/// `Tuesday`.
pub const fn weekday(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "Monday",
        Weekday::Tue => "Tuesday",
        Weekday::Wed => "Wednesday",
        Weekday::Thu => "Thursday",
        Weekday::Fri => "Friday",
        Weekday::Sat => "Saturday",
        Weekday::Sun => "Sunday",
    }
}

/// `Tue`.
pub const fn weekday_short(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "Mon",
        Weekday::Tue => "Tue",
        Weekday::Wed => "Wed",
        Weekday::Thu => "Thu",
        Weekday::Fri => "Fri",
        Weekday::Sat => "Sat",
        Weekday::Sun => "Sun",
    }
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

fn month(date: NaiveDate) -> &'static str {
    MONTHS[date.month0() as usize]
}

/// `Tuesday 4 May 2027`.
pub fn full_date(date: NaiveDate) -> String {
    format!("{} {}", long_date(date), date.year())
}

/// `4 May 2027`.
pub(super) fn day_month_year(date: NaiveDate) -> String {
    format!("{} {} {}", date.day(), month(date), date.year())
}

/// `Tuesday 4 May`.
pub fn long_date(date: NaiveDate) -> String {
    format!("{} {} {}", weekday(date.weekday()), date.day(), month(date))
}

/// `Tue 4 May`.
pub fn short_date(date: NaiveDate) -> String {
    let month = month(date).get(..3).unwrap_or_default();
    format!("{} {} {month}", weekday_short(date.weekday()), date.day())
}

/// `26 April to 2 May`, `3 to 9 May`, `9 May`.
pub fn date_range(from: NaiveDate, to: NaiveDate) -> String {
    let end = format!("{} {}", to.day(), month(to));
    if from == to {
        end
    } else if from.year() != to.year() {
        format!("{} {} {} to {end} {}", from.day(), month(from), from.year(), to.year())
    } else if from.month() == to.month() {
        format!("{} to {end}", from.day())
    } else {
        format!("{} {} to {end}", from.day(), month(from))
    }
}

/// `race day`, `the day before the race`, `6 days before the race`.
pub fn days_to_race(days: u16) -> String {
    match days {
        0 => "race day".to_owned(),
        1 => "the day before the race".to_owned(),
        days => format!("{days} days before the race"),
    }
}

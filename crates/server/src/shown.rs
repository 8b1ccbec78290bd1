//! How days are written on pages, and how a text begins there. Everything else is said by `formats::words`.

use chrono::{Datelike, NaiveDate};
use formats::words;

/// `Sun 9 May`, with the year where it is not this one.
pub(crate) fn day(date: NaiveDate, today: NaiveDate) -> String {
    if date.year() == today.year() {
        words::short_date(date)
    } else {
        format!("{} {}", words::short_date(date), date.year())
    }
}

/// How far a day is: `today`, `tomorrow`, `in 12 days`, `3 days ago`.
pub(crate) fn away(date: NaiveDate, today: NaiveDate) -> String {
    match (date - today).num_days() {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        -1 => "yesterday".to_owned(),
        days if days > 0 => format!("in {days} days"),
        days => format!("{} days ago", -days),
    }
}

/// A text with a capital in front.
pub(crate) fn capital(text: &str) -> String {
    let mut characters = text.chars();
    let first = characters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(characters).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn the_distance_of_a_day_is_said_as_people_say_it() {
        let today = date("2027-04-20");
        for (day, words) in [
            ("2027-04-20", "today"),
            ("2027-04-21", "tomorrow"),
            ("2027-04-22", "in 2 days"),
            ("2027-04-19", "yesterday"),
            ("2027-04-10", "10 days ago"),
        ] {
            assert_eq!(away(date(day), today), words);
        }
    }

    #[test]
    fn the_year_is_said_only_when_it_is_another() {
        assert_eq!(day(date("2027-05-09"), date("2027-04-20")), "Sun 9 May");
        assert_eq!(day(date("2028-01-02"), date("2027-12-20")), "Sun 2 Jan 2028");
    }
}

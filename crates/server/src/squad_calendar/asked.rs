//! What the address asks for, read without refusing anything: what cannot be read is said, and left out.

use chrono::{Datelike, Days, NaiveDate, Weekday};
use formats::words;
use planning::ProblemKind;
use planning::notation::read_date;
use serde::Deserialize;
use store::{CalendarAsked, RaceRecord};

use crate::log::week_start;
use crate::pages::Address;
use crate::paths;

/// How many weeks stand side by side.
pub(super) const WEEKS: u32 = 12;
/// By how many weeks one turns.
pub(super) const TURN: u32 = 4;
/// How many athletes stand on one page.
pub(super) const ROWS: usize = 40;
/// How many years off a first week may lie: farther away it is a slip of the pen.
const YEARS: i32 = 20;

/// The fields in the address.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Filter {
    pub(super) group: String,
    pub(super) race: String,
    pub(super) from: String,
    pub(super) page: String,
}

impl Filter {
    /// Whether somebody may be left out.
    pub(super) fn is_set(&self) -> bool {
        !self.group.is_empty() || !self.race.is_empty()
    }

    /// The first day of the first week, and what is wrong with the day that was asked for.
    pub(super) fn from(&self, today: NaiveDate, first: Weekday) -> (NaiveDate, Option<String>) {
        let this_week = week_start(today, first);
        let typed = self.from.trim();
        if typed.is_empty() {
            return (this_week, None);
        }
        let wrong = |what: &str| {
            (this_week, Some(format!("“{}” is {what}, so the calendar begins this week.", words::quote(typed))))
        };
        match read_date(typed) {
            Ok(day) if (day.year() - today.year()).abs() <= YEARS => (week_start(day, first), None),
            Ok(_) => wrong("too far away"),
            Err(ProblemKind::TwoDates { .. }) => wrong("two dates at once (write 10 Nov 2026, say)"),
            Err(_) => wrong("not a date such as 2027-05-09"),
        }
    }

    /// What the store is asked.
    pub(super) fn asked(&self, from: NaiveDate, race: Option<&RaceRecord>) -> CalendarAsked {
        CalendarAsked {
            group: self.group.clone(),
            race: race.map(|race| race.id),
            from,
            weeks: WEEKS,
            page: self.page.trim().parse().unwrap_or(1_usize).saturating_sub(1),
            rows: ROWS,
        }
    }

    /// The address of the same part of the squad from another week on; nothing is this week.
    pub(super) fn address(&self, from: Option<NaiveDate>) -> Address {
        let from = from.map(|day| day.to_string()).unwrap_or_default();
        Address::new(paths::CALENDAR).with("group", &self.group).with("race", &self.race).with("from", &from)
    }
}

/// So many weeks later, or earlier.
pub(super) fn turned(from: NaiveDate, later: bool) -> NaiveDate {
    let days = Days::new(u64::from(TURN) * 7);
    if later { from + days } else { from - days }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn from(typed: &str, week_start: Weekday) -> (String, Option<String>) {
        let filter = Filter { from: typed.to_owned(), ..Filter::default() };
        let (day, wrong) = filter.from("2027-04-20".parse().unwrap(), week_start);
        (day.to_string(), wrong)
    }

    #[test]
    fn any_day_asks_for_its_week() {
        assert_eq!(from("", Weekday::Mon), ("2027-04-19".to_owned(), None));
        assert_eq!(from(" 2027-05-09 ", Weekday::Mon), ("2027-05-03".to_owned(), None));
        assert_eq!(from("2027-05-09", Weekday::Sun), ("2027-05-09".to_owned(), None));
    }

    #[test]
    fn what_is_no_day_is_said_and_this_week_is_shown() {
        for (typed, words) in [
            ("soon", "“soon” is not a date such as 2027-05-09, so the calendar begins this week."),
            ("2027-02-30", "“2027-02-30” is not a date such as 2027-05-09, so the calendar begins this week."),
            ("9999-12-31", "“9999-12-31” is too far away, so the calendar begins this week."),
        ] {
            assert_eq!(from(typed, Weekday::Mon), ("2027-04-19".to_owned(), Some(words.to_owned())));
        }
    }
}

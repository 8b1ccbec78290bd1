//! The timetable of the morning.

use chrono::{NaiveDate, NaiveTime, Timelike as _};
use planning::morning::{Item, Trouble};

use crate::race_morning::{Row, Turn, Unclear};
use crate::words::full_date;

/// What has its time.
pub const fn item(item: Item) -> &'static str {
    match item {
        Item::Wake => "get up",
        Item::Eat => "last meal",
        Item::Leave => "leave",
        Item::Arrive => "be there",
        Item::BagsClose => "bags in",
        Item::WarmUp => "warm up",
        Item::PensClose => "pens close",
        Item::LineUp => "line up",
        Item::Start => "start",
    }
}

/// `9:05`.
pub fn time(time: NaiveTime) -> String {
    format!("{}:{:02}", time.hour(), time.minute())
}

/// When it is: `6:15`, `23:30 the day before`, `2:30, before the clocks go back`.
pub fn when(row: &Row, race: NaiveDate) -> String {
    let (at, date) = (time(row.at.time()), row.at.date());
    let said = if date == race {
        at
    } else if date.succ_opt() == Some(race) {
        format!("{at} the day before")
    } else {
        format!("{at} on {}", full_date(date))
    };
    match row.turn {
        Some(Turn::First) => said + ", before the clocks go back",
        Some(Turn::Second) => said + ", after the clocks went back",
        None => said,
    }
}

/// What does not go together, as a sentence for the coach.
pub fn unclear(unclear: &Unclear) -> String {
    match unclear {
        Unclear::Order(Trouble::PensAfterStart) => {
            "The pens close after the start: the time is left out of the morning until one of the two is right."
                .to_owned()
        }
        Unclear::Order(Trouble::BagsAfterStart) => {
            "Bags are taken until after the start: the time is left out of the morning until one of the two is right."
                .to_owned()
        }
        Unclear::Order(Trouble::EatOnTheWay) => {
            "The last meal comes after leaving: it has to be taken along, or eaten earlier.".to_owned()
        }
        Unclear::WaveBeforeStart => {
            "The wave starts before the race itself: the morning is counted from the start of the race.".to_owned()
        }
        Unclear::LeftOut(what, at) => format!(
            "The clocks leave out {} that night, so there is no such time for \u{201c}{}\u{201d}.",
            time(*at),
            item(*what)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(at: &str, turn: Option<Turn>) -> String {
        let race = "2027-05-09".parse().unwrap();
        when(&Row { item: Item::Wake, at: at.parse().unwrap(), turn }, race)
    }

    #[test]
    fn a_time_says_its_day_where_it_is_another() {
        assert_eq!(said("2027-05-09T06:05:00", None), "6:05");
        assert_eq!(said("2027-05-08T23:45:00", None), "23:45 the day before");
        assert_eq!(said("2027-05-07T09:00:00", None), "9:00 on Friday 7 May 2027");
        assert_eq!(said("2027-05-10T00:10:00", None), "0:10 on Monday 10 May 2027", "a wave after midnight");
        assert_eq!(said("2027-05-09T02:30:00", Some(Turn::First)), "2:30, before the clocks go back");
        assert_eq!(said("2027-05-09T02:30:00", Some(Turn::Second)), "2:30, after the clocks went back");
    }

    #[test]
    fn a_time_that_does_not_exist_is_named() {
        let at = NaiveTime::from_hms_opt(2, 30, 0).unwrap();
        assert_eq!(
            unclear(&Unclear::LeftOut(Item::BagsClose, at)),
            "The clocks leave out 2:30 that night, so there is no such time for \u{201c}bags in\u{201d}."
        );
    }
}

//! Who is ill or injured, since when and until when. For the coach alone.

use chrono::{Datelike, NaiveDate};
use planning::replan::eased_until;
use planning::{EventKind, LifeEvent};

use super::dates::{short_date, weekday};

/// How an athlete is on a day: `ill since Tuesday, no end noted`, `injured since Tue 3 Nov, until Fri 4 Dec`; once
/// it is over, `ill until Tuesday, easy days until Thursday`.
pub fn unwell(event: &LifeEvent, today: NaiveDate) -> String {
    let how = how(event.kind);
    let event = event.as_of(today);
    if event.to < today {
        let over = format!("{how} until {}", near(event.to, today));
        let eased = eased_until(&event);
        return if eased < today { over } else { format!("{over}, easy days until {}", near(eased, today)) };
    }
    let since =
        if event.from == today { "since today".to_owned() } else { format!("since {}", near(event.from, today)) };
    if event.open {
        format!("{how} {since}, no end noted")
    } else {
        format!("{how} {since}, until {}", near(event.to, today))
    }
}

/// What the usual running stands under for who is not well on a day, or was not just before: `not while ill`.
pub fn unwell_reservation(event: &LifeEvent, today: NaiveDate) -> String {
    if event.is_unwell_on(today) {
        return format!("not while {}", how(event.kind));
    }
    format!("easy until {}", near(eased_until(event), today))
}

const fn how(kind: EventKind) -> &'static str {
    match kind {
        EventKind::Injury => "injured",
        EventKind::Illness { fever: true } => "ill with fever",
        _ => "ill",
    }
}

/// A day within six days by its name, else by its date.
fn near(day: NaiveDate, today: NaiveDate) -> String {
    match (day - today).num_days() {
        0 => "today".to_owned(),
        -6..=6 => weekday(day.weekday()).to_owned(),
        _ if day.year() == today.year() => short_date(day),
        _ => format!("{} {}", short_date(day), day.year()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn said(kind: EventKind, from: &str, to: &str, open: bool) -> String {
        let noted = day(from);
        unwell(&LifeEvent { kind, from: day(from), to: day(to), noted, open }, day("2027-04-20"))
    }

    const FEVER: EventKind = EventKind::Illness { fever: true };
    const ILL: EventKind = EventKind::Illness { fever: false };

    #[test]
    fn since_when_and_until_when_is_said_as_far_as_it_is_known() {
        assert_eq!(said(ILL, "2027-04-18", "2027-04-18", true), "ill since Sunday, no end noted");
        assert_eq!(said(FEVER, "2027-04-20", "2027-04-20", true), "ill with fever since today, no end noted");
        assert_eq!(
            said(EventKind::Injury, "2027-04-13", "2027-04-29", false),
            "injured since Tue 13 Apr, until Thu 29 Apr"
        );
        assert_eq!(
            said(EventKind::Injury, "2026-12-01", "2026-12-01", true),
            "injured since Tue 1 Dec 2026, no end noted"
        );
        assert_eq!(said(ILL, "2027-04-18", "2027-04-20", false), "ill since Sunday, until today");
    }

    #[test]
    fn what_is_over_takes_its_easy_days() {
        assert_eq!(
            said(FEVER, "2027-04-16", "2027-04-18", false),
            "ill with fever until Sunday, easy days until Thursday"
        );
        assert_eq!(said(ILL, "2027-04-10", "2027-04-11", false), "ill until Sun 11 Apr");
    }

    #[test]
    fn as_usual_has_its_reservation() {
        let of = |from: &str, to: &str, open| {
            let event = LifeEvent { kind: FEVER, from: day(from), to: day(to), noted: day(from), open };
            unwell_reservation(&event.as_of(day("2027-04-20")), day("2027-04-20"))
        };
        assert_eq!(of("2027-04-10", "2027-04-10", true), "not while ill with fever");
        assert_eq!(of("2027-04-16", "2027-04-18", false), "easy until Thursday");
    }
}

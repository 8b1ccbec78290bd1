//! The base week: seven days of sessions that the athlete really does.

use chrono::{Datelike, NaiveDate, Weekday};

use crate::problem::{Field, Problem, ProblemKind};
use crate::session::Session;
use crate::units::{Amount, Milli, Pace, Totals, Unit};

/// The days of a base week in order, Monday first.
pub const WEEKDAYS: [Weekday; 7] =
    [Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu, Weekday::Fri, Weekday::Sat, Weekday::Sun];

/// The name of a weekday in files, forms and the data file: `mon`.
pub const fn weekday_code(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "mon",
        Weekday::Tue => "tue",
        Weekday::Wed => "wed",
        Weekday::Thu => "thu",
        Weekday::Fri => "fri",
        Weekday::Sat => "sat",
        Weekday::Sun => "sun",
    }
}

/// The weekday with this [`weekday_code`].
pub fn weekday_from_code(code: &str) -> Option<Weekday> {
    WEEKDAYS.into_iter().find(|day| weekday_code(*day) == code)
}

/// A place in the base week: one session, or several of which one is done ("tempo or hills").
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slot {
    options: Vec<Session>,
}

impl Slot {
    /// A slot with one session.
    pub fn one(session: Session) -> Self {
        Self { options: vec![session] }
    }

    /// A slot with alternatives, in the order typed; nothing if there is none.
    pub fn any_of(options: Vec<Session>) -> Option<Self> {
        (!options.is_empty()).then_some(Self { options })
    }

    /// The alternatives, at least one.
    pub fn options(&self) -> &[Session] {
        &self.options
    }

    /// The session that a block is planned from: the only one, else the flattest and the nearest to
    /// racing, the first of equals.
    pub fn chosen(&self) -> &Session {
        let mut best = &self.options[0];
        for option in &self.options[1..] {
            if option.kind.distance_from_racing() < best.kind.distance_from_racing() {
                best = option;
            }
        }
        best
    }
}

/// Seven days of sessions, Monday first; a day without sessions is rest.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct BaseWeek {
    days: [Vec<Slot>; 7],
    range: Option<Amount>,
}

impl BaseWeek {
    /// The most sessions on one day.
    pub const MOST_A_DAY: usize = 4;

    /// A week from its days, Monday first, and a weekly range of its own if it has one.
    pub const fn new(days: [Vec<Slot>; 7], range: Option<Amount>) -> Self {
        Self { days, range }
    }

    /// The slots of one weekday.
    pub fn day(&self, weekday: Weekday) -> &[Slot] {
        &self.days[weekday.num_days_from_monday() as usize]
    }

    /// The slots that fall on a date.
    pub fn on(&self, date: NaiveDate) -> &[Slot] {
        self.day(date.weekday())
    }

    /// The weekly range that the coach gave for the week as a whole.
    pub const fn range(&self) -> Option<Amount> {
        self.range
    }

    /// Every chosen session of the week with its weekday, Monday first.
    pub fn sessions(&self) -> impl Iterator<Item = (Weekday, &Session)> {
        WEEKDAYS.into_iter().flat_map(|weekday| self.day(weekday).iter().map(move |slot| (weekday, slot.chosen())))
    }

    /// The running of the week, unit by unit: the sum of the days.
    pub fn running(&self) -> Totals {
        self.sessions().filter_map(|(_, session)| session.running()).collect()
    }

    /// The hard running of the week, unit by unit.
    pub fn hard_running(&self) -> Totals {
        self.sessions()
            .filter(|(_, session)| session.is_hard())
            .filter_map(|(_, session)| session.hard_part())
            .collect()
    }

    /// How many days hold running.
    pub fn running_days(&self) -> usize {
        WEEKDAYS.into_iter().filter(|weekday| self.runs_on(*weekday)).count()
    }

    /// Whether the weekday holds running.
    pub fn runs_on(&self, weekday: Weekday) -> bool {
        self.day(weekday).iter().any(|slot| slot.chosen().running_middle() > Milli::ZERO)
    }

    /// Whether the weekday holds nothing at all, no strength either.
    pub fn is_rest(&self, weekday: Weekday) -> bool {
        !self.runs_on(weekday)
    }

    /// Whether all running is in minutes.
    pub fn is_timed(&self) -> bool {
        self.running().single_unit() == Some(Unit::Min)
    }

    /// The middle of the week in kilometres, minutes by the pace: for comparing with limits.
    pub fn middle_km(&self, pace: Option<Pace>) -> f64 {
        self.running().middle_km(pace.unwrap_or(Pace::ASSUMED))
    }

    /// Everything that is wrong with the week as typed, day by day.
    pub fn problems(&self) -> Vec<Problem> {
        let mut found = Vec::new();
        for weekday in WEEKDAYS {
            let slots = self.day(weekday);
            if slots.len() > Self::MOST_A_DAY {
                found.push(Problem::new(
                    Field::Session(weekday, Self::MOST_A_DAY),
                    ProblemKind::TooManySessions { count: slots.len(), most: Self::MOST_A_DAY },
                ));
            }
            for (index, slot) in slots.iter().enumerate() {
                for kind in slot.options().iter().flat_map(Session::problems) {
                    found.push(Problem::new(Field::Session(weekday, index), kind));
                }
            }
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weekdays_read_back_from_their_names_and_from_nothing_else() {
        for weekday in WEEKDAYS {
            assert_eq!(weekday_from_code(weekday_code(weekday)), Some(weekday));
        }
        for other in ["Mon", "monday", ""] {
            assert_eq!(weekday_from_code(other), None);
        }
    }
}

//! The base week: seven days of sessions that the athlete really does, or two weeks that take turns.

use chrono::{Datelike, NaiveDate, Weekday};

use crate::problem::{Field, Problem, ProblemKind};
use crate::race::is_believed;
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
pub struct SevenDays {
    days: [Vec<Slot>; 7],
}

impl SevenDays {
    /// From its days, Monday first.
    pub const fn new(days: [Vec<Slot>; 7]) -> Self {
        Self { days }
    }

    /// The slots of one weekday.
    pub fn day(&self, weekday: Weekday) -> &[Slot] {
        &self.days[weekday.num_days_from_monday() as usize]
    }

    /// Every chosen session with its weekday, Monday first.
    pub fn sessions(&self) -> impl Iterator<Item = (Weekday, &Session)> {
        WEEKDAYS.into_iter().flat_map(|weekday| self.day(weekday).iter().map(move |slot| (weekday, slot.chosen())))
    }

    /// The running, unit by unit: the sum of the days.
    pub fn running(&self) -> Totals {
        self.sessions().filter_map(|(_, session)| session.running()).collect()
    }

    /// The hard running, unit by unit.
    pub fn hard_running(&self) -> Totals {
        self.sessions().filter_map(|(_, session)| session.hard_running()).collect()
    }

    /// How many days hold running.
    pub fn running_days(&self) -> usize {
        WEEKDAYS.into_iter().filter(|weekday| self.runs_on(*weekday)).count()
    }

    /// Days with two runs or more.
    pub fn days_with_two_runs(&self) -> usize {
        let runs = |weekday: &Weekday| {
            self.day(*weekday).iter().filter(|slot| slot.chosen().running_middle() > Milli::ZERO).count()
        };
        WEEKDAYS.iter().filter(|weekday| runs(weekday) > 1).count()
    }

    /// Whether the weekday holds running.
    pub fn runs_on(&self, weekday: Weekday) -> bool {
        self.day(weekday).iter().any(|slot| slot.chosen().running_middle() > Milli::ZERO)
    }

    fn problems(&self, at: impl Fn(Weekday, usize) -> Field) -> Vec<Problem> {
        let mut found = Vec::new();
        for weekday in WEEKDAYS {
            let slots = self.day(weekday);
            if slots.len() > BaseWeek::MOST_A_DAY {
                found.push(Problem::new(
                    at(weekday, BaseWeek::MOST_A_DAY),
                    ProblemKind::TooManySessions { count: slots.len(), most: BaseWeek::MOST_A_DAY },
                ));
            }
            for (index, slot) in slots.iter().enumerate() {
                for kind in slot.options().iter().flat_map(Session::problems) {
                    found.push(Problem::new(at(weekday, index), kind));
                }
            }
        }
        found
    }
}

/// A second week that takes turns with the first: a lighter one, for most.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Turns {
    /// Its days.
    pub week: SevenDays,
    /// A Monday on which it stands; it stands in every other week from there, both ways.
    pub stands_on: NaiveDate,
}

impl Turns {
    /// Whether the second week is due in the calendar week (Monday to Sunday) of a date.
    pub fn stands_in_week_of(&self, date: NaiveDate) -> bool {
        let monday = |date: NaiveDate| date.week(Weekday::Mon).first_day();
        ((monday(date) - monday(self.stands_on)).num_days() / 7) % 2 == 0
    }

    /// Everything that is wrong with it.
    pub fn problems(&self) -> Vec<Problem> {
        let mut found = self.week.problems(Field::SecondSession);
        if self.week.running().is_empty() && found.is_empty() {
            found.push(Problem::new(Field::SecondWeek, ProblemKind::EmptyWeek));
        }
        let date = self.stands_on;
        if !is_believed(date) {
            found.push(Problem::new(Field::StandsOn, ProblemKind::DateOutOfRange { date }));
        } else if date.weekday() != Weekday::Mon {
            found.push(Problem::new(Field::StandsOn, ProblemKind::NotAMonday { date }));
        }
        found
    }
}

/// What the athlete really does: one week, or two that take turns.
///
/// With two weeks each date takes the sessions of the week that is due there. What is asked of the
/// pattern as a whole is answered so: how much the athlete runs is the mean of the two weeks, how long
/// a long run is says the [fuller](BaseWeek::fuller) one, and what the athlete is used to is whatever
/// stands in either.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct BaseWeek {
    first: SevenDays,
    range: Option<Amount>,
    turns: Option<Turns>,
    since: Option<NaiveDate>,
}

impl BaseWeek {
    /// The most sessions on one day.
    pub const MOST_A_DAY: usize = 4;

    /// A week from its days, Monday first, and a weekly range of its own if it has one.
    pub const fn new(days: [Vec<Slot>; 7], range: Option<Amount>) -> Self {
        Self { first: SevenDays::new(days), range, turns: None, since: None }
    }

    /// The same with a second week that takes turns with it.
    #[must_use]
    pub fn taking_turns(self, turns: Option<Turns>) -> Self {
        Self { turns, ..self }
    }

    /// The same with the day since when the athlete runs like this.
    #[must_use]
    pub fn run_since(self, since: Option<NaiveDate>) -> Self {
        Self { since, ..self }
    }

    /// The first week, and the only one where none takes turns with it.
    pub const fn first(&self) -> &SevenDays {
        &self.first
    }

    /// The second week, if two take turns.
    pub const fn turns(&self) -> Option<&Turns> {
        self.turns.as_ref()
    }

    /// Since when the athlete runs like this, if the coach said so.
    pub const fn since(&self) -> Option<NaiveDate> {
        self.since
    }

    /// The week, or both in order.
    pub fn weeks(&self) -> impl Iterator<Item = &SevenDays> {
        std::iter::once(&self.first).chain(self.turns.as_ref().map(|turns| &turns.week))
    }

    /// The week with more running; the first of equals.
    pub fn fuller(&self, pace: Pace) -> &SevenDays {
        match &self.turns {
            Some(turns) if turns.week.running().middle_km(pace) > self.first.running().middle_km(pace) => &turns.week,
            _ => &self.first,
        }
    }

    /// Whether the second week is due on a date.
    pub fn is_second_due(&self, date: NaiveDate) -> bool {
        self.turns.as_ref().is_some_and(|turns| turns.stands_in_week_of(date))
    }

    /// The week that is due on a date.
    pub fn due(&self, date: NaiveDate) -> &SevenDays {
        match &self.turns {
            Some(turns) if turns.stands_in_week_of(date) => &turns.week,
            _ => &self.first,
        }
    }

    /// The slots of one weekday of the first week.
    pub fn day(&self, weekday: Weekday) -> &[Slot] {
        self.first.day(weekday)
    }

    /// The slots that fall on a date.
    pub fn on(&self, date: NaiveDate) -> &[Slot] {
        self.due(date).day(date.weekday())
    }

    /// The sessions that a block is planned from on a date.
    pub fn chosen_on(&self, date: NaiveDate) -> Vec<Session> {
        self.on(date).iter().map(|slot| slot.chosen().clone()).collect()
    }

    /// The usual running of a date, unit by unit.
    pub fn running_on(&self, date: NaiveDate) -> Totals {
        self.on(date).iter().filter_map(|slot| slot.chosen().running()).collect()
    }

    /// The weekly range that the coach gave for the (first) week as a whole.
    pub const fn range(&self) -> Option<Amount> {
        self.range
    }

    /// The weekly range as far as the days of the (first) week allow it; nothing where they are in another
    /// unit or lie outside of it.
    pub(crate) fn range_of_days(&self) -> Option<Amount> {
        let range = self.range?;
        let running = self.first.running();
        let days = running.of(range.unit());
        let (low, high) = (range.low().max(days.low()), range.high().min(days.high()));
        let says_something = running.single_unit() == Some(range.unit()) && low <= high;
        says_something.then(|| Amount::between(low, high, range.unit()))
    }

    /// Every chosen session with its weekday, Monday first, of the second week too.
    pub fn sessions(&self) -> impl Iterator<Item = (Weekday, &Session)> {
        self.weeks().flat_map(SevenDays::sessions)
    }

    /// Whether it holds hard running, but nowhere more than [a touch](Session::is_hard_by_a_touch) of it.
    pub fn is_hard_by_touches_only(&self) -> bool {
        let mut hard = self.sessions().map(|(_, session)| session).filter(|session| session.is_hard()).peekable();
        hard.peek().is_some() && hard.all(Session::is_hard_by_a_touch)
    }

    /// The running of a week, unit by unit: the sum of its days, the mean of the two where two take turns.
    pub fn running(&self) -> Totals {
        let first = self.first.running();
        match &self.turns {
            None => first,
            Some(turns) => first.mean(&turns.week.running()),
        }
    }

    /// How many days a week hold running; the mean where two take turns, a half counted up.
    pub fn running_days(&self) -> usize {
        let days: Vec<usize> = self.weeks().map(SevenDays::running_days).collect();
        days.iter().sum::<usize>().div_ceil(days.len())
    }

    /// Days with two runs or more, of the one of two weeks that has more of them.
    pub fn days_with_two_runs(&self) -> usize {
        self.weeks().map(SevenDays::days_with_two_runs).max().unwrap_or_default()
    }

    /// Whether all running is in minutes.
    pub fn is_timed(&self) -> bool {
        self.running().single_unit() == Some(Unit::Min)
    }

    /// The middle of a week in kilometres, minutes by the pace, the mean where two take turns: for
    /// comparing with limits.
    pub fn middle_km(&self, pace: Option<Pace>) -> f64 {
        self.running().middle_km(pace.unwrap_or(Pace::ASSUMED))
    }

    /// Everything that is wrong as typed, day by day, the second week last.
    pub fn problems(&self) -> Vec<Problem> {
        let mut found = self.first.problems(Field::Session);
        if let Some(date) = self.since.filter(|date| !is_believed(*date)) {
            found.push(Problem::new(Field::Since, ProblemKind::DateOutOfRange { date }));
        }
        found.extend(self.turns.iter().flat_map(Turns::problems));
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

    fn monday(day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2027, 5, day).unwrap()
    }

    fn seven(line: &str) -> SevenDays {
        let day = || crate::notation::read_day(line, crate::DistanceUnit::Km).unwrap();
        SevenDays::new(std::array::from_fn(|_| day()))
    }

    fn pattern(first: &str, second: &str) -> BaseWeek {
        let days = std::array::from_fn(|_| crate::notation::read_day(first, crate::DistanceUnit::Km).unwrap());
        BaseWeek::new(days, None).taking_turns(Some(Turns { week: seven(second), stands_on: monday(3) }))
    }

    #[test]
    fn the_second_week_stands_every_other_week_both_ways() {
        let week = pattern("8", "5");
        for (weeks, second) in [(-53, false), (-52, true), (-1, false), (0, true), (1, false), (2, true), (3, false)] {
            for day in 0..7 {
                let date = monday(3) + chrono::TimeDelta::days(weeks * 7 + day);
                assert_eq!(week.is_second_due(date), second, "{date}");
                let expected = if second { 5 } else { 8 };
                assert_eq!(week.on(date)[0].chosen().running_middle(), Milli::whole(expected), "{date}");
            }
        }
        assert!(!BaseWeek::default().is_second_due(monday(3)));
    }

    #[test]
    fn mileage_is_the_mean_and_the_fuller_week_is_either() {
        for week in [pattern("8", "5"), pattern("5", "8")] {
            assert!((week.middle_km(None) - 45.5).abs() < 1e-9);
            assert_eq!(week.fuller(Pace::ASSUMED), &seven("8"));
            assert_eq!(week.sessions().count(), 14);
        }
        let mixed = pattern("8", "50 min");
        let parts: Vec<String> = mixed.running().parts().iter().map(ToString::to_string).collect();
        assert_eq!(parts, ["28 km", "175 min"]);
        assert_eq!(pattern("8", "rest").running_days(), 4, "three and a half");
    }

    #[test]
    fn two_weeks_in_one_unit_have_no_part_in_another() {
        for (first, second, unit) in [("8", "5", Unit::Km), ("5 mi", "4 mi", Unit::Mi), ("50 min", "40 min", Unit::Min)]
        {
            let week = pattern(first, second);
            assert_eq!(week.running().single_unit(), Some(unit), "{first} and {second}");
            assert_eq!(week.is_timed(), unit == Unit::Min, "{first} and {second}");
        }
    }

    #[test]
    fn a_second_week_is_checked_like_the_first() {
        let at = |week: &BaseWeek| week.problems().into_iter().map(|problem| problem.at).collect::<Vec<_>>();
        assert_eq!(at(&pattern("8", "5")), []);
        assert_eq!(at(&pattern("8", "rest")), [Field::SecondWeek]);
        assert_eq!(at(&pattern("8", "tempo 5, hard 9"))[0], Field::SecondSession(Weekday::Mon, 0));
        for day in 3..=10 {
            let turns = Turns { week: seven("5"), stands_on: monday(day) };
            let is_monday = matches!(day, 3 | 10);
            assert_eq!(turns.problems().is_empty(), is_monday, "{day}");
        }
        let far = Turns { week: seven("5"), stands_on: NaiveDate::from_ymd_opt(2290, 1, 6).unwrap() };
        assert_eq!(far.problems().len(), 1);
        let since = pattern("8", "5").run_since(NaiveDate::from_ymd_opt(1989, 12, 31));
        assert_eq!(at(&since), [Field::Since]);
    }
}

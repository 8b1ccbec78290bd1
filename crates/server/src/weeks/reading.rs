//! What seven typed lines say, and what is wrong with them.

use chrono::Weekday;
use formats::words;
use planning::notation::{read_amount, read_day, read_week};
use planning::week::{Slot, WEEKDAYS, weekday_code};
use planning::{Athlete, BaseWeek, Field, Problem};

use crate::form::Problems;

/// Seven lines and the range of the week, Monday first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Lines {
    pub(crate) days: [String; 7],
    pub(crate) range: String,
}

/// What the lines say.
pub(crate) struct Reading {
    /// Each day in the program's words; nothing where the line cannot be read.
    pub(crate) days: [String; 7],
    /// The totals in a sentence; of the readable days alone if some cannot be read.
    pub(crate) totals: String,
    pub(crate) problems: Problems,
}

impl Reading {
    /// Reads lines for an athlete.
    pub(crate) fn of(lines: &Lines, athlete: &Athlete) -> Self {
        let texts = lines.days.each_ref().map(String::as_str);
        let days = texts.map(|line| read_day(line, athlete.units).ok());
        let range = read_amount(&lines.range, athlete.units).ok();
        let found = read_week(&texts, &lines.range, athlete.units).err().unwrap_or_default();
        let mut problems = Problems::default();
        for problem in &found {
            problems.add(control(&problem.at), crate::words::problem(problem));
        }
        let unread = days.iter().filter(|day| day.is_none()).count();
        let week = BaseWeek::new(days.clone().map(Option::unwrap_or_default), range);
        let mut totals = words::usual_week(&week, athlete.units, athlete.easy_pace);
        if unread > 0 {
            totals.push_str(" Days that cannot be read yet are not counted.");
        }
        Self { days: days.map(|slots| slots.map_or_else(String::new, |slots| day(&slots))), totals, problems }
    }
}

/// A day in the program's words: `intervals 10 km: 6 × 800 m + strength 30 min`.
pub(crate) fn day(slots: &[Slot]) -> String {
    if slots.is_empty() {
        return "rest".to_owned();
    }
    let slot = |slot: &Slot| slot.options().iter().map(words::session).collect::<Vec<_>>().join(" or ");
    slots.iter().map(slot).collect::<Vec<_>>().join(" + ")
}

/// The control at which a problem of a week is said.
pub(crate) fn control(at: &Field) -> String {
    match at {
        Field::Session(day, _) => weekday_code(*day).to_owned(),
        Field::WeekRange => "range".to_owned(),
        _ => weekday_code(Weekday::Mon).to_owned(),
    }
}

/// Every weekday by its code and its name, Monday first.
pub(crate) fn weekdays() -> [(&'static str, &'static str); 7] {
    WEEKDAYS.map(|day| (weekday_code(day), words::weekday(day)))
}

/// The problems that the store found although the page found none: a safety net, said at the days.
pub(crate) fn refused(found: &[Problem]) -> Problems {
    let mut problems = Problems::default();
    for problem in found {
        problems.add(control(&problem.at), crate::words::problem(problem));
    }
    problems
}

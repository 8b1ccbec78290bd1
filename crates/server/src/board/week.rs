//! This calendar week of an athlete, planned beside usual.

use chrono::{Days, NaiveDate};
use formats::words;
use planning::{DistanceUnit, Pace, Totals};
use store::{BoardBlock, BoardRow};

use crate::shown;

/// The days of a calendar week that a block knows of.
struct CalendarWeek {
    planned: Totals,
    usual: Totals,
    days: usize,
    has_race: bool,
    /// By which minutes are counted.
    pace: Option<Pace>,
}

impl CalendarWeek {
    /// `34 km and the race on 6 days`.
    fn planned_days(&self, units: DistanceUnit) -> String {
        let days = if self.days < 7 { format!(" on {}", words::plural(self.days, "day")) } else { String::new() };
        let race = if self.has_race { " and the race" } else { "" };
        format!("{}{race}{days}", words::totals(&self.planned, units))
    }

    /// The same, with what it comes to where some of it is minutes.
    fn planned(&self, units: DistanceUnit) -> String {
        self.planned_days(units) + &estimated(words::in_all(&self.planned, units, self.pace))
    }

    fn words(&self, units: DistanceUnit) -> String {
        let planned = self.planned_days(units);
        let usual = if self.planned == self.usual && !self.has_race {
            "as usual".to_owned()
        } else {
            format!("usually {}", words::totals(&self.usual, units))
        };
        let all = words::in_all_of(&self.planned, &self.usual, units, self.pace);
        format!("{planned}, {usual}{}", estimated(all))
    }
}

/// ` (in all about 28 km, the minutes counted at 5:20/km)`.
fn estimated(in_all: Option<String>) -> String {
    in_all.map_or_else(String::new, |all| format!(" (in all {all})"))
}

fn week_of(block: &BoardBlock, from: NaiveDate) -> Option<CalendarWeek> {
    let to = from + Days::new(6);
    let (planned, usual) = (Totals::default(), Totals::default());
    let mut week = CalendarWeek { planned, usual, days: 0, has_race: false, pace: block.pace };
    for day in block.days.iter().filter(|day| (from..=to).contains(&day.date)) {
        week.planned.extend(&day.planned);
        week.usual.extend(&day.usual);
        week.days += 1;
        week.has_race |= day.has_race;
    }
    (week.days > 0).then_some(week)
}

/// What is planned for the calendar week from a day, and nothing beside it; empty where nobody knows.
pub(super) fn planned(row: &BoardRow, from: NaiveDate, today: NaiveDate, units: DistanceUnit) -> String {
    if row.block.is_some() && row.is_called_off() {
        return "open".to_owned();
    }
    match row.block.as_ref().and_then(|block| week_of(block, from)) {
        Some(week) => week.planned(units),
        None if row.recovering.is_some() => coming_back(row, today).unwrap_or_default(),
        None if row.week_saved.is_some() => "as usual".to_owned(),
        None => String::new(),
    }
}

/// What the usual running stands under: who is ill, well again only just, or recovers from a race does not run as
/// usual, whatever the base week says. Nothing once a block is run: what it holds is known there.
fn reservation(row: &BoardRow, today: NaiveDate) -> Option<String> {
    let begun = row.block.as_ref().is_some_and(|block| block.first_day <= today);
    let unwell = row.unwell.iter().filter(|event| !begun || event.open);
    let mut said: Vec<String> = unwell.map(|event| words::unwell_reservation(event, today)).collect();
    said.extend(coming_back(row, today).filter(|_| !begun));
    said.dedup();
    (!said.is_empty()).then(|| said.join(" and "))
}

/// `recovery until Mon 26 Apr`, where the running still comes back from a race.
fn coming_back(row: &BoardRow, today: NaiveDate) -> Option<String> {
    let back = row.recovering.as_ref()?.back;
    Some(words::coming_back_reservation(back.phase, &shown::day(back.to, today)))
}

/// What is planned for the calendar week from a day, beside what is usual and what that stands under.
pub(super) fn words(row: &BoardRow, from: NaiveDate, today: NaiveDate, units: DistanceUnit) -> String {
    let said = beside_usual(row, from, units);
    // What is open stands under nothing: who is ill is said beside it.
    match reservation(row, today).filter(|_| row.block.is_none() || !row.is_called_off()) {
        Some(but) if row.week_saved.is_some() || row.block.is_some() => format!("{said}, but {but}"),
        _ => said,
    }
}

fn beside_usual(row: &BoardRow, from: NaiveDate, units: DistanceUnit) -> String {
    if row.block.is_some() && row.is_called_off() {
        return "open: the race is called off".to_owned();
    }
    match row.block.as_ref().and_then(|block| week_of(block, from)) {
        Some(week) => week.words(units),
        None if row.week_saved.is_some() => "as usual".to_owned(),
        None => "not known".to_owned(),
    }
}

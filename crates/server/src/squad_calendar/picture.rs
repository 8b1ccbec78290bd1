//! The line through an athlete's weeks: a block gets thinner toward the race as its running ebbs, the race is a
//! mark, recovery an open outline that widens again.
//!
//! Each week is a picture of its own, as wide as its column, so that the lines meet at the borders. Everything
//! it shows stands beside it in words.

use std::fmt::Write as _;

use chrono::{Days, NaiveDate};
use planning::timeline::{Claim, Phase};
use planning::{Block, Importance, Race, recovery};

/// How wide a day is, in the picture's own units.
const DAY: f64 = 10.0;
/// Where the axis lies.
const MIDDLE: f64 = 10.0;
/// Half the thickness of the whole usual running.
const HALF: f64 = 8.0;
/// Half of the thinnest line that is still seen.
const THINNEST: f64 = 0.7;

/// One week.
#[derive(Clone, Debug, PartialEq, Default)]
pub(super) struct Picture {
    /// Outlines to fill: blocks.
    pub(super) blocks: Vec<String>,
    /// Lines to draw: recoveries, and the way back after them.
    pub(super) recoveries: Vec<String>,
    /// Races.
    pub(super) marks: Vec<Mark>,
}

/// A race.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Mark {
    pub(super) class: &'static str,
    pub(super) path: String,
}

/// A goal race that is run, the block before it, and what is claimed around it.
pub(super) struct Goal<'a> {
    pub(super) race: &'a Race,
    pub(super) block: Option<&'a Block>,
}

impl Picture {
    /// What is claimed of seven days.
    pub(super) fn of(from: NaiveDate, goals: &[Goal<'_>], claims: &[Claim]) -> Self {
        let mut picture = Self::default();
        for claim in claims {
            let goal = claim.race.and_then(|race| goals.get(race));
            // The days of this week that no stronger claim holds.
            let is_theirs = |day: &NaiveDate| {
                claims.iter().find(|claim| (claim.from..=claim.to).contains(day)).is_some_and(|first| first == claim)
            };
            let days: Vec<NaiveDate> = from.iter_days().take(7).filter(is_theirs).collect();
            let (Some(first), Some(last)) = (days.first(), days.last()) else { continue };
            match (claim.phase, goal, goal.and_then(|goal| goal.block)) {
                (Phase::Block, _, Some(block)) => picture.blocks.push(ebb(block, from, *first, *last)),
                (Phase::Recovery | Phase::Bridge, Some(goal), _) => {
                    picture.recoveries.extend(widening(goal.race, from, *first, *last));
                }
                (Phase::Return, ..) => picture.recoveries.extend(coming_back(claim, from, *first, *last)),
                _ => {}
            }
        }
        picture
    }

    /// Adds a race; one that is not run is crossed out.
    pub(super) fn race(&mut self, from: NaiveDate, race: &Race, is_run: bool) {
        let left = at(from, race.date) + 2.0;
        let right = left + DAY - 4.0;
        let bar = |top: f64, bottom: f64| format!("M{left} {top}H{right}V{bottom}H{left}Z");
        let (class, path) = match (is_run, race.importance) {
            (false, _) => ("sc-off", format!("M{left} 3L{right} 17M{left} 17L{right} 3")),
            (true, Importance::Goal) => ("sc-goal", bar(0.0, 20.0)),
            (true, Importance::TuneUp) => ("sc-other", bar(1.0, 19.0)),
            (true, Importance::TrainingThrough) => ("sc-other", bar(5.0, 15.0)),
        };
        self.marks.push(Mark { class, path });
    }
}

/// Where a day begins.
fn at(from: NaiveDate, day: NaiveDate) -> f64 {
    (day - from).num_days() as f64 * DAY
}

/// The outline of a block's days: at the border of two days it is as thick as the curve says of the later one;
/// on race day it runs into the mark.
fn ebb(block: &Block, from: NaiveDate, first: NaiveDate, last: NaiveDate) -> String {
    let end = last + Days::new(1);
    let half = |day: NaiveDate| {
        let to_race = u16::try_from((block.race_day - day).num_days()).unwrap_or(0);
        (block.share(to_race).0.min(1.0) * HALF).max(THINNEST)
    };
    let mut borders: Vec<(f64, f64)> =
        first.iter_days().take_while(|day| *day <= end).map(|day| (at(from, day), half(day))).collect();
    if end == block.race_day {
        borders.push((at(from, end) + DAY / 2.0, half(end)));
    }
    let upper = borders.iter().map(|(x, half)| (*x, MIDDLE - half));
    let lower = borders.iter().rev().map(|(x, half)| (*x, MIDDLE + half));
    let mut path = String::new();
    for (number, (x, y)) in upper.chain(lower).enumerate() {
        // Writing to a text cannot fail.
        let _ = write!(path, "{}{x} {y:.1}", if number == 0 { 'M' } else { 'L' });
    }
    path + "Z"
}

/// Two lines that part evenly from half to the whole of the usual running over the days of a way back that follows no
/// race.
fn coming_back(claim: &Claim, from: NaiveDate, first: NaiveDate, last: NaiveDate) -> [String; 2] {
    let days = ((claim.to - claim.from).num_days() + 1) as f64;
    let half = |day: NaiveDate| HALF * (1.0 + (day - claim.from).num_days() as f64 / days) / 2.0;
    [-1.0, 1.0].map(|side| {
        let (begin, end) = (first, last + Days::new(1));
        let y = |day| MIDDLE + side * half(day);
        format!("M{} {:.1}L{} {:.1}", at(from, begin), y(begin), at(from, end), y(end))
    })
}

/// Two lines, above and below the axis, as far apart as the running that a day after the race may hold.
fn widening(race: &Race, from: NaiveDate, first: NaiveDate, last: NaiveDate) -> [String; 2] {
    [-1.0, 1.0].map(|side| {
        let mut path = String::new();
        for day in first.iter_days().take_while(|day| *day <= last) {
            let since = u16::try_from((day - race.date).num_days()).unwrap_or(u16::MAX);
            let half = (recovery::most_after(race.distance.event(), since).0 * HALF).max(THINNEST);
            let (x, y) = (at(from, day), MIDDLE + side * half);
            let _ = if path.is_empty() {
                write!(path, "M{x} {y:.1}H{}", x + DAY)
            } else {
                write!(path, "V{y:.1}H{}", x + DAY)
            };
        }
        path
    })
}

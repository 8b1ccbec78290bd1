//! The race is moved, gets another distance, is replaced, or is called off.

use chrono::{Days, NaiveDate};

use crate::athlete::Athlete;
use crate::block::amounts::{self, SaysHard};
use crate::block::{Block, Cause, Ceiling, Day, QuietDay, Reason, Request, curve_of, plan_under, return_days};
use crate::curve::{LENGTHS, Settings};
use crate::problem::Problem;
use crate::race::Race;
use crate::units::{Milli, Share, Unit};
use crate::week::BaseWeek;

/// How a race differs from the one that a block was made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RaceChange {
    /// So many days later.
    Later(u16),
    /// So many days earlier.
    Earlier(u16),
    /// The same day, another distance.
    Distance,
}

/// A block for a changed race, and the settings that give its length.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// The block.
    pub block: Block,
    /// The settings: the coach's, with the length that is left.
    pub settings: Settings,
}

impl RaceChange {
    /// What changed between two races; nothing where the way to them is the same.
    pub fn between(old: &Race, new: &Race) -> Option<Self> {
        let days = (new.date - old.date).num_days();
        let count = u16::try_from(days.unsigned_abs()).unwrap_or(u16::MAX);
        match days {
            1.. => Some(Self::Later(count)),
            ..0 => Some(Self::Earlier(count)),
            0 => (old.distance.distance() != new.distance.distance()).then_some(Self::Distance),
        }
    }
}

/// A race that is moved by up to so many days keeps the athlete waiting; farther, there is time to
/// come back a little first.
///
/// # Source
///
/// Common practice, no published source.
const HOLD_UNTIL: u16 = 7;

/// While a race is waited for, at least this share of the usual running is held.
///
/// # Source
///
/// Common practice, no published source: an added week of 40 to 60 %.
const HELD_AT_LEAST: Share = Share(0.50);

/// With more time, running comes back to this share until two weeks before the race.
///
/// # Source
///
/// Common practice, no published source: 65 to 80 % with one long run of 60 to 75 % of the longest.
const BUILT_AGAIN: Share = Share(0.75);
/// See [`BUILT_AGAIN`].
const EBBS_FROM: u64 = 13;

/// The block for a race that changed, from the block that was made before.
///
/// The request holds the race as it is now, and its `today` is the day on which the change was known:
/// days before it stay as they were.
///
/// # Errors
///
/// Everything that is wrong with the request.
///
/// # Source
///
/// Common practice, no published source.
pub fn race_changed(old: &Block, request: &Request<'_>) -> Result<Changed, Vec<Problem>> {
    let problems = request.race.problems();
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut settings = *request.settings;
    let noted = request.today.unwrap_or(old.days[0].date);
    let change = RaceChange::between(&old.race, request.race);
    let has_begun = noted > old.first_day();
    let held = match change {
        Some(RaceChange::Later(days)) if has_begun => vec![held(old, request.race, noted, days)],
        _ => Vec::new(),
    };
    if matches!(change, Some(RaceChange::Earlier(_))) {
        compress(&mut settings, request, noted);
    }
    let request = Request { settings: &settings, ..*request };
    let mut block = plan_under(&request, &held)?;
    for day in &mut block.days {
        let Some(before) = old.day(day.date) else { continue };
        if day.date < noted && day.to_race > 0 {
            keep(day, before);
            if matches!(change, Some(RaceChange::Later(_) | RaceChange::Earlier(_))) {
                say_as_old_plan(day);
            }
        } else if change == Some(RaceChange::Distance) && has_begun && day.to_race > 0 && !day.pinned {
            not_above(day, before);
        }
    }
    super::change::keep_notes_true(&mut block);
    Ok(Changed { block, settings })
}

/// The ceiling from now on, until the running ebbs again.
fn held(old: &Block, race: &Race, noted: NaiveDate, days: u16) -> Ceiling {
    if days <= HOLD_UNTIL {
        let share = Share(present_share(old, noted).0.max(HELD_AT_LEAST.0));
        return Ceiling { from: noted, to: race.date, share, cause: Cause::Held };
    }
    let to = race.date - Days::new(EBBS_FROM + 1);
    Ceiling { from: noted.min(to), to, share: BUILT_AGAIN, cause: Cause::BuiltAgain }
}

/// The share of the usual running that a block holds on a day; the floor once it is over.
fn present_share(block: &Block, on: NaiveDate) -> Share {
    let to_race = (block.race_day - on).num_days().max(0);
    block.share(u16::try_from(to_race).unwrap_or(u16::MAX))
}

/// A race that comes earlier leaves the days that are left: the curve is compressed into them.
fn compress(settings: &mut Settings, request: &Request<'_>, noted: NaiveDate) {
    let left = (request.race.date - noted).num_days();
    let left =
        u8::try_from(left.clamp(i64::from(*LENGTHS.start()), i64::from(*LENGTHS.end()))).unwrap_or(*LENGTHS.end());
    if curve_of(request).0.length > left {
        settings.days = Some(left);
    }
}

/// A day that is over stays as it was.
fn keep(day: &mut Day, before: &Day) {
    day.pinned = before.pinned;
    day.sessions.clone_from(&before.sessions);
    day.dropped.clone_from(&before.dropped);
}

/// The old plan's reasons counted the days to another race day.
fn say_as_old_plan(day: &mut Day) {
    let to_race = day.to_race;
    for planned in &mut day.sessions {
        planned.role = planned.role.on(to_race);
        as_old_plan(&mut planned.why);
    }
    for dropped in &mut day.dropped {
        as_old_plan(&mut dropped.why);
    }
}

/// What happened, and what the coach fixed, stays true.
fn as_old_plan(why: &mut Vec<Reason>) {
    let stays = |reason: &Reason| matches!(reason, Reason::Life(_) | Reason::Pinned | Reason::Adjusted);
    if why.iter().any(|reason| !stays(reason)) {
        why.retain(stays);
        why.push(Reason::AsOldPlan);
    }
}

/// Brings the running of a day down to what the old plan held on it.
fn not_above(day: &mut Day, before: &Day) {
    for unit in Unit::ALL {
        let most = before.planned_running().of(unit).middle();
        let now = day.planned_running().of(unit).middle();
        if most == Milli::ZERO || now <= most {
            continue;
        }
        let part = Share(most.as_f64() / now.as_f64());
        for planned in &mut day.sessions {
            let Some(amount) = planned.session.running().filter(|amount| amount.unit() == unit) else { continue };
            let session = planned.session.clone();
            planned.session.amount = Some(amounts::at_most(amount, amount.middle().times(part)));
            amounts::shorten_hard(&mut planned.session, &session, part, SaysHard::AsUsual);
            if !planned.session.problems().is_empty() {
                planned.session.sets.clear();
            }
            // What would have held it less far down explains its length no more.
            planned.why.retain(|reason| !reason.is_about_length());
            planned.why.push(Reason::NotAboveOldPlan);
        }
    }
}

/// Days in which the running comes back after a race was called off: longer where it had ebbed far.
///
/// # Source
///
/// Common practice, no published source: back to the usual week within 7 to 10 days.
pub fn called_off(old: &Block, athlete: &Athlete, week: &BaseWeek, noted: NaiveDate) -> Vec<QuietDay> {
    return_days(athlete, week, noted, days_back(old, noted), present_share(old, noted.min(old.race_day)))
}

/// The last of these days; nothing where the running had not ebbed.
pub fn back_until(old: &Block, noted: NaiveDate) -> Option<NaiveDate> {
    let days = days_back(old, noted);
    (days > 0).then(|| noted + Days::new(u64::from(days) - 1))
}

/// How many days the running takes to come back.
fn days_back(old: &Block, noted: NaiveDate) -> u16 {
    let present = present_share(old, noted.min(old.race_day));
    if present >= Share::ALL {
        0
    } else if present.0 < HELD_AT_LEAST.0 {
        LONGEST_WAY_BACK
    } else {
        7
    }
}

/// The most days that the way back from a race called off takes.
///
/// # Source
///
/// Common practice, no published source.
pub const LONGEST_WAY_BACK: u16 = 10;

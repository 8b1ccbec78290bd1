//! Planning again from today: what happened changes what is still to come, and nothing else.
//!
//! [`replan`] lays events over a plan. Each event knows the day on which the coach learned of it, so
//! the answer depends on nothing but its arguments: the same twice, the same tomorrow, and the plan
//! itself again once the event is taken back. Running that was missed is never made up: no week ever
//! holds more than the plan under it. [`race`] handles a race that is moved, changed or called off.

mod change;
mod excess;
mod extra_rest;
mod illness;
mod no_time;
pub mod race;
mod swap;
mod travel;
mod true_reasons;

use chrono::NaiveDate;

use crate::athlete::Athlete;
use crate::block::facts::{Mileage, RunLengths};
use crate::block::{Block, Day, Life, Role};
use crate::life::{EventKind, Excess, LifeEvent};
use crate::problem::Problem;
use crate::units::{Milli, Pace, Unit, from_km};
use crate::week::BaseWeek;

pub(crate) use illness::{FEVER_STOPS_FROM, spares_from_hard_on};
pub use illness::{eased_until, is_spared_on, quiet_day_under};
pub use race::{Changed, RaceChange, race_changed};
pub(crate) use travel::is_more_than_half_an_hour;

/// What a plan is laid under.
#[derive(Clone, Copy, Debug)]
pub struct Happened<'a> {
    /// Events, in any order.
    pub events: &'a [LifeEvent],
    /// Running beyond the plan that the coach wants back.
    pub excess: Option<Excess>,
}

/// Lays what happened over a plan.
///
/// The plan is the one without any events; days that the coach fixed stay as they are.
///
/// # Errors
///
/// Everything that is wrong with the events.
///
/// # Source
///
/// The rules stand with their reasons in the modules below: common practice, no published source, on
/// the careful side.
pub fn replan(
    plan: &Block,
    athlete: &Athlete,
    week: &BaseWeek,
    happened: &Happened<'_>,
) -> Result<Block, Vec<Problem>> {
    let problems: Vec<Problem> = happened.events.iter().flat_map(LifeEvent::problems).collect();
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut events = happened.events.to_vec();
    events.sort_by_key(|event| (event.from, event.to, event.kind, event.noted));
    let pace = athlete.easy_pace.unwrap_or(Pace::ASSUMED);
    let lengths = RunLengths::of(week, pace);
    let least = Mileage::of(week.middle_km(athlete.easy_pace));
    let measure = Measure { pace, longest_km: lengths.longest, long_from_km: lengths.long_from, least };
    let mut block = plan.clone();
    for event in &events {
        swap::make_room(&mut block, event, &events, &measure);
    }
    for event in &events {
        match event.kind {
            EventKind::Travel => travel::lighten(&mut block, event),
            EventKind::NightShift => ease_hard(&mut block, event),
            EventKind::NoTime => no_time::let_go(&mut block, plan, event, &events, &measure),
            EventKind::Illness { .. } | EventKind::Injury => {
                illness::rest_and_return(&mut block, plan, event, &events, &measure);
            }
            EventKind::LowEnergy => {}
        }
    }
    if let Some(excess) = happened.excess {
        excess::take_off(&mut block, excess, &measure);
    }
    change::keep_notes_true(&mut block);
    true_reasons::keep(&mut block, plan);
    Ok(block)
}

/// How long runs are, for whatever asks.
struct Measure {
    pace: Pace,
    longest_km: f64,
    /// A usual run of so much stands for a long run.
    long_from_km: f64,
    /// What a run is worth at least.
    least: Mileage,
}

impl Measure {
    /// An amount of kilometres in a unit.
    fn in_unit(&self, km: f64, unit: Unit) -> Milli {
        from_km(km, unit, self.pace)
    }
}

/// The days of an event that may still be changed: not fixed, not race day.
fn days_of<'a>(block: &'a mut Block, event: &LifeEvent) -> impl Iterator<Item = &'a mut Day> {
    let event = *event;
    block.days.iter_mut().filter(move |day| is_free(day) && event.covers(day.date))
}

/// The days from one to another that still lie ahead of the day on which the event was noted.
fn days_ahead<'a>(
    block: &'a mut Block,
    event: &LifeEvent,
    from: NaiveDate,
    to: NaiveDate,
) -> impl Iterator<Item = &'a mut Day> {
    let from = from.max(event.noted);
    block.days.iter_mut().filter(move |day| is_free(day) && (from..=to).contains(&day.date))
}

const fn is_free(day: &Day) -> bool {
    !day.pinned && day.to_race > 0
}

/// Hard sessions that found no other day become easy; if that costs the last hard session, strides
/// after the nights keep quick running familiar.
fn ease_hard(block: &mut Block, event: &LifeEvent) {
    let key_before = has_key(block);
    for day in days_of(block, event) {
        change::ease_hard(day, Life::NightShift);
    }
    if key_before && !has_key(block) {
        let last = block.race_day;
        change::add_strides(days_ahead(block, event, event.after(1), last));
    }
}

fn has_key(block: &Block) -> bool {
    block.days.iter().flat_map(|day| &day.sessions).any(|planned| planned.role == Role::Key)
}

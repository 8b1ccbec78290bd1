//! Reasons that speak of another day are true of what stands there now.

use std::ops::RangeInclusive;

use chrono::NaiveDate;

use crate::block::{Block, Day, Reason};

/// From the first day that events changed on, reasons that name another day follow what stood there: to where it moved,
/// or say that it fell away.
pub(super) fn keep(block: &mut Block, plan: &Block) {
    let Some(first) = block.days.iter().zip(&plan.days).position(|(new, old)| new != old) else { return };
    for index in first..block.days.len() {
        if !super::is_free(&block.days[index]) {
            continue;
        }
        for place in 0..reasons_of(&mut block.days[index]).count() {
            let Some(reason) = reasons_of(&mut block.days[index]).nth(place).copied() else { continue };
            let now = true_of(reason, block.days[index].to_race, block, plan);
            if let Some(kept) = reasons_of(&mut block.days[index]).nth(place) {
                *kept = now;
            }
        }
    }
}

/// All reasons of a day, beside what is run and beside what is not.
fn reasons_of(day: &mut Day) -> impl Iterator<Item = &mut Reason> {
    let planned = day.sessions.iter_mut().flat_map(|planned| &mut planned.why);
    planned.chain(day.dropped.iter_mut().flat_map(|dropped| &mut dropped.why))
}

/// A reason as it is true of the block now.
fn true_of(reason: Reason, to_race: u16, block: &Block, plan: &Block) -> Reason {
    match reason {
        Reason::HardEased(kind) if hard_days(block, 0..=6) == 0 => Reason::PlannedEasy(kind),
        Reason::ThirdHardEased(kind) if (7..=13).contains(&to_race) && hard_days(block, 7..=13) < 2 => {
            Reason::PlannedEasy(kind)
        }
        Reason::KeyMovedAway(to) => now_at(block, to).map_or(Reason::FellAway(to), Reason::KeyMovedAway),
        Reason::ChangedPlaces(to) => now_at(block, to).map_or(Reason::FellAway(to), Reason::ChangedPlaces),
        Reason::MovedTo(to) => now_at(block, to).map_or(Reason::FellAway(to), Reason::MovedTo),
        Reason::BeforeOtherRace(date)
        | Reason::AfterOtherRace(date)
        | Reason::GaveWayToRace(date)
        | Reason::RoomForRace(date)
            if is_not_raced(block, plan, date) =>
        {
            Reason::RaceFellAway(date)
        }
        other => other,
    }
}

/// How many of some days before the race hold hard work.
fn hard_days(block: &Block, to_race: RangeInclusive<u16>) -> usize {
    let is_hard = |day: &&Day| day.sessions.iter().any(|planned| planned.session.is_hard_work());
    block.days.iter().filter(|day| to_race.contains(&day.to_race)).filter(is_hard).count()
}

/// The day on which hard running stands now that was moved to a day; nothing where it is not run any more.
fn now_at(block: &Block, to: NaiveDate) -> Option<NaiveDate> {
    let is_hard_on = |date: NaiveDate| block.day(date).is_none_or(Day::is_hard);
    if is_hard_on(to) {
        return Some(to);
    }
    let day = block.day(to)?;
    let beside = day.sessions.iter().flat_map(|planned| &planned.why);
    let mut why = beside.chain(day.dropped.iter().flat_map(|dropped| &dropped.why));
    why.find_map(|reason| match reason {
        Reason::ChangedPlaces(next) | Reason::MovedTo(next) if is_hard_on(*next) => Some(*next),
        _ => None,
    })
}

/// Whether another race of the plan is not run.
fn is_not_raced(block: &Block, plan: &Block, date: NaiveDate) -> bool {
    let holds = |block: &Block| block.day(date).is_some_and(Day::holds_a_race);
    holds(plan) && !holds(block)
}

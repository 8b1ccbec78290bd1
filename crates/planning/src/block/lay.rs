//! Step 1: the base week on the calendar, backwards from race day.

use chrono::{Days, NaiveDate};

use super::between::{self, QuietDay};
use super::draft::{DraftDay, HardRule, Item, Sizing, Stands};
use super::facts::Facts;
use super::shape::other_race;
use crate::block::{Day, Dropped, Pin, Planned, Reason, Request, Role};
use crate::units::Share;

/// Whole weeks counted back from race day that hold the whole block and the long run before it, each date with the usual
/// sessions of its weekday. Pinned days hold what the coach fixed; race day holds nothing.
pub(super) fn lay(facts: &Facts<'_>) -> Vec<DraftDay> {
    let race_day = facts.request.race.date;
    let recovery = recovery(facts);
    (0..facts.curve.weeks() * 7)
        .rev()
        .map(|to_race| {
            let date = race_day - Days::new(u64::from(to_race));
            if to_race > 0 && facts.request.is_behind(date) {
                return lay_day_behind(facts, date, to_race);
            }
            if let Some(before) = facts.path.before.filter(|before| before.date == date && !is_pinned(facts, date)) {
                let mut day = lay_day(facts, date, to_race);
                other_race::put(facts, &mut day, before);
                return day;
            }
            match recovery.iter().find(|quiet| quiet.date == date) {
                Some(quiet) if !is_pinned(facts, date) => lay_recovery_day(quiet, to_race),
                _ => lay_day(facts, date, to_race),
            }
        })
        .collect()
}

/// A day that lies behind: as it was planned, else as usual. To everything that follows it is as if fixed.
fn lay_day_behind(facts: &Facts<'_>, date: NaiveDate, to_race: u16) -> DraftDay {
    let Some(planned) = planned_before(facts.request, date) else {
        let usual = facts.request.week.chosen_on(date);
        let items = usual.iter().enumerate().map(|(place, session)| Item::as_usual(place, session)).collect();
        return DraftDay { date, to_race, stands: Stands::Behind, usual, items, dropped: Vec::new() };
    };
    DraftDay {
        date,
        to_race,
        stands: Stands::Behind,
        usual: planned.usual.clone(),
        items: as_planned(&planned.sessions),
        dropped: planned.dropped.clone(),
    }
}

/// Sessions that stand as they were planned elsewhere.
fn as_planned(sessions: &[Planned]) -> Vec<Item> {
    let item = |(place, planned): (usize, &Planned)| Item {
        usual: planned.usual.clone(),
        role: planned.role,
        why: planned.why.clone(),
        ..Item::as_usual(place, &planned.session)
    };
    sessions.iter().enumerate().map(item).collect()
}

/// The day as it leaves the planner; one that lies behind is what it was.
pub(super) fn finish(request: &Request<'_>, day: DraftDay) -> Day {
    let behind = request.is_behind(day.date).then(|| planned_before(request, day.date)).flatten();
    match behind.filter(|_| day.to_race > 0) {
        Some(planned) => Day { to_race: day.to_race, ..planned.clone() },
        None => day.finish(),
    }
}

/// A day of the plan so far.
fn planned_before<'a>(request: &Request<'a>, date: NaiveDate) -> Option<&'a Day> {
    request.begun?.days.iter().find(|day| day.date == date && day.to_race > 0)
}

/// The days of the recovery from the race before, if there is one near enough.
fn recovery(facts: &Facts<'_>) -> Vec<QuietDay> {
    let Request { athlete, week, race, .. } = *facts.request;
    facts.path.before.map_or_else(Vec::new, |before| between::recovery_days(athlete, week, before, Some(race)))
}

fn is_pinned(facts: &Facts<'_>, date: NaiveDate) -> bool {
    facts.request.pins.iter().any(|pin| pin.date == date)
}

/// A day of recovery stands as it is: nothing of the block's shape touches it.
fn lay_recovery_day(quiet: &QuietDay, to_race: u16) -> DraftDay {
    DraftDay {
        date: quiet.date,
        to_race,
        stands: Stands::Free,
        usual: quiet.usual.clone(),
        items: as_planned(&quiet.sessions),
        dropped: quiet.dropped.clone(),
    }
}

fn lay_day(facts: &Facts<'_>, date: NaiveDate, to_race: u16) -> DraftDay {
    let slots = facts.request.week.on(date);
    let usual = facts.request.week.chosen_on(date);
    let mut day = DraftDay { date, to_race, stands: Stands::Free, usual, items: Vec::new(), dropped: Vec::new() };
    if to_race == 0 {
        day.dropped = Dropped::each(day.usual.iter(), Reason::Race).collect();
        return day;
    }
    if let Some(pin) = facts.request.pins.iter().find(|pin| pin.date == date) {
        day.stands = Stands::Fixed;
        day.items = pinned_items(&day, pin);
        day.dropped.extend(Dropped::each(day.usual.iter().skip(pin.sessions.len()), Reason::Pinned));
        return day;
    }
    let ebbs = facts.ebbs(to_race);
    day.items.reserve_exact(slots.len());
    for (place, slot) in slots.iter().enumerate() {
        let mut item = Item::as_usual(place, slot.chosen());
        item.long = facts.is_long(slot.chosen());
        if ebbs && item.is_running() {
            item.sizing = Sizing::Ebb;
            item.hard = HardRule::Follow(Share::ALL);
            if slot.options().len() > 1 {
                item.why.push(Reason::Chosen);
            }
        }
        day.items.push(item);
    }
    day
}

fn pinned_items(day: &DraftDay, pin: &Pin) -> Vec<Item> {
    // Another race is one by its own entry.
    let role = |place: usize| pin.roles.get(place).filter(|role| **role != Role::OtherRace).copied();
    pin.sessions
        .iter()
        .enumerate()
        .map(|(place, session)| Item {
            usual: day.usual.get(place).cloned(),
            role: role(place).unwrap_or(Role::Plain).on(day.to_race),
            why: vec![Reason::Pinned],
            ..Item::as_usual(place, session)
        })
        .collect()
}

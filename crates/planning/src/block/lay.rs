//! Step 1: the base week on the calendar, backwards from race day.

use chrono::Days;

use super::draft::{DraftDay, Item, Sizing};
use super::facts::Facts;
use crate::block::{Dropped, Reason};

/// Whole weeks counted back from race day that hold the whole block and the long run before it, each date with the usual
/// sessions of its weekday. Pinned days hold what the coach fixed; race day holds nothing.
pub(super) fn lay(facts: &Facts<'_>) -> Vec<DraftDay> {
    let race_day = facts.request.race.date;
    (0..facts.curve.weeks() * 7)
        .rev()
        .map(|to_race| lay_day(facts, race_day - Days::new(u64::from(to_race)), to_race))
        .collect()
}

fn lay_day(facts: &Facts<'_>, date: chrono::NaiveDate, to_race: u16) -> DraftDay {
    let slots = facts.request.week.on(date);
    let usual: Vec<_> = slots.iter().map(|slot| slot.chosen().clone()).collect();
    let mut day = DraftDay { date, to_race, pinned: false, usual, items: Vec::new(), dropped: Vec::new() };
    if to_race == 0 {
        day.dropped = day.usual.iter().map(|usual| Dropped { usual: usual.clone(), why: vec![Reason::Race] }).collect();
        return day;
    }
    if let Some(pin) = facts.request.pins.iter().find(|pin| pin.date == date) {
        day.pinned = true;
        day.items = pinned_items(&day, &pin.sessions);
        for usual in day.usual.iter().skip(pin.sessions.len()) {
            day.dropped.push(Dropped { usual: usual.clone(), why: vec![Reason::Pinned] });
        }
        return day;
    }
    let ebbs = to_race <= u16::from(facts.curve.length);
    for (place, slot) in slots.iter().enumerate() {
        let mut item = Item::as_usual(place, slot.chosen());
        item.long = facts.is_long(slot.chosen());
        if ebbs && item.is_running() {
            item.sizing = Sizing::Ebb;
            item.hard = super::draft::HardRule::Follow(crate::units::Share::ALL);
            if slot.options().len() > 1 {
                item.why.push(Reason::Chosen);
            }
        }
        day.items.push(item);
    }
    day
}

fn pinned_items(day: &DraftDay, sessions: &[crate::session::Session]) -> Vec<Item> {
    sessions
        .iter()
        .enumerate()
        .map(|(place, session)| Item {
            usual: day.usual.get(place).cloned(),
            why: vec![Reason::Pinned],
            ..Item::as_usual(place, session)
        })
        .collect()
}

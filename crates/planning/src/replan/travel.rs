//! Days on the way to somewhere.

use chrono::{Days, NaiveDate};

use super::change;
use super::{days_ahead, days_of, has_key};
use crate::block::{Block, Day, Life, Planned};
use crate::life::{EventKind, LifeEvent};
use crate::session::Kind;
use crate::units::{Amount, Milli, Unit};

/// The most that is run on a day on the way: half an hour.
///
/// # Source
///
/// Common practice, no published source.
const fn most(unit: Unit) -> Milli {
    match unit {
        Unit::Km => Milli(5000),
        Unit::Mi => Milli(3000),
        Unit::Min => Milli(30_000),
    }
}

/// Nothing hard stands in so many days before travel.
///
/// # Source
///
/// Common practice, no published source.
const QUIET_BEFORE: u64 = 2;

/// Short and easy on the days on the way, nothing hard before them; if that costs the last hard session,
/// strides after the travel keep quick running familiar. The days of a stay between them are run as planned.
pub(super) fn lighten(block: &mut Block, event: &LifeEvent) {
    let key_before = has_key(block);
    for day in days_of(block, event).filter(|day| event.is_on_the_way(day.date)) {
        let before = day.sessions.clone();
        change::rest(day, Life::Travelling, |session| session.kind == Kind::Strength);
        change::ease_hard(day, Life::Travelling);
        if is_more_than_half_an_hour(day) {
            change::one_that_takes_breath(day, Life::Travelling);
        }
        change::at_most(day, Life::Travelling, |amount: Amount| most(amount.unit()));
        change::forget_notes_of_changed(day, &before, Life::Travelling);
    }
    let from = event.from - Days::new(QUIET_BEFORE);
    let to = event.from - Days::new(1);
    for day in days_ahead(block, event, from, to) {
        change::ease_hard(day, Life::BeforeTravelling);
    }
    if key_before && !has_key(block) {
        let last = block.race_day;
        change::add_strides(days_ahead(block, event, event.after(1), last));
    }
}

/// Whether nothing hard belongs on a day because of travel: on the days on the way and just before the first of them.
pub(super) fn keeps_from_hard_on(event: &LifeEvent, date: NaiveDate) -> bool {
    let before = event.from - Days::new(QUIET_BEFORE);
    event.kind == EventKind::Travel && (event.is_on_the_way(date) || (before..event.from).contains(&date))
}

/// Whether more is run on a day than belongs on one on the way: the amounts of all that takes breath together, each
/// measured in its own unit.
pub(crate) fn is_more_than_half_an_hour(day: &Day) -> bool {
    let of_half_an_hour = |planned: &Planned| {
        let amount = planned.session.amount.filter(|_| change::is_endurance(&planned.session))?;
        Some(amount.middle().as_f64() / most(amount.unit()).as_f64())
    };
    day.sessions.iter().filter_map(of_half_an_hour).sum::<f64>() > 1.0 + 1e-9
}

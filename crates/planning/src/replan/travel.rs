//! Days on the way to somewhere.

use chrono::Days;

use super::change;
use super::{days_ahead, days_of, has_key};
use crate::block::{Block, Life};
use crate::life::LifeEvent;
use crate::session::Kind;
use crate::units::{Amount, Milli, Unit};

/// The most that is run on a travelling day: half an hour.
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

/// Nothing hard stands in so many days before a journey.
///
/// # Source
///
/// Common practice, no published source.
const QUIET_BEFORE: u64 = 2;

/// Short and easy on travelling days, nothing hard before them; if that costs the last hard session,
/// strides after the journey keep quick running familiar.
pub(super) fn lighten(block: &mut Block, event: &LifeEvent) {
    let key_before = has_key(block);
    for day in days_of(block, event) {
        change::rest(day, Life::Travelling, |session| session.kind == Kind::Strength);
        change::ease_hard(day, Life::Travelling);
        change::forget_notes(day, Life::Travelling);
        change::at_most(day, Life::Travelling, |amount: Amount| most(amount.unit()));
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

//! Another race stands in the way.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::curve::event_defaults;
use crate::race::{Event, Importance, Race};

/// Days of recovery after a race before anything hard.
///
/// # Source
///
/// Proposal of this program within published and practised ranges (10 km 3-6 days, half 7-13,
/// marathon 14-26, longer 21-30 and more): common practice, no published source.
const fn recovery_days(event: Event) -> i64 {
    match event {
        Event::FiveK => 2,
        Event::TenK => 3,
        Event::Half => 7,
        Event::Marathon => 14,
        Event::Longer => 21,
    }
}

/// Fires (note) for each other race inside the block, and (caution) for a goal race nearer to this
/// one than the recovery of the first plus half the block of the second.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.subject.other_races.iter().filter_map(|other| clash(look, other)).collect()
}

fn clash(look: &Look<'_>, other: &Race) -> Option<Finding> {
    let this = &look.block.race;
    let days = (this.date - other.date).num_days();
    if other == this {
        return None;
    }
    let (first, second) = if days >= 0 { (other, this) } else { (this, other) };
    let second_length =
        if days >= 0 { look.block.curve.length } else { event_defaults(second.distance.event()).curve.length };
    let need = recovery_days(first.distance.event()) + i64::from(second_length) / 2;
    let figure = |days: i64| Figure::Days(u16::try_from(days).unwrap_or(u16::MAX));
    let too_near = other.importance == Importance::Goal && days.abs() < need;
    let inside = (0..=i64::from(look.block.curve.length)).contains(&days);
    let level = if too_near {
        Level::Caution
    } else if inside {
        Level::Note
    } else {
        return None;
    };
    let limit = if too_near { need } else { i64::from(look.block.curve.length) };
    Some(
        Finding::new(RuleId::RacesClash, level, figure(days.abs()), figure(limit))
            .on(other.date)
            .about(other.name.clone()),
    )
}

//! An extra rest day is due in race week, and there is none.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};

/// Fires (note) when race week, the race counted as a run, has no running day less than usual though
/// one is due: from five running days (half marathon and longer) or seven (up to 10 miles).
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let Some(week) = look.week(0) else { return Vec::new() };
    let due_from = if look.block.event.up_to_10_miles() { 7 } else { 5 };
    let due = week.usual_run_days >= due_from && !look.subject.athlete.is_under_18(look.block.race_day);
    let now = week.run_days + 1;
    if !due || now < week.usual_run_days {
        return Vec::new();
    }
    let count = |days: usize| Figure::Count(u16::try_from(days).unwrap_or(u16::MAX));
    vec![Finding::new(RuleId::NoRestPlace, Level::Note, count(now), count(week.usual_run_days - 1))]
}

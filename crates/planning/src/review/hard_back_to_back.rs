//! Hard days side by side that are not so in the base week.

use super::look::{Look, is_hard};
use super::{Figure, Finding, Level, RuleId};
use crate::block::{Day, Planned};
use crate::race::Event;

/// Fires for each pair of neighbouring hard days inside the block that the base week does not have;
/// from the marathon up a long run counts as hard while it is most of the longest.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let long_counts = look.block.event >= Event::Marathon;
    let planned =
        |day: &Day| is_hard(day) || (long_counts && day.sessions.iter().any(|planned| is_still_long(look, planned)));
    let usual = |day: &Day| day.usual.iter().any(|session| session.is_hard() || (long_counts && look.is_long(session)));
    let days: Vec<_> = look.block_days().collect();
    days.windows(2)
        .filter(|pair| pair.iter().all(|day| planned(day)) && !pair.iter().all(|day| usual(day)))
        .map(|pair| {
            Finding::new(RuleId::HardBackToBack, Level::Caution, Figure::Days(2), Figure::Days(1)).on(pair[0].date)
        })
        .collect()
}

/// A long run up to this part of the usual one costs no more than an easy run.
///
/// # Source
///
/// Common practice, no published source.
const NO_LONGER_LONG: f64 = 0.60;

fn is_still_long(look: &Look<'_>, planned: &Planned) -> bool {
    look.is_long(&planned.session)
        && !look.is_short(&planned.session)
        && look.km(&planned.session) > look.longest_km * NO_LONGER_LONG
}

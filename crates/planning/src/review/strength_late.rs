//! Loaded strength work in race week.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};

/// The last day for loaded strength.
///
/// # Source
///
/// Common practice, no published source: heavy legs end 14 to 10 days before the race.
const LAST_DAY: u16 = 7;

/// Fires for each loaded strength session at D6 or later.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.block_days()
        .filter(|day| day.to_race < LAST_DAY && day.sessions.iter().any(|planned| planned.session.loaded))
        .map(|day| {
            Finding::new(RuleId::StrengthLate, Level::Caution, Figure::Days(day.to_race), Figure::Days(LAST_DAY))
                .on(day.date)
        })
        .collect()
}

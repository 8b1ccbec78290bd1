//! Two rest days side by side that are not so in the base week.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};

/// Fires for each pair of neighbouring rest days inside the block that the base week does not have.
///
/// # Source
///
/// Common practice, no published source: routine is kept.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let days: Vec<_> = look.block_days().collect();
    days.windows(2)
        .filter(|pair| pair.iter().all(|day| day.is_rest()))
        .filter(|pair| pair.iter().any(|day| !day.usual_running().is_empty()))
        .map(|pair| {
            Finding::new(RuleId::RestClumped, Level::Caution, Figure::Days(2), Figure::Days(1)).on(pair[0].date)
        })
        .collect()
}

//! Too few running days.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};

/// Outside race week at least this part of the usual running days stays.
///
/// # Source
///
/// Cut frequency by no more than 20 %: Mujika and Padilla 2003, PubMed 12840640.
const LEAST: f64 = 0.80;

/// Rest days more than usual that race week may have, the race counted as a run.
///
/// # Source
///
/// Common practice, no published source.
const MORE_REST: usize = 1;

/// Fires when a week before race week keeps less than 80 % of its running days, and when race week
/// has more than one rest day more than usual.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.weeks
        .iter()
        .filter_map(|week| {
            let limit = if week.before == 0 {
                week.usual_run_days.saturating_sub(MORE_REST)
            } else {
                (week.usual_run_days as f64 * LEAST).ceil() as usize
            };
            let runs = week.run_days + usize::from(week.before == 0);
            let count = |days: usize| Figure::Count(u16::try_from(days).unwrap_or(u16::MAX));
            (runs < limit)
                .then(|| Finding::new(RuleId::FrequencyLost, Level::Caution, count(runs), count(limit)).on(week.from))
        })
        .collect()
}

//! A long run in race week.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::session::Kind;

/// A run of race week up to this part of the longest is no long run.
///
/// # Source
///
/// Common practice, no published source.
const NOT_LONG: f64 = 0.60;

/// The last day for a long run.
///
/// # Source
///
/// Common practice, no published source.
const LAST_DAY: u16 = 7;

/// Fires for each long run later than D7.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.block_days()
        .filter(|day| day.to_race < LAST_DAY)
        .filter(|day| {
            day.sessions.iter().any(|planned| {
                let session = &planned.session;
                session.kind == Kind::Long
                    || (look.is_long(session)
                        && !look.is_short(session)
                        && look.km(session) > look.longest_km * NOT_LONG + 0.02)
            })
        })
        .map(|day| {
            Finding::new(RuleId::LongRunLate, Level::Caution, Figure::Days(day.to_race), Figure::Days(LAST_DAY))
                .on(day.date)
        })
        .collect()
}

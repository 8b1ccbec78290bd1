//! A hard session so near to the race that it costs more than it gives.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};

/// The last day for a hard session: D3, half marathon and longer D4.
///
/// # Source
///
/// Common practice, no published source: 3-5 days before up to 10 km, 4-6 before the half, 5-10
/// before the marathon.
const fn last_day(up_to_10_miles: bool) -> u16 {
    if up_to_10_miles { 3 } else { 4 }
}

/// On D3 a key session cut to about a third of the usual is still fine.
const A_THIRD: f64 = 0.45;

/// The smallest hard part that is written.
const SMALLEST: f64 = 0.5;

/// Fires for each hard session later than that.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let last = last_day(look.block.event.up_to_10_miles());
    let most_usual = look
        .subject
        .week
        .sessions()
        .map(|(_, session)| session)
        .filter(|session| session.is_hard())
        .map(crate::session::Session::hard_middle)
        .max()
        .unwrap_or_default();
    look.block_days()
        .filter(|day| day.to_race < last)
        .flat_map(|day| day.sessions.iter().map(move |planned| (day, &planned.session)))
        .filter(|(_, session)| session.is_hard())
        .filter(|(day, session)| {
            let a_third = session.hard_middle().as_f64() <= (most_usual.as_f64() * A_THIRD).max(SMALLEST);
            !(day.to_race == 3 && a_third)
        })
        .map(|(day, _)| {
            Finding::new(RuleId::HardTooLate, Level::Caution, Figure::Days(day.to_race), Figure::Days(last))
                .on(day.date)
        })
        .collect()
}

//! The last long runs are too long.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::race::Event;
use crate::units::Share;

/// How much of the longest usual run a long run may be on a day; nothing where any length is fine.
///
/// # Source
///
/// Common practice, no published source: the last long run 10-14 days before a half marathon and
/// 14-22 before a marathon; the open log `Stat2Data/Marathon` agrees for the marathon.
const fn most(event: Event, to_race: u16) -> Option<f64> {
    match (event, to_race) {
        (Event::FiveK, 7..=8) => Some(0.85),
        (_, 7..=8) => Some(0.80),
        (Event::Marathon | Event::Longer, 9..=13) => Some(0.85),
        _ => None,
    }
}

/// Fires for each long run above that.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.block_days()
        .flat_map(|day| day.sessions.iter().map(move |planned| (day, planned)))
        .filter_map(|(day, planned)| {
            let limit = most(look.block.event, day.to_race)?;
            let share = look.km(&planned.session) / look.longest_km;
            let is_long = look.is_long(&planned.session) && !look.is_short(&planned.session);
            (is_long && share > limit + 0.001).then(|| {
                let limit = Figure::Share(Share(limit));
                Finding::new(RuleId::LongRunBig, Level::Caution, Figure::Share(Share(share)), limit).on(day.date)
            })
        })
        .collect()
}

//! A week, or a session, grows toward the race.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};

/// A week's share may rise by this much: rounding of single runs.
const TOLERANCE: f64 = 0.02;

/// Fires when a week's share rises toward the race by more than 2 points, and when a session is
/// longer than it usually is.
///
/// # Source
///
/// Progressive falling tapers did better than relaxed ones: Smyth and Lawlor 2021,
/// doi 10.3389/fspor.2021.735220. The tolerance is common practice.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let rising = look.weeks.windows(2).filter(|pair| pair[1].share.0 > pair[0].share.0 + TOLERANCE).map(|pair| {
        Finding::new(RuleId::WeekRises, Level::Caution, Figure::Share(pair[1].share), Figure::Share(pair[0].share))
            .on(pair[1].from)
    });
    let longer = look.block_days().flat_map(|day| day.sessions.iter().map(move |planned| (day, planned))).filter_map(
        |(day, planned)| {
            let (now, usual) = (planned.session.running()?, planned.usual.as_ref()?.running()?);
            let grows = now.unit() == usual.unit() && now.middle() > usual.middle();
            let figure = |amount: crate::units::Amount| Figure::Amount(amount.middle().as_f64(), amount.unit());
            grows.then(|| Finding::new(RuleId::WeekRises, Level::Caution, figure(now), figure(usual)).on(day.date))
        },
    );
    rising.chain(longer).collect()
}

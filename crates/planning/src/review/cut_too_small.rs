//! A week stays too full before the race.

use super::band::{TOLERANCE, judged};
use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::units::Share;

/// Fires for race week and the two weeks before it when a week lies more than 5 points above its band.
///
/// # Source
///
/// The bands: common practice, no published source. That a cut of 20 % or less brings nothing and
/// 41-60 % does well: Bosquet and others 2007, doi 10.1249/mss.0b013e31806010e0.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    judged(look)
        .into_iter()
        .filter(|week| week.share.0 > week.band.high + TOLERANCE)
        .map(|week| {
            let finding = Finding::new(
                RuleId::CutTooSmall,
                Level::Caution,
                Figure::Share(week.share),
                Figure::Share(Share(week.band.high)),
            );
            match look.week(week.before) {
                Some(summary) => finding.on(summary.from),
                None => finding,
            }
        })
        .collect()
}

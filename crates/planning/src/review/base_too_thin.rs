//! There is little to taper from.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::units::{Unit, is_below_km};

/// Fewer running days a week than this is thin.
const LEAST_RUNS: usize = 3;
/// Less than this a week is thin: 20 km, or 2 hours where only time is known.
const LEAST_KM: f64 = 20.0;

/// Whether the rule fires.
pub(super) fn is_thin(look: &Look<'_>) -> bool {
    !judge(look).is_empty()
}

/// Fires when the base week has running on fewer than three days or less than 20 km (2 hours).
///
/// # Source
///
/// Common practice, no published source: a shorter, shallower block is enough then.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let week = look.subject.week;
    let runs = week.running_days();
    let km = week.middle_km(look.subject.athlete.easy_pace);
    if runs < LEAST_RUNS {
        let count = |runs: usize| Figure::Count(u16::try_from(runs).unwrap_or(u16::MAX));
        return vec![Finding::new(RuleId::BaseTooThin, Level::Caution, count(runs), count(LEAST_RUNS))];
    }
    if is_below_km(km, LEAST_KM) {
        let (figure, limit) = if week.is_timed() {
            let minutes = week.running().of(Unit::Min).middle().as_f64();
            (Figure::Amount(minutes, Unit::Min), Figure::Amount(120.0, Unit::Min))
        } else {
            (Figure::Amount(km, Unit::Km), Figure::Amount(LEAST_KM, Unit::Km))
        };
        return vec![Finding::new(RuleId::BaseTooThin, Level::Caution, figure, limit)];
    }
    Vec::new()
}

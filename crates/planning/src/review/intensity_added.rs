//! More hard running than usual.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::units::Share;

/// Rounding of hard parts to halves.
const TOLERANCE: f64 = 0.03;

/// Fires when a week holds more hard running than usual.
///
/// # Source
///
/// Common practice, no published source: a taper keeps hard running, it does not add any.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    look.weeks
        .iter()
        .filter(|week| week.hard_share.0 > 1.0 + TOLERANCE || (week.usual_intensity.0 <= 0.0 && week.intensity.0 > 0.0))
        .map(|week| {
            let (figure, limit) = if week.usual_intensity.0 <= 0.0 {
                (Figure::Share(week.intensity), Figure::Share(Share::NONE))
            } else {
                (Figure::Share(week.hard_share), Figure::Share(Share::ALL))
            };
            Finding::new(RuleId::IntensityAdded, Level::Caution, figure, limit).on(week.from)
        })
        .collect()
}

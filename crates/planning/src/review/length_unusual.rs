//! A block shorter or longer than the event needs.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::curve::{Adjustment, event_defaults};

/// Fires when the block's length lies outside the event's range; not for the short blocks of youth.
///
/// # Source
///
/// See [`event_defaults`].
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let length = look.block.curve.length;
    let (least, most) = event_defaults(look.block.event).lengths;
    let youth = look.block.adjustments.contains(&Adjustment::Youth);
    let limit = if length < least && !youth {
        least
    } else if length > most {
        most
    } else {
        return Vec::new();
    };
    let days = |days: u8| Figure::Days(u16::from(days));
    vec![Finding::new(RuleId::LengthUnusual, Level::Caution, days(length), days(limit))]
}

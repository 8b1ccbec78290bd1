//! A day without time: what stands on it is let go.

use super::{Measure, change, days_of, extra_rest};
use crate::block::{Block, Life};
use crate::life::LifeEvent;

/// Lets the sessions of the event's days go. What is missed is not made up, but one rest day more than usual is enough.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn let_go(block: &mut Block, plan: &Block, event: &LifeEvent, all: &[LifeEvent], measure: &Measure) {
    for day in days_of(block, event) {
        change::rest(day, Life::NoTime, |_| true);
    }
    extra_rest::give_back(block, plan, event, all, measure);
}

//! Strides that the planner puts into easy runs do not stand on two days in a row.

use crate::block::draft::{DraftDay, Item};
use crate::block::{Reason, Role};
use crate::session::Kind;

/// Takes strides of the planner's own off a run where the day before holds quick running of that sort, or where the
/// day after holds the athlete's own, or a little race pace.
///
/// # Source
///
/// Common practice, no published source.
pub(in crate::block) fn not_on_two_days(days: &mut [DraftDay]) {
    for index in 0..days.len() {
        let after_some = index > 0 && days[index - 1].items.iter().any(|item| is_own(item) || is_added(item));
        let before_some = days.get(index + 1).is_some_and(|day| day.items.iter().any(holds_settled));
        let day = &mut days[index];
        if day.is_settled() || !(after_some || before_some) {
            continue;
        }
        for item in day.items.iter_mut().filter(|item| item.role == Role::EasyWithStrides) {
            item.role = Role::Plain;
            item.why.retain(|reason| *reason != Reason::Strides);
        }
    }
}

/// Strides as the athlete is used to them.
fn is_own(item: &Item) -> bool {
    item.session.kind == Kind::Strides || item.session.holds_strides()
}

/// Quick running that does not give way to strides of the planner's own.
fn holds_settled(item: &Item) -> bool {
    is_own(item) || item.role == Role::EasyWithRacePace
}

fn is_added(item: &Item) -> bool {
    item.role.holds_quick_running()
}

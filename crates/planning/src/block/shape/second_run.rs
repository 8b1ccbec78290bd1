//! Second runs of a day: the first to go.

use super::key::Key;
use super::{Shaped, give_away};
use crate::block::draft::DraftDay;
use crate::block::facts::Facts;
use crate::block::{Reason, Role, race_week};
use crate::units::{Milli, Unit};

/// A second run shorter than this is left out rather than shortened.
///
/// # Source
///
/// Common practice, no published source.
const fn least_second(unit: Unit) -> Milli {
    match unit {
        Unit::Km => Milli(4500),
        Unit::Mi => Milli(2750),
        Unit::Min => Milli(25_000),
    }
}

/// Who runs twice on so many days a week is used to it, and would lose most of race week's running with every second run.
///
/// # Source
///
/// Common practice, no published source; frequency kept: Bosquet and others 2007.
const MOST_DAYS: usize = 5;

/// From this day on no second runs stand.
///
/// # Source
///
/// Common practice, no published source.
fn none_from(facts: &Facts<'_>) -> u16 {
    match facts.event.up_to_10_miles() {
        true if facts.request.week.days_with_two_runs() >= MOST_DAYS => 2,
        true => 4,
        false => 5,
    }
}

/// Leaves out second runs: none on the key day and in the last days, elsewhere none that is too short.
pub(super) fn leave_out(facts: &Facts<'_>, days: &mut [DraftDay], key: Option<Key>, shaped: &mut Shaped) {
    let none_from = none_from(facts);
    let length = u16::from(facts.curve.length);
    let doubles = |day: &&mut DraftDay| day.run_count() > 1 && !day.is_settled();
    for day in days.iter_mut().filter(|day| (1..=length).contains(&day.to_race)).filter(doubles) {
        let to_race = day.to_race;
        let Some(main) = main_run(day) else { continue };
        let never = to_race <= none_from || key.is_some_and(|key| key.to_race == to_race);
        let share = facts.share(to_race);
        let gone = day.drop_items(Reason::SecondRunOff, |item| {
            let Some(amount) = item.session.running() else { return false };
            item.place != main && (never || amount.middle().times(share) < least_second(amount.unit()))
        });
        if race_week::holds(to_race) {
            give_away(facts, to_race, &gone, shaped);
        }
    }
}

/// The run that stays: the key session, else a hard one, else the longest, the earlier of equals.
fn main_run(day: &DraftDay) -> Option<usize> {
    day.items
        .iter()
        .filter(|item| item.is_running())
        .max_by_key(|item| {
            let importance = match item.role {
                Role::Key => 3,
                _ if item.session.is_hard() => 2,
                Role::EasyWithStrides => 1,
                _ => 0,
            };
            (importance, item.session.running_middle(), std::cmp::Reverse(item.place))
        })
        .map(|item| item.place)
}

//! A day without time: what stands on it is let go.

use super::swap::is_on_the_way_back;
use super::{Measure, change, days_of, is_free};
use crate::block::amounts;
use crate::block::{Block, Day, Life, Planned, Reason, Role};
use crate::life::LifeEvent;
use crate::session::{Kind, Session};
use crate::units::{Milli, Unit};

/// Lets the sessions of the event's days go. What is missed is not made up; but where race week has a rest
/// day more than usual and a day without time rests as well, that rest day is run: one is enough.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn let_go(block: &mut Block, plan: &Block, event: &LifeEvent, all: &[LifeEvent], measure: &Measure) {
    for day in days_of(block, event) {
        change::rest(day, Life::NoTime, |_| true);
    }
    let rests_now = |day: &&Day| {
        in_race_week(day)
            && event.covers(day.date)
            && day.is_rest()
            && plan.day(day.date).is_some_and(|day| !day.is_rest())
    };
    let Some(rest) = block.days.iter().find(rests_now).map(|day| day.date) else { return };
    let is_open = |day: &Day| {
        in_race_week(day)
            && is_free(day)
            && day.date >= event.noted
            && day.is_rest()
            && !all.iter().any(|event| event.covers(day.date) || is_on_the_way_back(event, day.date))
    };
    let Some((index, place)) = block
        .days
        .iter()
        .enumerate()
        .filter(|(_, day)| is_open(day))
        .find_map(|(index, day)| Some((index, extra_rest(day)?)))
    else {
        return;
    };
    let day = &block.days[index];
    let usual = day.dropped[place].usual.clone();
    let Some(amount) = usual.running() else { return };
    let unit = amount.unit();
    let missed = race_week(plan, unit) - race_week(block, unit);
    let most = amounts::at_most(amount, amount.middle().times(block.share(day.to_race)).min(missed));
    if most.middle() > missed || most.middle() < measure.least.least(unit).min(amount.middle()) {
        return;
    }
    let day = &mut block.days[index];
    day.dropped.remove(place);
    let why = vec![Reason::RestMovedTo(rest)];
    day.sessions
        .insert(0, Planned { session: Session::new(Kind::Easy, most), usual: Some(usual), role: Role::Plain, why });
}

fn in_race_week(day: &Day) -> bool {
    (1..=6).contains(&day.to_race)
}

/// The longest run that the extra rest day of race week took away, if this is that day.
fn extra_rest(day: &Day) -> Option<usize> {
    (0..day.dropped.len())
        .filter(|place| day.dropped[*place].why.contains(&Reason::ExtraRest))
        .max_by_key(|place| (day.dropped[*place].usual.running_middle(), std::cmp::Reverse(*place)))
}

/// The running of race week in one unit.
fn race_week(block: &Block, unit: Unit) -> Milli {
    let days = block.days.iter().filter(|day| in_race_week(day));
    days.map(|day| day.planned_running().of(unit).middle()).sum()
}

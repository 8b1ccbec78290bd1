//! A rest day that happens takes the place of the extra one of race week.

use chrono::NaiveDate;

use super::swap::is_on_the_way_back;
use super::{Measure, is_free};
use crate::block::amounts;
use crate::block::{Block, Day, Planned, Reason, Role, race_week};
use crate::life::{EventKind, LifeEvent};
use crate::session::{Kind, Session};
use crate::units::{Milli, Unit};

/// Where race week has a rest day more than usual and an event rests a day on which it would be run as well, that
/// rest day is run: one is enough. It holds no more than was missed.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn give_back(block: &mut Block, plan: &Block, event: &LifeEvent, all: &[LifeEvent], measure: &Measure) {
    let rests_now = |day: &&Day| {
        in_race_week(day)
            && keeps_free(event, day.date)
            && day.is_rest()
            && plan.day(day.date).is_some_and(|day| !day.is_rest())
    };
    let Some(rest) = block.days.iter().find(rests_now).map(|day| day.date) else { return };
    let is_open = |day: &Day| {
        in_race_week(day)
            && is_free(day)
            && day.date >= event.noted
            && day.is_rest()
            && (day.to_race > 1 || event.kind == EventKind::NoTime)
            && !all
                .iter()
                .any(|other| keeps_free(other, day.date) || (other != event && is_on_the_way_back(other, day.date)))
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

/// Whether nothing is run on a day because of an event.
fn keeps_free(event: &LifeEvent, date: NaiveDate) -> bool {
    let covers = if event.kind == EventKind::Travel { event.is_on_the_way(date) } else { event.covers(date) };
    covers || event.keeps_from_running_on(date)
}

fn in_race_week(day: &Day) -> bool {
    race_week::leads_up(day.to_race)
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

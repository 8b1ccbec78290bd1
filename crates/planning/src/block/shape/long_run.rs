//! The long run comes down by steps, and becomes an easy run in race week.

use chrono::{Datelike, NaiveDate, Weekday};

use crate::block::draft::{DraftDay, HardRule, Item, Sizing};
use crate::block::facts::Facts;
use crate::block::{Reason, Role};
use crate::race::Event;
use crate::session::{Kind, Session};
use crate::units::{Share, is_below_km};
use crate::week::WEEKDAYS;

/// The share of the longest usual run that a long run may be, from 7 days before the race on.
///
/// # Source
///
/// Common practice, no published source. The last long run two to three weeks before a marathon
/// agrees with the open log `Stat2Data/Marathon` (last run of 20 miles or more 21, 22, 21, 22, 21
/// and 14 days before six marathons).
pub(crate) const fn ladder(event: Event, to_race: u16) -> f64 {
    match (event, to_race) {
        (Event::FiveK, 7..=8) => 0.85,
        (Event::TenK, 7..=8) | (Event::Half, 9..=11) | (Event::Longer, 17..=19) => 0.80,
        (Event::Half, 12..=14) | (Event::Marathon, 17..=19) => 0.90,
        (Event::Half, 7..=8) => 0.70,
        (Event::Marathon, 12..=16) => 0.75,
        (Event::Longer, 12..=16) => 0.65,
        (Event::Marathon, 7..=11) => 0.55,
        (Event::Longer, 7..=11) => 0.45,
        _ => 1.0,
    }
}

/// The share of the longest run that a long slot in race week may be: D6 first, D1 last.
///
/// # Source
///
/// Common practice, no published source.
const fn race_week_share(event: Event, to_race: u16) -> f64 {
    match (event.up_to_10_miles(), to_race) {
        (true, 6..) => 0.60,
        (true, 5) => 0.55,
        (true, 4) => 0.50,
        (true, 3) => 0.45,
        (true, 2) => 0.35,
        (true, _) => 0.25,
        (false, 6..) => 0.50,
        (false, 5) => 0.40,
        (false, 4) => 0.33,
        (false, 3) => 0.28,
        (false, 2) => 0.22,
        (false, _) => 0.15,
    }
}

/// At most this much of a long run's hard part stays before a marathon, from D11 to D7.
///
/// # Source
///
/// Common practice, no published source.
const MARATHON_HARD_IN_LONG: f64 = 0.40;

/// A second long run is at most this share of the longest, from D14 on (half marathon and longer), or the
/// median run where that is more: it does not become shorter than a plain run.
///
/// # Source
///
/// Common practice, no published source.
const SECOND_LONG_RUN: f64 = 0.45;

/// Brings long runs down by the ladder, from D max(length, 8) to D7.
pub(super) fn step_down(facts: &Facts<'_>, days: &mut [DraftDay]) {
    let from = u16::from(facts.curve.length).max(8);
    for day in days.iter_mut().filter(|day| (7..=from).contains(&day.to_race) && !day.is_settled()) {
        let to_race = day.to_race;
        let date = day.date;
        for item in day.items.iter_mut().filter(|item| item.long || is_hard_long_run(facts, item, date)) {
            cap_by_the_ladder(facts, item, to_race);
            let most = if facts.event == Event::Marathon && to_race <= 11 { MARATHON_HARD_IN_LONG } else { 1.0 };
            item.hard = HardRule::Follow(Share(most));
            let is_second = |item: &Item| longest_slot(facts, date) != Some((date.weekday(), item.place));
            if !facts.event.up_to_10_miles() && to_race <= 14 && item.long && is_second(item) {
                let share = f64::max(SECOND_LONG_RUN, facts.lengths.median / facts.lengths.longest);
                cap_of_longest(facts, item, share, Reason::SecondLongRun(Share(share)));
            }
        }
    }
}

/// Whether a hard run of another kind (race pace, progression) is the long run of its week: as long as one, and no
/// other run is longer. A time trial is run whole or not at all.
fn is_hard_long_run(facts: &Facts<'_>, item: &Item, date: NaiveDate) -> bool {
    let is_hard = item.session.is_hard() && !matches!(item.session.kind, Kind::TimeTrial);
    let longest = || {
        let week = facts.request.week.due(date);
        let slots = WEEKDAYS.into_iter().flat_map(|weekday| week.day(weekday));
        slots.map(|slot| facts.km(slot.chosen())).fold(0.0, f64::max)
    };
    is_hard
        && item.role != Role::OtherRace
        && facts.is_as_long_as_a_long_run(&item.session)
        && !is_below_km(facts.km(&item.session), longest())
}

/// Bounds a run from D7 on back that is a long run or takes the place of one.
pub(super) fn cap_by_the_ladder(facts: &Facts<'_>, item: &mut Item, to_race: u16) {
    let share = ladder(facts.event, to_race);
    if share < 1.0 {
        cap_of_longest(facts, item, share, Reason::LongRun(Share(share)));
        item.sizing = Sizing::Ebb;
    }
}

/// Makes easy runs of the long slots of race week.
pub(super) fn ease_in_race_week(facts: &Facts<'_>, days: &mut [DraftDay]) {
    for day in days.iter_mut().filter(|day| day.leads_up() && !day.is_settled()) {
        let to_race = day.to_race;
        for item in day.items.iter_mut().filter(|item| item.long) {
            cap_in_race_week(facts, item, to_race);
            item.sizing = Sizing::Ebb;
            item.hard = HardRule::Follow(Share::ALL);
            // A long run with a hard part may still become the key session; otherwise it is easy.
            if !item.session.is_hard() {
                item.session.kind = Kind::Easy;
            }
        }
    }
}

/// Bounds a run of race week that takes the place of a long run.
pub(super) fn cap_in_race_week(facts: &Facts<'_>, item: &mut Item, to_race: u16) {
    let share = race_week_share(facts.event, to_race);
    cap_of_longest(facts, item, share, Reason::LongSlotEased(Share(share)));
}

/// The weekday and the place of the longest run of the week that is due on a date, of equals one that is called a long run.
fn longest_slot(facts: &Facts<'_>, date: NaiveDate) -> Option<(Weekday, usize)> {
    let runs = WEEKDAYS.into_iter().flat_map(|weekday| {
        let slots = facts.request.week.due(date).day(weekday).iter().enumerate();
        slots.map(move |(place, slot)| (weekday, place, slot.chosen()))
    });
    let mut best: Option<(Weekday, usize, &Session)> = None;
    for run in runs {
        let length = |session: &Session| (facts.km(session), session.kind == Kind::Long);
        if best.is_none_or(|best| length(run.2) > length(best.2)) {
            best = Some(run);
        }
    }
    best.map(|(weekday, place, _)| (weekday, place))
}

fn cap_of_longest(facts: &Facts<'_>, item: &mut Item, share: f64, reason: Reason) {
    if let Some(amount) = item.session.amount {
        item.caps.push((facts.km_in(facts.lengths.longest * share, amount.unit()), reason));
    }
}

//! Rest in race week: the day before the race, and one rest day more than usual where there is room.

use chrono::Datelike;

use super::key::Key;
use super::{Shaped, give_away};
use crate::block::draft::{DraftDay, Item, Sizing};
use crate::block::facts::Facts;
use crate::block::{Reason, Role, race_week};
use crate::curve::{DayBefore, ExtraRest};
use crate::note;
use crate::session::{Kind, Session};
use crate::units::{Amount, Milli, Unit};

/// Running days from which race week has a rest day more, half marathon and longer.
///
/// # Source
///
/// Common practice, no published source. One day, not more: frequency kept does better than
/// frequency cut (Bosquet and others 2007); 800 m runners who rested every third day gained nothing
/// while those who ran daily did (Mujika and others 2002).
const EXTRA_REST_FROM: usize = 5;

/// Places the rest days of race week.
pub(super) fn place(facts: &Facts<'_>, days: &mut [DraftDay], key: Option<Key>, shaped: &mut Shaped) {
    let mut owed = owed(facts, days);
    if let Some(index) = set_to_rest(facts, days).filter(|index| days[*index].runs()) {
        rest_on(facts, &mut days[index], Reason::ExtraRest, shaped);
        owed = owed.saturating_sub(1);
    }
    owed = optional_runs(facts, days, owed, key, shaped);
    owed = day_before(facts, days, owed, shaped);
    while owed > 0 {
        let Some(index) = further_place(days, key) else { return };
        rest_on(facts, &mut days[index], Reason::ExtraRest, shaped);
        owed -= 1;
    }
}

/// How many running days of race week are to go: running days, the race included, are the usual
/// ones less one where that is due.
fn owed(facts: &Facts<'_>, days: &[DraftDay]) -> usize {
    if facts.request.settings.extra_rest == ExtraRest::None {
        return 0;
    }
    let race_week = days.iter().filter(|day| race_week::holds(day.to_race));
    let usual = race_week.filter(|day| day.usual.iter().any(|session| session.running_middle() > Milli::ZERO)).count();
    let one_less = if facts.youth {
        false
    } else if facts.event.up_to_10_miles() {
        usual == 7
    } else {
        usual >= EXTRA_REST_FROM
    };
    let now = 1 + days.iter().filter(|day| day.leads_up() && day.runs()).count();
    (now + usize::from(one_less)).saturating_sub(usual)
}

/// The day of race week that is set to be the extra rest day.
fn set_to_rest(facts: &Facts<'_>, days: &[DraftDay]) -> Option<usize> {
    let weekday = facts.extra_rest_weekday()?;
    days.iter().position(|day| day.leads_up() && !day.is_settled() && day.date.weekday() == weekday)
}

/// Runs that the coach left to the athlete are the first to go, those farthest from other rest first; beside a usual rest
/// day too, but no three days in a row are without running for it. Gives back how many rest days are still owed.
///
/// # Source
///
/// Common practice, no published source.
fn optional_runs(
    facts: &Facts<'_>,
    days: &mut [DraftDay],
    mut owed: usize,
    key: Option<Key>,
    shaped: &mut Shaped,
) -> usize {
    let rests_on_d1 = day_before_as_set(facts) == DayBefore::Rest
        && days.iter().any(|day| day.to_race == 1 && !day.is_settled() && day.runs());
    let for_others = owed.min(usize::from(rests_on_d1));
    while owed > for_others {
        let place = farthest(days, key, DraftDay::is_optional)
            .or_else(|| beside_one_rest_day(days, key, DraftDay::is_optional));
        let Some(index) = place else { return owed };
        rest_on(facts, &mut days[index], Reason::ExtraRest, shaped);
        owed -= 1;
    }
    owed
}

/// What the coach, else the athlete's habit, sets for the day before the race.
fn day_before_as_set(facts: &Facts<'_>) -> DayBefore {
    match facts.request.settings.day_before {
        DayBefore::Auto => facts.request.athlete.suits.day_before.unwrap_or_default(),
        set => set,
    }
}

/// The day before the race: as the coach or the athlete set it; else usual rest stays rest; half
/// marathon and longer it is the extra rest day if one is due and the day before it is run on;
/// otherwise a shake-out. Either way there is no cross-training, a walk aside. Gives back how many rest days are still owed.
///
/// # Source
///
/// Common practice, no published source; habits differ, so the athlete's own goes first.
fn day_before(facts: &Facts<'_>, days: &mut [DraftDay], owed: usize, shaped: &mut Shaped) -> usize {
    let runs_on_d2 = days.iter().any(|day| day.to_race == 2 && day.runs());
    let Some(day) = days.iter_mut().find(|day| day.to_race == 1 && !day.is_settled()) else { return owed };
    let usually_runs = day.runs();
    let is_tiring = |item: &Item| item.session.kind == Kind::CrossTraining && !note::walks(&item.session.note);
    let rests = match day_before_as_set(facts) {
        DayBefore::Rest => true,
        DayBefore::ShakeOut => false,
        DayBefore::Auto => {
            let may_rest = day.is_optional() || (!facts.event.up_to_10_miles() && runs_on_d2);
            !usually_runs || (may_rest && owed > 0)
        }
    };
    if !rests {
        day.drop_items(Reason::ShakeOut, is_tiring);
        shake_out(facts, day);
        return owed;
    }
    day.drop_items(Reason::DayBeforeRest, is_tiring);
    if usually_runs {
        rest_on(facts, day, Reason::DayBeforeRest, shaped);
        return owed.saturating_sub(1);
    }
    owed
}

fn shake_out(facts: &Facts<'_>, day: &mut DraftDay) {
    let knows_strides =
        facts.request.week.sessions().any(|(_, session)| session.kind == Kind::Strides || session.holds_strides());
    if let Some(item) = day.items.iter_mut().find(|item| item.is_running()) {
        let walks = note::run_and_walk(&item.session.note);
        item.ease(if knows_strides { Kind::Strides } else { Kind::Easy });
        item.session.note = walks;
        item.role = Role::ShakeOut;
        item.why = vec![Reason::ShakeOut];
        // Its own size is the bound, whatever long run stands here usually.
        item.caps.clear();
        if let Some(amount) = item.session.amount {
            item.sizing = Sizing::About(facts.mileage.shake_out(amount.unit()));
        }
        return;
    }
    // A run that the coach wants on a usual rest day.
    let unit = facts.request.week.running().parts().first().map_or(Unit::Min, |part| part.unit());
    let amount = Amount::exact(facts.mileage.shake_out(unit), unit);
    let item = Item::as_usual(day.usual.len(), &Session::new(Kind::Easy, amount));
    day.items.push(Item { usual: None, role: Role::ShakeOut, why: vec![Reason::ShakeOut], ..item });
}

/// An easy day, not the key day, farthest from other rest, the earliest of equals, never beside
/// another rest day; a long slot only where nothing else is left.
fn further_place(days: &[DraftDay], key: Option<Key>) -> Option<usize> {
    let is_long = |day: &DraftDay| day.items.iter().any(|item| item.long);
    farthest(days, key, |day| !is_long(day)).or_else(|| farthest(days, key, is_long))
}

/// Whether nothing is run on the day so many days before the race; on race day something is.
fn rests(days: &[DraftDay], to_race: u16) -> bool {
    to_race > 0 && days.iter().any(|day| day.to_race == to_race && !day.runs())
}

/// The days of race week that may rest, earliest first.
fn may_rest(days: &[DraftDay], key: Option<Key>) -> impl Iterator<Item = (usize, &DraftDay)> {
    let in_race_week = days.iter().enumerate().filter(|(_, day)| (2..=race_week::BEGINS).contains(&day.to_race));
    in_race_week.filter(move |(_, day)| {
        !day.is_settled() && day.runs() && !day.is_hard() && key.is_none_or(|key| key.to_race != day.to_race)
    })
}

/// A day beside one other rest day and no more.
fn beside_one_rest_day(days: &[DraftDay], key: Option<Key>, may: impl Fn(&DraftDay) -> bool) -> Option<usize> {
    let makes_three = |to_race: u16| {
        let rests = |to_race: u16| rests(days, to_race);
        let both_sides = rests(to_race + 1) && rests(to_race - 1);
        both_sides || (rests(to_race + 1) && rests(to_race + 2)) || (rests(to_race - 1) && rests(to_race - 2))
    };
    may_rest(days, key).find(|(_, day)| may(day) && !makes_three(day.to_race)).map(|(index, _)| index)
}

fn farthest(days: &[DraftDay], key: Option<Key>, may: impl Fn(&DraftDay) -> bool) -> Option<usize> {
    let rests = |to_race: u16| rests(days, to_race);
    let mut best: Option<(u16, usize)> = None;
    for (index, day) in may_rest(days, key) {
        if !may(day) || rests(day.to_race + 1) || rests(day.to_race - 1) {
            continue;
        }
        let far = (1..=race_week::BEGINS)
            .filter(|other| rests(*other))
            .map(|other| day.to_race.abs_diff(other))
            .min()
            .unwrap_or(9);
        if best.is_none_or(|(distance, _)| far > distance) {
            best = Some((far, index));
        }
    }
    best.map(|(_, index)| index)
}

fn rest_on(facts: &Facts<'_>, day: &mut DraftDay, reason: Reason, shaped: &mut Shaped) {
    let to_race = day.to_race;
    let gone = day.drop_items(reason, Item::is_running);
    give_away(facts, to_race, &gone, shaped);
}

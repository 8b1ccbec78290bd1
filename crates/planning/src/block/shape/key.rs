//! The key session: exactly one hard session in race week, shortened, not dropped.

use chrono::{Datelike, NaiveDate};

use super::other_race;
use crate::block::amounts;
use crate::block::around_hard::Around;
use crate::block::draft::{DraftDay, HardRule, Item, Sizing};
use crate::block::facts::Facts;
use crate::block::{Reason, Role, race_week};
use crate::note;
use crate::race::Event;
use crate::session::{Kind, Session};
use crate::units::{Amount, Milli, Share, middle_km};

/// Where the key session stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Key {
    pub(super) to_race: u16,
}

/// The days on which the last hard session may stand, best first.
///
/// # Source
///
/// Common practice, no published source: 3-5 days before up to 10 miles, 4-6 before longer races.
/// That a hard session stays at all is published: intensity kept is worth more than intensity cut
/// (Bosquet and others 2007); rest alone did worse than short hard running (Shepley and others 1992).
const fn key_order(event: Event) -> [u16; 3] {
    if event.up_to_10_miles() { [4, 5, 3] } else { [5, 4, 6] }
}

/// Where it goes if nothing is run on those days: as an exception, shorter still.
///
/// # Source
///
/// Common practice, no published source.
const fn last_resort(event: Event) -> u16 {
    if event.up_to_10_miles() { 6 } else { 3 }
}

/// What stays of the usual hard part: half; 60 % as early as D6; a third as late as D3 before the
/// half marathon and longer, whatever the floor. Elsewhere a floor above that keeps more.
///
/// # Source
///
/// Common practice, no published source.
fn hard_share(facts: &Facts<'_>, to_race: u16) -> f64 {
    match to_race {
        3 if !facts.event.up_to_10_miles() => 1.0 / 3.0,
        6 => f64::max(0.6, facts.curve.floor),
        _ => f64::max(0.5, facts.curve.floor),
    }
}

/// Places the key session and says where it stands.
pub(super) fn place(facts: &Facts<'_>, days: &mut [DraftDay]) -> Option<Key> {
    if let Some(day) = days.iter().find(|day| (3..=6).contains(&day.to_race) && day.is_settled() && day.is_hard()) {
        return Some(Key { to_race: day.to_race });
    }
    // Another race so late is the last hard running.
    if let Some(day) = days.iter().find(|day| day.leads_up() && day.holds_a_race()) {
        return Some(Key { to_race: day.to_race });
    }
    // A touch of quick running is no session that a week is built around: see `hard::keep_touch`.
    if facts.touches_only {
        return None;
    }
    // So soon after a race nothing hard stands, and what does is easy instead.
    let is_spared =
        |to_race: u16| days.iter().any(|day| day.to_race == to_race && facts.spared_after(day.date).is_some());
    let may_stand = |to_race: &u16| {
        !is_set_to_rest(facts, days, *to_race) && !is_spared(*to_race) && !other_race::is_just_over(days, *to_race)
    };
    let order: Vec<u16> = key_order(facts.event).into_iter().filter(may_stand).collect();
    if let Some((day, place)) = standing(days, &order) {
        let to_race = days[day].to_race;
        let source = days[day].items[place].session.clone();
        make_key(facts, &mut days[day].items[place], &source, to_race, None);
        return Some(Key { to_race });
    }
    if facts.event == Event::Longer {
        return None;
    }
    let (source_day, source_place) = source(facts, days, &order)?;
    let source = days[source_day].items[source_place].session.clone();
    let source_date = days[source_day].date;
    let source_to_race = days[source_day].to_race;
    let was_hills = days[source_day].items[source_place].why.contains(&Reason::HillsFlat) || source.kind == Kind::Hills;
    let (day, place) = easy_place(days, &order).or_else(|| {
        let resort = last_resort(facts.event);
        days.iter()
            .position(|day| day.to_race == resort && !day.is_settled() && day.runs() && !day.is_optional())
            .filter(|_| may_stand(&resort))
            .and_then(|day| main_run(&days[day]).map(|place| (day, place)))
    })?;
    let (to_race, date) = (days[day].to_race, days[day].date);
    let moved_from = (source_to_race != to_race).then_some(source_date);
    if moved_from.is_some() {
        // What was said of the run that gave way is not true of what stands here now.
        let item = &mut days[day].items[place];
        item.why.clear();
        item.why.extend(was_hills.then_some(Reason::HillsFlat));
    }
    make_key(facts, &mut days[day].items[place], &source, to_race, moved_from);
    if race_week::holds(source_to_race) && source_to_race != to_race {
        let item = &mut days[source_day].items[source_place];
        super::hard::ease(facts, item, source_to_race, Reason::KeyMovedAway(date));
    }
    if to_race == 6 && moved_from.is_some() {
        ease_the_day_before(facts, days, date);
    }
    Some(Key { to_race })
}

/// A key session moved to D6 does not stand beside a hard D7: that one gives way to it.
fn ease_the_day_before(facts: &Facts<'_>, days: &mut [DraftDay], key_date: NaiveDate) {
    let Some(day) = days.iter_mut().find(|day| day.to_race == 7 && !day.is_settled()) else { return };
    for item in day.items.iter_mut().filter(|item| item.session.is_hard_work()) {
        super::hard::ease(facts, item, 7, Reason::KeyMovedAway(key_date));
    }
}

fn is_set_to_rest(facts: &Facts<'_>, days: &[DraftDay], to_race: u16) -> bool {
    let weekday = facts.extra_rest_weekday();
    days.iter().any(|day| day.to_race == to_race && Some(day.date.weekday()) == weekday)
}

fn on_day(days: &[DraftDay], to_race: u16) -> Option<usize> {
    days.iter().position(|day| day.to_race == to_race && !day.is_settled())
}

/// The usual hard session that stands first in the order; hills only if nothing else does, never a time trial. The hard
/// part of a long run is no session of its own: it is taken only where race week holds no other hard session to move.
fn standing(days: &[DraftDay], order: &[u16]) -> Option<(usize, usize)> {
    let is_other = |item: &Item| item.session.is_hard() && !item.long && item.session.kind != Kind::TimeTrial;
    let in_race_week = |day: &&DraftDay| day.leads_up() && !day.is_settled();
    let holds_another = days.iter().filter(in_race_week).flat_map(|day| &day.items).any(is_other);
    let rank = |item: &Item| match item.usual.as_ref().map(|usual| usual.kind) {
        Some(Kind::TimeTrial) => None,
        _ if !item.session.is_hard() => None,
        _ if item.long && holds_another => None,
        _ if item.long => Some(2),
        Some(Kind::Hills) => Some(1),
        _ => Some(0),
    };
    (0..3).find_map(|wanted| {
        order.iter().filter_map(|to_race| on_day(days, *to_race)).find_map(|day| {
            let place = days[day].items.iter().position(|item| rank(item) == Some(wanted))?;
            Some((day, place))
        })
    })
}

/// Races up to this far are run faster than a tempo: repetitions go before it.
///
/// # Source
///
/// Common practice, no published source.
const REPETITIONS_FIRST_KM: f64 = 10.0;

/// The hard session that the key session is made from when none stands in the window: one of race
/// week that cannot stay, repetitions before tempo and hills up to 10 km, else the nearest of the week before; the hard
/// part of a long run last.
fn source(facts: &Facts<'_>, days: &[DraftDay], order: &[u16]) -> Option<(usize, usize)> {
    let fits = |item: &Item| item.session.is_hard() && item.session.kind != Kind::TimeTrial;
    let first = order.first().copied().unwrap_or(5);
    let is_short_race = facts.request.race.distance.distance().as_km() <= REPETITIONS_FIRST_KM;
    let is_slower = |item: &Item| {
        let usual = item.usual.as_ref().map(|usual| usual.kind);
        matches!(usual, Some(Kind::Tempo | Kind::Progression | Kind::Hills))
    };
    let mut found: Vec<_> = days
        .iter()
        .enumerate()
        .filter(|(_, day)| (1..=13).contains(&day.to_race) && !day.is_settled())
        .flat_map(|(index, day)| day.items.iter().enumerate().map(move |(place, item)| (day, index, place, item)))
        .filter(|(_, _, _, item)| fits(item))
        .map(|(day, index, place, item)| {
            let is_before = !race_week::holds(day.to_race);
            let far = if is_before { day.to_race } else { day.to_race.abs_diff(first) };
            (item.long, is_before, is_short_race && is_slower(item), far, index, place)
        })
        .collect();
    found.sort_unstable();
    found.first().map(|(.., day, place)| (*day, *place))
}

/// The easy run that gives way to a moved key session: a single run first in the order, then any
/// day with runs, a long slot last; never one that is optional.
fn easy_place(days: &[DraftDay], order: &[u16]) -> Option<(usize, usize)> {
    let on_days = order.iter().filter_map(|to_race| on_day(days, *to_race));
    let candidates: Vec<usize> = on_days.filter(|day| !days[*day].is_optional()).collect();
    let is_long = |day: &DraftDay| day.items.iter().any(|item| item.long);
    let single = candidates.iter().find(|day| days[**day].run_count() == 1 && !is_long(&days[**day]));
    let several = candidates.iter().find(|day| days[**day].run_count() > 1 && !is_long(&days[**day]));
    let long = candidates.iter().find(|day| days[**day].runs());
    let day = *single.or(several).or(long)?;
    main_run(&days[day]).map(|place| (day, place))
}

/// The main run of a day: the longest.
fn main_run(day: &DraftDay) -> Option<usize> {
    (0..day.items.len())
        .filter(|place| day.items[*place].is_running())
        .max_by_key(|place| (day.items[*place].session.running_middle(), std::cmp::Reverse(*place)))
}

/// Turns an item into the key session made from a source session.
fn make_key(facts: &Facts<'_>, item: &mut Item, source: &Session, to_race: u16, moved_from: Option<NaiveDate>) {
    let Some(amount) = source.running() else { return };
    let unit = amount.unit();
    let share = hard_share(facts, to_race);
    let slot = item.session.running();
    item.session = source.clone();
    if source.kind == Kind::Long || source.kind == Kind::Hills {
        amounts::keep_hard_part(&mut item.session);
        if source.kind == Kind::Long {
            // The hard part of a long run, run on its own, is running at race pace.
            item.session.kind = Kind::RacePace;
            item.session.note = note::pace_alone(&source.note);
        } else {
            super::hard::flatten(&mut item.session, Kind::Intervals);
        }
    }
    item.written_for = Some(item.session.clone());
    item.role = Role::Key;
    item.hard = HardRule::Exactly(Share(share));
    let usual = amount.middle();
    let hard = amounts::hard_part(source, Share(share)).map_or(Milli::ZERO, Amount::middle);
    let with_easy_running = Around::of(source).with(hard);
    let half = usual.times(Share(share.clamp(0.5, 1.0)));
    let whole = if source.kind == Kind::Long { with_easy_running } else { half.max(with_easy_running) };
    item.why.push(Reason::KeySession(Share(share)));
    if let Some(date) = moved_from {
        item.why.push(Reason::KeyMovedHere(date));
        // The bounds of the run that gave way say nothing about the key session.
        item.caps.clear();
        // The day does not become longer than it usually is.
        if let Some(slot) = slot {
            let slot_km = middle_km(slot, facts.pace);
            item.caps.push((facts.km_in(slot_km, unit), Reason::MostNear(slot)));
        }
    }
    item.long = false;
    item.sizing = Sizing::AtLeast(amounts::round_up(whole, unit));
}

//! Step 3: amounts a coach would write, as near to the curve as the week's sum allows.
//!
//! Every session has a reference, its share of the usual amount brought between its bounds, and a
//! short list of values that may be written. The week's target is the sum of the references, so it
//! can always be reached. Among all choices whose sum is near the target, the one with the smallest
//! weighted square distance from the references is taken: exactly, by dynamic programming over the
//! sum ([`solve`]).

mod earlier;
mod turns;
mod write;

use std::ops::{Range, RangeInclusive};

use chrono::NaiveDate;

use self::earlier::Earlier;
pub(crate) use self::turns::{SAYS_NOTHING, falls_behind};
use super::amounts;
use super::around_hard::Around;
use super::draft::{DraftDay, Item, Sizing, Stands};
use super::facts::{Depth, Facts};
use super::shape::{Shaped, easy_run};
use super::solve::{Choice, solve};
use crate::block::{Reason, Role, race_week};
use crate::curve::{Band, RACE_WEEKDAY_PART, band, event_defaults};
use crate::session::Session;
use crate::units::{Amount, Milli, Share, Unit, is_below_km};

/// Hard sessions before race week hold on to their amount three times as much as easy ones.
///
/// # Source
///
/// Common practice, no published source; intensity kept: Bosquet and others 2007.
const HARD_WEIGHT: u64 = 3;

/// In race week nothing is more than this share of the usual.
///
/// # Source
///
/// Common practice, no published source.
const RACE_WEEK_MOST: Share = Share(0.90);

/// Other easy runs take up running that a rest day gave away, each at most this much more.
///
/// # Source
///
/// Common practice, no published source.
const TAKE_UP_MOST: f64 = 1.25;

/// Before race week a hard session keeps at least this share of its hard part beside an uncut warm-up and cool-down, as
/// long as the easy runs of its week can give the rest; and where a day was set by hand to more than usual, of what it
/// would have been: what cannot be given is not taken, and the week is above its curve.
///
/// # Source
///
/// Common practice, no published source: less than 70 % of the usual hard running is worth a note.
const HARD_KEEPS: Share = Share(0.70);

/// In race week it keeps half, as the key session does.
///
/// # Source
///
/// Common practice, no published source.
const HARD_KEEPS_IN_RACE_WEEK: Share = Share(0.50);

/// And a long run at least this share. Easy runs keep their usual lower bound.
///
/// # Source
///
/// Common practice, no published source.
const LONG_KEEPS: Share = Share(0.60);

/// The longest run so near to the race.
///
/// # Source
///
/// Common practice, no published source.
const fn most_near(to_race: u16, unit: Unit) -> Option<Milli> {
    match (to_race, unit) {
        (3..=4, Unit::Km) => Some(Milli(12_000)),
        (3..=4, Unit::Mi) => Some(Milli(7500)),
        (3..=4, Unit::Min) => Some(Milli(60_000)),
        (1..=2, Unit::Km) => Some(Milli(8000)),
        (1..=2, Unit::Mi) => Some(Milli(5000)),
        (1..=2, Unit::Min) => Some(Milli(40_000)),
        _ => None,
    }
}

/// A running session with its bounds.
struct Entry {
    day: usize,
    item: usize,
    usual: Amount,
    lower: Milli,
    /// The lower bound of a hard session that keeps its warm-up and cool-down, where the week has no room for them.
    lower_at_need: Option<Milli>,
    /// How long it is with them.
    with_warm_up: Milli,
    upper: Milli,
    upper_why: Option<Reason>,
    /// How long a key session, or an easy run before the last three days, may be where race week would otherwise hold
    /// too little.
    most: Milli,
    /// The curve's own wish, before bounds.
    wish: Milli,
    /// The amount from which the session comes down, and by which it is weighed beside others.
    scale: Milli,
    /// Why it comes down from less than its own usual amount.
    counted_as_easy: Option<Reason>,
    reference: Milli,
    takes_up: bool,
    /// How much it took up of what other days gave away.
    took: Milli,
    /// A long slot of race week that is run easily.
    was_long: bool,
    is_key: bool,
    /// Why it may end below its reference: something else in the week takes more than the curve would give it.
    makes_room: Option<Reason>,
    /// How much of its reference it gave up for that beforehand.
    given: Milli,
    weight: u64,
}

/// Gives every running session of the block its amount, week by week, each unit on its own.
pub(super) fn allocate(facts: &Facts<'_>, days: &mut [DraftDay], shaped: &Shaped) {
    let mut earlier = Earlier::default();
    let mut sum_before: [Option<Milli>; 3] = [None; 3];
    let weeks = days.len() / 7;
    for week in 0..weeks {
        let range = week * 7..week * 7 + 7;
        if facts.request.week.turns().is_some() {
            let falls = week > 0
                && falls_behind(days[range.start - 1].to_race, week + 1 == weeks, facts.curve.length)
                && !facts.is_recovering(days[range.start - 7].date);
            sum_before = if falls { turns::rooms(facts, days, &range, shaped, &earlier).map(Some) } else { [None; 3] };
        }
        for (unit, before) in Unit::ALL.into_iter().zip(&mut sum_before) {
            allocate_week(facts, days, range.clone(), unit, shaped, &earlier, *before);
            // After a week of recovery the running comes back.
            let recovering = facts.is_recovering(days[range.start].date);
            *before = (!recovering).then(|| sum_in(&days[range.clone()], unit));
        }
        earlier.remember(facts, &days[range]);
    }
}

/// Gives the running sessions of one week in one unit their amounts.
fn allocate_week(
    facts: &Facts<'_>,
    days: &mut [DraftDay],
    range: Range<usize>,
    unit: Unit,
    shaped: &Shaped,
    earlier: &Earlier,
    sum_before: Option<Milli>,
) {
    let Some(Open { entries, choices, sums }) = open_week(facts, days, range, unit, shaped, earlier, sum_before) else {
        return;
    };
    let picked = solve(&choices, sums);
    for ((entry, choice), pick) in entries.iter().zip(&choices).zip(picked) {
        let to_race = days[entry.day].to_race;
        write::write(facts, &mut days[entry.day].items[entry.item], entry, choice.amounts[pick], to_race);
    }
}

/// What is still to be chosen in a week: one of the amounts for each session, with a sum between two ends.
struct Open {
    entries: Vec<Entry>,
    choices: Vec<Choice>,
    sums: RangeInclusive<Milli>,
}

/// Bounds, references and choices of one week in one unit; nothing where nothing is left to choose.
fn open_week(
    facts: &Facts<'_>,
    days: &[DraftDay],
    range: Range<usize>,
    unit: Unit,
    shaped: &Shaped,
    earlier: &Earlier,
    sum_before: Option<Milli>,
) -> Option<Open> {
    let is_open = |item: &Item| {
        item.sizing != Sizing::Fixed && item.session.running().is_some_and(|amount| amount.unit() == unit)
    };
    if !days[range.clone()].iter().flat_map(|day| &day.items).any(is_open) {
        return None;
    }
    let weeks_before = ((days.len() - range.end) / 7) as u16;
    let mut entries: Vec<Entry> = Vec::new();
    for day in range.clone() {
        for item in 0..days[day].items.len() {
            if let Some(entry) = size(facts, &days[day], item, unit, earlier) {
                entries.push(Entry { day, item, ..entry });
            }
        }
    }
    if weeks_before == 0 {
        take_up(&mut entries, unit, shaped);
    }
    make_room_for_warm_ups(&mut entries);
    let end = range.end;
    let week = &days[range];
    let base: Milli = week.iter().map(|day| usual_in(day, unit)).sum();
    let (least, most) = ends_of_week(facts, base, usual_in(&days[end - 1], unit), weeks_before);
    let mut choices: Vec<Choice> =
        entries.iter().map(|entry| choice(entry, &days[entry.day].items[entry.item])).collect();
    lift(&mut entries, &mut choices, least);
    let set_to_more = longer_than_usual(facts, week);
    if set_to_more.is_some() {
        keep_a_share(&mut entries, &mut choices, days);
    }
    if let Some(before) = sum_before.filter(|_| set_to_more.is_none()) {
        give_way(&mut entries, &mut choices, before, facts.request.week.turns().is_some());
    }
    for (entry, choice) in entries.iter().zip(&mut choices) {
        choice.reference = entry.reference;
    }
    let fixed = entries.iter().filter(|entry| days[entry.day].stands == Stands::Fixed);
    let taken: Milli = fixed.map(|entry| entry.usual.middle() - entry.reference).sum();
    // Before the block the curve takes nothing, but more than usual is more there too.
    let more_than_usual = set_to_more.map_or(Milli::ZERO, |_| more_than_usual(facts, week, unit));
    if taken.max(more_than_usual) >= amounts::least_cut(unit) {
        for entry in &mut entries {
            entry.makes_room = Some(set_to_more.map_or(Reason::AroundFixed, Reason::AroundLonger));
        }
    }
    let target: Milli = entries.iter().map(|entry| entry.reference).sum();
    let slack = amounts::least_cut(unit).max(base.times(Share(0.02)));
    // The sum may end a little off the target, but not outside what the week should hold, and never above
    // the week before: there is always a step's room for a sum that can be reached.
    let most = most.min(target + slack);
    let most = sum_before.map_or(most, |before| before.min(most));
    let sums = (target - slack).max(least.min(target)).min(most - slack)..=most;
    Some(Open { entries, choices, sums })
}

/// The bounds and the reference of one running session in this unit.
fn size(facts: &Facts<'_>, day: &DraftDay, index: usize, unit: Unit, earlier: &Earlier) -> Option<Entry> {
    let item = &day.items[index];
    let usual = item.session.running().filter(|amount| amount.unit() == unit)?;
    let share = facts.share(day.to_race);
    let mut entry = Entry {
        day: 0,
        item: index,
        usual,
        lower: Milli::ZERO,
        lower_at_need: None,
        with_warm_up: Milli::ZERO,
        upper: usual.middle(),
        upper_why: None,
        most: Milli::ZERO,
        wish: usual.middle().times(share),
        scale: usual.middle(),
        counted_as_easy: None,
        reference: usual.middle(),
        takes_up: false,
        took: Milli::ZERO,
        was_long: false,
        is_key: item.role == Role::Key,
        makes_room: None,
        given: Milli::ZERO,
        // What is as long as it is, another race above all, holds on to nothing: to wish for more of it would only
        // ask more of the runs around it.
        weight: if !race_week::holds(day.to_race) && item.session.is_hard() && item.sizing != Sizing::Fixed {
            HARD_WEIGHT
        } else {
            1
        },
    };
    if item.sizing == Sizing::Fixed {
        if item.role == Role::OtherRace || (day.stands == Stands::Fixed && facts.ebbs(day.to_race)) {
            entry.reference = pinned_reference(item, share, unit);
        }
        return Some(entry);
    }
    let mut bound = |upper: Milli, why: Option<Reason>| {
        if upper < entry.upper {
            entry.upper = upper;
            entry.upper_why = why;
        }
    };
    if day.leads_up() && !matches!(item.sizing, Sizing::About(_)) {
        bound(usual.middle().times(RACE_WEEK_MOST), None);
    }
    if let Some(most) = most_near(day.to_race, unit) {
        bound(most, Some(Reason::MostNear(Amount::exact(most, unit))));
    }
    let is_near = |(_, why): &&(Milli, Reason)| matches!(why, Reason::EasyNear(_));
    for (cap, why) in item.caps.iter().filter(|cap| !is_near(cap)) {
        bound(*cap, Some(*why));
    }
    let moved = item.why.iter().any(|reason| matches!(reason, Reason::KeyMovedHere(_)));
    for before in earlier.had(facts, day, item).into_iter().flatten().filter(|_| !moved) {
        bound(before, Some(Reason::NotAboveEarlier));
    }
    let most = entry.upper;
    for (cap, why) in item.caps.iter().filter(is_near) {
        if *cap < entry.upper {
            entry.upper = *cap;
            entry.upper_why = Some(*why);
        }
    }
    match item.sizing {
        Sizing::AtLeast(least) => {
            entry.lower = least.min(entry.upper);
            entry.most = entry.upper;
            entry.upper = entry.upper.min(entry.wish.max(least));
            entry.reference = entry.lower;
        }
        Sizing::About(about) => {
            entry.upper = entry.upper.min(about);
            // Short enough as it is: whatever else the week holds, it loosens the legs.
            entry.lower = entry.upper;
            entry.reference = entry.upper;
        }
        Sizing::Ebb | Sizing::Fixed => {
            // An upper bound below what a run is worth gives way: a 3 km jog stays a 3 km jog.
            entry.lower = facts.mileage.least(unit).min(usual.middle());
            entry.upper = entry.upper.max(entry.lower);
            entry.count_as_easy(facts, item);
            entry.reference = entry.scale.times(share).clamp(entry.lower, entry.upper);
            if entry.weight == HARD_WEIGHT && item.keeps_its_warm_up() {
                let with_warm_up = Around::of(&item.session).at(&item.session, HARD_KEEPS);
                let written = amounts::round_up(with_warm_up, unit).min(usual.middle()).min(entry.upper);
                entry.lower_at_need = Some(entry.lower);
                entry.lower = entry.lower.max(written);
                entry.with_warm_up = entry.lower;
            }
            // The last three days are never filled up.
            entry.most = if day.to_race > 3 { most.max(entry.upper) } else { entry.upper };
            entry.was_long = item.long && race_week::holds(day.to_race) && !item.session.is_hard();
            entry.takes_up = !item.long && !item.session.is_hard() && item.role.plays_no_part();
        }
    }
    Some(entry)
}

/// The day of a week that the coach set to more running than it usually holds, the longest of several.
fn longer_than_usual(facts: &Facts<'_>, week: &[DraftDay]) -> Option<NaiveDate> {
    let longer = fixed_km(facts, week).filter(|(_, planned, usual)| is_below_km(*usual, *planned));
    longer.max_by(|one, other| one.1.total_cmp(&other.1)).map(|(date, _, _)| date)
}

/// How much more than usual the days of a week hold that the coach fixed, told in one unit whatever theirs is.
fn more_than_usual(facts: &Facts<'_>, week: &[DraftDay], unit: Unit) -> Milli {
    facts.km_in(fixed_km(facts, week).map(|(_, planned, usual)| planned - usual).sum(), unit)
}

/// What the days of a week hold that the coach fixed, and what they usually do, in kilometres.
fn fixed_km(facts: &Facts<'_>, week: &[DraftDay]) -> impl Iterator<Item = (NaiveDate, f64, f64)> {
    let km = |session: &Session| facts.km(session);
    week.iter().filter(|day| day.stands == Stands::Fixed).map(move |day| {
        let planned = day.items.iter().map(|item| km(&item.session)).sum();
        (day.date, planned, day.usual.iter().map(km).sum())
    })
}

/// Lets hard sessions and long runs give no more than a coach would sign to a day that holds more than usual.
fn keep_a_share(entries: &mut [Entry], choices: &mut [Choice], days: &[DraftDay]) {
    for (entry, choice) in entries.iter_mut().zip(choices) {
        let item = &days[entry.day].items[entry.item];
        let keeps = match item.sizing {
            Sizing::Ebb if item.session.is_hard() => HARD_KEEPS,
            Sizing::Ebb if item.long => LONG_KEEPS,
            _ => continue,
        };
        // In a week without that day it might have kept its warm-up.
        let would_be = entry.reference.max(entry.with_warm_up);
        let least = amounts::round_up(would_be.times(keeps), entry.usual.unit());
        entry.lower = least.min(would_be).max(entry.lower);
        entry.reference = entry.reference.max(entry.lower);
        entry.given = entry.given.max(would_be - entry.reference);
        choice.amounts = entry.amounts();
    }
}

/// What a pinned session would have been: the rest of the week is planned around the difference.
fn pinned_reference(item: &Item, share: Share, unit: Unit) -> Milli {
    item.usual
        .as_ref()
        .and_then(Session::running)
        .filter(|amount| amount.unit() == unit)
        .map_or(Milli::ZERO, |amount| amount.middle().times(share))
}

/// Spreads what rest days and second runs of race week gave away over the other easy runs.
fn take_up(entries: &mut [Entry], unit: Unit, shaped: &Shaped) {
    let given: Milli = shaped.given_away.iter().filter(|(of, _)| *of == unit).map(|(_, amount)| *amount).sum();
    let before: Vec<Milli> = entries.iter().map(|entry| entry.reference).collect();
    raise(entries, given, |_, entry| if entry.takes_up { f64::from(entry.reference.0) * TAKE_UP_MOST } else { 0.0 });
    for (entry, before) in entries.iter_mut().zip(before) {
        entry.took = entry.reference - before;
    }
}

/// What gives way, in this order, where the least that a week can hold is above the week before it: rather a shorter
/// warm-up than that, and rather a key session with less easy running around it. Says whether it did.
const GIVES_WAY: [fn(&mut Entry) -> bool; 2] = [Entry::give_up_warm_up, Entry::give_up_easy_running];

/// The same where two weeks take turns: behind a light week the runs of a full one may be shorter than is worth the shoes,
/// but no caricature. Where the light week holds next to nothing, the week rises and the review says so.
const GIVES_WAY_BEHIND_A_LIGHT_WEEK: [fn(&mut Entry) -> bool; 3] =
    [Entry::give_up_warm_up, Entry::give_up_easy_running, Entry::give_up_half];

/// Lowers bounds until the week can hold as little as the week before it.
fn give_way(entries: &mut [Entry], choices: &mut [Choice], before: Milli, takes_turns: bool) {
    let steps = if takes_turns { GIVES_WAY_BEHIND_A_LIGHT_WEEK.as_slice() } else { &GIVES_WAY };
    for gives_way in steps {
        if smallest_sum(choices) <= before {
            return;
        }
        for (entry, choice) in entries.iter_mut().zip(choices.iter_mut()) {
            if gives_way(entry) {
                choice.amounts = entry.amounts();
            }
        }
    }
}

/// Lets the easy runs of a week give what its hard sessions keep for warm-up and cool-down. Where they cannot, hard
/// sessions come down in proportion.
fn make_room_for_warm_ups(entries: &mut [Entry]) {
    let keep = |entry: &&Entry| entry.keeps_its_warm_up();
    let more: Milli = entries.iter().filter(keep).map(|entry| (entry.lower - entry.reference).max(Milli::ZERO)).sum();
    let gives = |entry: &Entry| {
        if entry.takes_up { (entry.reference - entry.lower).max(Milli::ZERO) } else { Milli::ZERO }
    };
    let room: Milli = entries.iter().map(gives).sum();
    if more > room {
        for entry in entries {
            entry.give_up_warm_up();
        }
        return;
    }
    let part = Share(more.as_f64() / room.as_f64().max(0.001));
    for entry in entries {
        entry.given = gives(entry).times(part);
        entry.reference = entry.reference - entry.given;
        entry.makes_room = Some(Reason::AroundWarmUps).filter(|_| entry.given > Milli::ZERO);
        if entry.keeps_its_warm_up() {
            entry.reference = entry.reference.max(entry.lower);
        }
    }
}

/// Raises references by an amount in all, each in proportion to its room below `most` and its bound.
fn raise(entries: &mut [Entry], by: Milli, most: impl Fn(usize, &Entry) -> f64) {
    let room = |(index, entry): (usize, &Entry)| {
        (most(index, entry).min(f64::from(entry.upper.0)) - f64::from(entry.reference.0)).max(0.0)
    };
    let rooms: Vec<f64> = entries.iter().enumerate().map(room).collect();
    let total: f64 = rooms.iter().sum();
    if total <= 0.0 || by <= Milli::ZERO {
        return;
    }
    let part = (f64::from(by.0) / total).min(1.0);
    for (entry, room) in entries.iter_mut().zip(rooms) {
        entry.reference = Milli(entry.reference.0 + (room * part).round() as i32);
    }
}

/// What a week holds at least and at most, the race not counted: the event's band, of a week whose race
/// weekday holds a quarter to two fifths of the running. Open where the coach's own curve says how much
/// is left, and upward where the athlete's does.
fn ends_of_week(facts: &Facts<'_>, base: Milli, gone: Milli, weeks_before: u16) -> (Milli, Milli) {
    let open = (Milli::ZERO, Milli(i32::MAX));
    let counts = facts.depth == Depth::Usual || (facts.depth == Depth::UsualInRaceWeek && weeks_before == 0);
    let Some(band) = band(facts.event, weeks_before).filter(|_| counts) else { return open };
    let part = gone.as_f64() / base.as_f64().max(0.001);
    let (least, most) = RACE_WEEKDAY_PART;
    let held = facts.left_of_the_curve((0..7).map(|day| weeks_before * 7 + day));
    let band = Band { low: band.low * held.0, ..band };
    match weeks_before {
        // Long slots or many runs stand in race week itself: their own bounds say what is left.
        _ if part < least => open,
        // A long run that is more of the week leaves less to race week, and takes more along by its steps.
        0 if part > most => (base.times(Share(band.low * (1.0 - part) / (1.0 - most))), open.1),
        _ if part > most => open,
        _ if facts.curve != event_defaults(facts.event).curve => (base.times(Share(band.low)), open.1),
        _ => (base.times(Share(band.low)), base.times(Share(band.high))),
    }
}

/// Raises the references of a week that would hold too little: easy runs first, each to at most
/// 1.25 times, then the key session up to the curve, then easy runs up to their bounds, then what became of
/// long slots, then hard sessions before race week, which keep most of theirs anyway, and where all that is not
/// enough easy runs before the last three days, then the key session, up to their own bounds.
fn lift(entries: &mut [Entry], choices: &mut [Choice], least: Milli) {
    let easy = |entry: &Entry| if entry.takes_up { f64::from(entry.reference.0) * TAKE_UP_MOST } else { 0.0 };
    let key = |entry: &Entry| if entry.is_key { f64::MAX } else { 0.0 };
    let all = |entry: &Entry| if entry.takes_up { f64::MAX } else { 0.0 };
    let long = |entry: &Entry| if entry.was_long { f64::MAX } else { 0.0 };
    let hard = |entry: &Entry| if entry.weight == HARD_WEIGHT { f64::MAX } else { 0.0 };
    let stages: [&dyn Fn(&Entry) -> f64; 5] = [&easy, &key, &all, &long, &hard];
    for most in stages {
        lift_to(entries, choices, least, most);
    }
    for is_key in [false, true] {
        if could_be_written(entries, choices) >= least {
            return;
        }
        let which = |entry: &Entry| entry.is_key == is_key && (is_key || entry.takes_up);
        for (entry, choice) in entries.iter_mut().zip(choices.iter_mut()).filter(|(entry, _)| which(entry)) {
            entry.upper = entry.upper.max(entry.most);
            choice.amounts = entry.amounts();
        }
        lift_to(entries, choices, least, if is_key { &key } else { &all as &dyn Fn(&Entry) -> f64 });
    }
}

/// Raises references up to `most` and to what can be written, as far as the week holds less than `least`.
fn lift_to(entries: &mut [Entry], choices: &[Choice], least: Milli, most: impl Fn(&Entry) -> f64) {
    let sum = could_be_written(entries, choices);
    if sum < least {
        raise(entries, least - sum, |index, entry| most(entry).min(f64::from(choices[index].most().0)));
    }
}

/// The sum of the references, none above the most that can be written.
fn could_be_written(entries: &[Entry], choices: &[Choice]) -> Milli {
    entries.iter().zip(choices).map(|(entry, choice)| entry.reference.min(choice.most())).sum()
}

impl Entry {
    /// What became of a long run in the last three days comes down from a usual easy run: a share of a long run would make it
    /// the longest of race week's easy runs, after shorter ones.
    fn count_as_easy(&mut self, facts: &Facts<'_>, item: &Item) {
        let near = item.caps.iter().map(|(_, why)| *why).find(|why| matches!(why, Reason::EasyNear(_)));
        let easy = easy_run::usual_easy(facts, self.usual.unit());
        if item.long && near.is_some() && easy < self.scale {
            self.scale = easy;
            self.counted_as_easy = near;
        }
    }

    /// Whether its lower bound leaves warm-up and cool-down as they usually are.
    fn keeps_its_warm_up(&self) -> bool {
        self.lower_at_need.is_some()
    }

    fn give_up_warm_up(&mut self) -> bool {
        let at_need = self.lower_at_need.take();
        self.lower = at_need.unwrap_or(self.lower);
        at_need.is_some()
    }

    fn give_up_easy_running(&mut self) -> bool {
        if self.is_key {
            self.lower = Milli::ZERO;
        }
        self.is_key
    }

    fn give_up_half(&mut self) -> bool {
        // What is fixed has no lower bound.
        let had = self.lower;
        self.lower = Milli(had.0 / 2);
        had > Milli::ZERO
    }

    /// What may be written.
    fn amounts(&self) -> Vec<Amount> {
        amounts::choices(self.usual, self.lower, self.upper)
    }
}

/// What may be written for one session, and how near to its reference it wants to be.
fn choice(entry: &Entry, item: &Item) -> Choice {
    let amounts = if item.sizing == Sizing::Fixed { vec![entry.usual] } else { entry.amounts() };
    Choice { amounts, reference: entry.reference, usual: entry.scale, weight: entry.weight }
}

/// The usual running of a day in one unit.
fn usual_in(day: &DraftDay, unit: Unit) -> Milli {
    let runs = day.usual.iter().filter_map(Session::running);
    runs.filter(|amount| amount.unit() == unit).map(Amount::middle).sum()
}

/// The smallest sum that can be written.
fn smallest_sum(choices: &[Choice]) -> Milli {
    choices.iter().map(|choice| choice.amounts[0].middle()).sum()
}

/// The running of some days in one unit.
fn sum_in(days: &[DraftDay], unit: Unit) -> Milli {
    let runs = days.iter().flat_map(|day| &day.items).filter_map(|item| item.session.running());
    runs.filter(|amount| amount.unit() == unit).map(Amount::middle).sum()
}

#[cfg(test)]
mod tests;

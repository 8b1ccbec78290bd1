//! Step 3: amounts a coach would write, as near to the curve as the week's sum allows.
//!
//! Every session has a reference, its share of the usual amount brought between its bounds, and a
//! short list of values that may be written. The week's target is the sum of the references, so it
//! can always be reached. Among all choices whose sum is near the target, the one with the smallest
//! weighted square distance from the references is taken: exactly, by dynamic programming over the
//! sum ([`solve`]).

use std::collections::BTreeMap;
use std::ops::{Range, RangeInclusive};

use chrono::{Datelike, NaiveDate};

use super::amounts::{self, SaysHard};
use super::draft::{DraftDay, HardRule, Item, Sizing, Stands};
use super::facts::{Depth, Facts};
use super::shape::Shaped;
use super::solve::{Choice, solve};
use crate::block::{Reason, Role};
use crate::curve::{Band, RACE_WEEKDAY_PART, band, event_defaults};
use crate::session::Session;
use crate::units::{Amount, Milli, Share, Unit, is_below_km, middle_km};

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

/// Where a day was set by hand to more than usual, a hard session keeps at least this share of what it would
/// have been: what cannot be given is not taken, and the week is above its curve.
///
/// # Source
///
/// Common practice, no published source: less than 70 % of the usual hard running is worth a note.
const HARD_KEEPS: Share = Share(0.70);

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

/// What the same slot of the weekday usually holds and what it had earlier in the block, of two weeks
/// that take turns each on its own.
type Earlier = BTreeMap<(bool, u8, usize), (Option<Amount>, Milli)>;

/// A running session with its bounds.
struct Sized {
    day: usize,
    item: usize,
    usual: Amount,
    lower: Milli,
    upper: Milli,
    upper_why: Option<Reason>,
    /// How long a key session may be where race week would otherwise hold too little.
    most: Milli,
    /// The curve's own wish, before bounds.
    wish: Milli,
    reference: Milli,
    takes_up: bool,
    /// A long slot of race week that is run easily.
    was_long: bool,
    is_key: bool,
    /// Why it may end below its reference: fixed days of the week take more than the curve would give them.
    makes_room: Option<Reason>,
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
            sum_before = if falls { rooms(facts, days, &range, shaped, &earlier).map(Some) } else { [None; 3] };
        }
        for (unit, before) in Unit::ALL.into_iter().zip(&mut sum_before) {
            allocate_week(facts, days, range.clone(), unit, shaped, &earlier, *before);
            // After a week of recovery the running comes back.
            let recovering = facts.is_recovering(days[range.start].date);
            *before = (!recovering).then(|| sum_in(&days[range.clone()], unit));
        }
        remember(facts, &days[range], &mut earlier);
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
    let Some(Open { sized, choices, sums }) = open_week(facts, days, range, unit, shaped, earlier, sum_before) else {
        return;
    };
    let picked = solve(&choices, sums);
    for ((entry, choice), pick) in sized.iter().zip(&choices).zip(picked) {
        let to_race = days[entry.day].to_race;
        write(facts, &mut days[entry.day].items[entry.item], entry, choice.amounts[pick], to_race);
    }
}

/// What is still to be chosen in a week: one of the amounts for each session, with a sum between two ends.
struct Open {
    sized: Vec<Sized>,
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
    let mut sized: Vec<Sized> = Vec::new();
    for day in range.clone() {
        for item in 0..days[day].items.len() {
            if let Some(entry) = size(facts, &days[day], item, unit, earlier) {
                sized.push(Sized { day, item, ..entry });
            }
        }
    }
    if weeks_before == 0 {
        take_up(&mut sized, unit, shaped);
    }
    let end = range.end;
    let week = &days[range];
    let base: Milli = week.iter().map(|day| usual_in(day, unit)).sum();
    let (least, most) = ends_of_week(facts, base, usual_in(&days[end - 1], unit), weeks_before);
    let mut choices: Vec<Choice> =
        sized.iter().map(|entry| choice(entry, &days[entry.day].items[entry.item])).collect();
    lift(&mut sized, &mut choices, least);
    let set_to_more = longer_than_usual(facts, week);
    if set_to_more.is_some() {
        keep_a_share(&mut sized, &mut choices, days);
    }
    if set_to_more.is_none() && sum_before.is_some_and(|before| smallest_sum(&choices) > before) {
        // Rather a key session with less easy running around it than a week above the one before.
        for (entry, choice) in sized.iter_mut().zip(&mut choices).filter(|(entry, _)| entry.is_key) {
            entry.lower = Milli::ZERO;
            choice.amounts = entry.amounts();
        }
    }
    let takes_turns = facts.request.week.turns().is_some();
    if takes_turns && set_to_more.is_none() && sum_before.is_some_and(|before| smallest_sum(&choices) > before) {
        // Behind a light week the runs of a full one may be shorter than is worth the shoes, but no
        // caricature: where the light week holds next to nothing, the week rises and the review says so.
        for (entry, choice) in sized.iter_mut().zip(&mut choices) {
            if days[entry.day].items[entry.item].sizing != Sizing::Fixed {
                entry.lower = Milli(entry.lower.0 / 2);
                choice.amounts = entry.amounts();
            }
        }
    }
    for (entry, choice) in sized.iter().zip(&mut choices) {
        choice.reference = entry.reference;
    }
    let fixed = sized.iter().filter(|entry| days[entry.day].stands == Stands::Fixed);
    let taken: Milli = fixed.map(|entry| entry.usual.middle() - entry.reference).sum();
    // Before the block the curve takes nothing, but more than usual is more there too.
    let more_than_usual = set_to_more.map_or(Milli::ZERO, |_| more_than_usual(week, unit));
    if taken.max(more_than_usual) >= amounts::least_cut(unit) {
        for entry in &mut sized {
            entry.makes_room = Some(set_to_more.map_or(Reason::AroundFixed, Reason::AroundLonger));
        }
    }
    let target: Milli = sized.iter().map(|entry| entry.reference).sum();
    let slack = amounts::least_cut(unit).max(base.times(Share(0.02)));
    // The sum may end a little off the target, but not outside what the week should hold, and never above
    // the week before: there is always a step's room for a sum that can be reached.
    let most = most.min(target + slack);
    let most = sum_before.map_or(most, |before| before.min(most));
    let sums = (target - slack).max(least.min(target)).min(most - slack)..=most;
    Some(Open { sized, choices, sums })
}

/// The bounds and the reference of one running session in this unit.
fn size(facts: &Facts<'_>, day: &DraftDay, index: usize, unit: Unit, earlier: &Earlier) -> Option<Sized> {
    let item = &day.items[index];
    let usual = item.session.running().filter(|amount| amount.unit() == unit)?;
    let share = facts.share(day.to_race);
    let mut entry = Sized {
        day: 0,
        item: index,
        usual,
        lower: Milli::ZERO,
        upper: usual.middle(),
        upper_why: None,
        most: Milli::ZERO,
        wish: usual.middle().times(share),
        reference: usual.middle(),
        takes_up: false,
        was_long: false,
        is_key: item.role == Role::Key,
        makes_room: None,
        // What is as long as it is, another race above all, holds on to nothing: to wish for more of it would only
        // ask more of the runs around it.
        weight: if day.to_race > 6 && item.session.is_hard() && item.sizing != Sizing::Fixed { HARD_WEIGHT } else { 1 },
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
    if (1..=6).contains(&day.to_race) && !matches!(item.sizing, Sizing::About(_)) {
        bound(usual.middle().times(RACE_WEEK_MOST), None);
    }
    if let Some(most) = most_near(day.to_race, unit) {
        bound(most, Some(Reason::MostNear(Amount::exact(most, unit))));
    }
    for (cap, why) in &item.caps {
        bound(*cap, Some(*why));
    }
    let moved = item.why.iter().any(|reason| matches!(reason, Reason::KeyMovedHere(_)));
    for before in what_it_had(facts, day, item, earlier).into_iter().flatten().filter(|_| !moved) {
        bound(before, Some(Reason::NotAboveEarlier));
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
            entry.reference = entry.wish.clamp(entry.lower, entry.upper);
            entry.was_long = item.long && day.to_race <= 6 && !item.session.is_hard();
            entry.takes_up =
                !item.long && !item.session.is_hard() && matches!(item.role, Role::Plain | Role::EasyWithStrides);
        }
    }
    Some(entry)
}

/// The day of a week that the coach set to more running than it usually holds, the longest of several.
fn longer_than_usual(facts: &Facts<'_>, week: &[DraftDay]) -> Option<NaiveDate> {
    let km = |session: &Session| facts.km(session);
    let set = week.iter().filter(|day| day.stands == Stands::Fixed).map(|day| {
        let planned: f64 = day.items.iter().map(|item| km(&item.session)).sum();
        (planned, day.usual.iter().map(km).sum::<f64>(), day.date)
    });
    let longer = set.filter(|(planned, usual, _)| is_below_km(*usual, *planned));
    longer.max_by(|one, other| one.0.total_cmp(&other.0)).map(|(_, _, date)| date)
}

/// How much more than usual the days of a week hold that the coach fixed, in one unit.
fn more_than_usual(week: &[DraftDay], unit: Unit) -> Milli {
    let fixed = week.iter().filter(|day| day.stands == Stands::Fixed);
    fixed.map(|day| sum_in(std::slice::from_ref(day), unit) - usual_in(day, unit)).sum()
}

/// Lets hard sessions and long runs give no more than a coach would sign to a day that holds more than usual.
fn keep_a_share(sized: &mut [Sized], choices: &mut [Choice], days: &[DraftDay]) {
    for (entry, choice) in sized.iter_mut().zip(choices) {
        let item = &days[entry.day].items[entry.item];
        let keeps = match item.sizing {
            Sizing::Ebb if item.session.is_hard() => HARD_KEEPS,
            Sizing::Ebb if item.long => LONG_KEEPS,
            _ => continue,
        };
        let least = amounts::round_up(entry.reference.times(keeps), entry.usual.unit());
        entry.lower = least.min(entry.reference).max(entry.lower);
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
fn take_up(sized: &mut [Sized], unit: Unit, shaped: &Shaped) {
    let given: Milli = shaped.given_away.iter().filter(|(of, _)| *of == unit).map(|(_, amount)| *amount).sum();
    raise(sized, given, |_, entry| if entry.takes_up { f64::from(entry.reference.0) * TAKE_UP_MOST } else { 0.0 });
}

/// Raises references by an amount in all, each in proportion to its room below `most` and its bound.
fn raise(sized: &mut [Sized], by: Milli, most: impl Fn(usize, &Sized) -> f64) {
    let room = |(index, entry): (usize, &Sized)| {
        (most(index, entry).min(f64::from(entry.upper.0)) - f64::from(entry.reference.0)).max(0.0)
    };
    let rooms: Vec<f64> = sized.iter().enumerate().map(room).collect();
    let total: f64 = rooms.iter().sum();
    if total <= 0.0 || by <= Milli::ZERO {
        return;
    }
    let part = (f64::from(by.0) / total).min(1.0);
    for (entry, room) in sized.iter_mut().zip(rooms) {
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
/// enough the key session up to its own bounds.
fn lift(sized: &mut [Sized], choices: &mut [Choice], least: Milli) {
    let easy = |entry: &Sized| if entry.takes_up { f64::from(entry.reference.0) * TAKE_UP_MOST } else { 0.0 };
    let key = |entry: &Sized| if entry.is_key { f64::MAX } else { 0.0 };
    let all = |entry: &Sized| if entry.takes_up { f64::MAX } else { 0.0 };
    let long = |entry: &Sized| if entry.was_long { f64::MAX } else { 0.0 };
    let hard = |entry: &Sized| if entry.weight == HARD_WEIGHT { f64::MAX } else { 0.0 };
    let stages: [&dyn Fn(&Sized) -> f64; 5] = [&easy, &key, &all, &long, &hard];
    for most in stages {
        lift_to(sized, choices, least, most);
    }
    if could_be_written(sized, choices) >= least {
        return;
    }
    for (entry, choice) in sized.iter_mut().zip(choices.iter_mut()).filter(|(entry, _)| entry.is_key) {
        entry.upper = entry.upper.max(entry.most);
        choice.amounts = entry.amounts();
    }
    lift_to(sized, choices, least, key);
}

/// Raises references up to `most` and to what can be written, as far as the week holds less than `least`.
fn lift_to(sized: &mut [Sized], choices: &[Choice], least: Milli, most: impl Fn(&Sized) -> f64) {
    let sum = could_be_written(sized, choices);
    if sum < least {
        raise(sized, least - sum, |index, entry| most(entry).min(f64::from(choices[index].most().0)));
    }
}

/// The sum of the references, none above the most that can be written.
fn could_be_written(sized: &[Sized], choices: &[Choice]) -> Milli {
    sized.iter().zip(choices).map(|(entry, choice)| entry.reference.min(choice.most())).sum()
}

impl Sized {
    /// What may be written.
    fn amounts(&self) -> Vec<Amount> {
        amounts::choices(self.usual, self.lower, self.upper)
    }
}

fn choice(entry: &Sized, item: &Item) -> Choice {
    let amounts = if item.sizing == Sizing::Fixed { vec![entry.usual] } else { entry.amounts() };
    Choice { amounts, reference: entry.reference, usual: entry.usual.middle(), weight: entry.weight }
}

/// Writes the amount into the session, brings the hard part along, and says why.
fn write(facts: &Facts<'_>, item: &mut Item, entry: &Sized, amount: Amount, to_race: u16) {
    if item.sizing == Sizing::Fixed {
        return;
    }
    let before = item.session.clone();
    item.session.amount = Some(amount);
    let part = amount.middle().as_f64() / entry.usual.middle().as_f64().max(0.001);
    match item.hard {
        HardRule::AsIs => {}
        HardRule::Follow(most) => {
            let share = Share(part.min(most.0));
            let says = if most.0 < part { SaysHard::Always } else { SaysHard::AsUsual };
            if before.is_hard() {
                amounts::shorten_hard(&mut item.session, &before, share, says);
            }
        }
        HardRule::Exactly(share) => {
            amounts::shorten_hard(&mut item.session, &before, share, SaysHard::Always);
            if matches!(item.sizing, Sizing::AtLeast(least) if amount.middle() < least) {
                at_most_half(&mut item.session, &before);
            }
        }
    }
    if amount.middle() < entry.usual.middle() && entry_says_why(item) {
        item.why.extend(size_reasons(facts, entry, amount, to_race));
    } else if item.usual.as_ref() != Some(&item.session) && item.why.is_empty() {
        // The whole is too short to cut; the hard part or the kind is not as usual.
        item.why.push(entry.upper_why.unwrap_or(facts.share_reason(to_race)));
    }
}

/// A session that had to fit a shorter day keeps at least half of it easy, unless it was harder before.
fn at_most_half(session: &mut Session, before: &Session) {
    let (Some(amount), Some(hard)) = (session.amount, session.hard) else { return };
    let usual_part = before.hard_middle().as_f64() / before.running_middle().as_f64().max(0.001);
    let most = amount.middle().times(Share(usual_part.max(0.5)));
    if hard.middle() > most {
        let step = amounts::hard_step(hard.unit());
        let most = Milli((most.0 / step * step).max(step)).min(amount.high()).min(hard.high());
        session.hard = Some(Amount::between(most.min(amount.low()), most, hard.unit()));
    }
}

/// Whether the size of the session is still to be explained: key session and shake-out say it all.
fn entry_says_why(item: &Item) -> bool {
    matches!(item.role, Role::Plain | Role::EasyWithStrides)
}

fn size_reasons(facts: &Facts<'_>, entry: &Sized, amount: Amount, to_race: u16) -> Vec<Reason> {
    let share = match facts.share_reason(to_race) {
        // The curve takes nothing yet: what is missing here is run in the race.
        Reason::Ebb(whole) if whole >= Share::ALL => facts.path.race_in_week(facts.request.race.date, to_race),
        reason => reason,
    };
    let is_capped = entry.wish > entry.upper;
    let mut why = vec![if is_capped { entry.upper_why.unwrap_or(share) } else { share }];
    // By more than rounding takes away.
    let step = amounts::least_cut(amount.unit()).0;
    let gave_up = 2 * (entry.reference - amount.middle()).0 > step;
    match entry.makes_room.filter(|_| gave_up) {
        // What the coach did comes first; a curve that takes next to nothing yet is no reason beside it.
        Some(makes_room @ Reason::AroundLonger(_)) => {
            why.retain(|reason| !matches!(reason, Reason::Ebb(whole) if whole.percent() >= 100));
            why.insert(0, makes_room);
        }
        Some(makes_room) => why.push(makes_room),
        None if is_capped => return why,
        None => {}
    }
    if entry.wish < entry.lower && amount.middle() <= entry.lower.max(amounts::round_up(entry.lower, amount.unit())) {
        why.push(Reason::LeastWorth(Amount::exact(facts.mileage.least(amount.unit()), amount.unit())));
    } else if entry.reference > entry.wish && amount.middle() > entry.wish {
        why.push(Reason::TookUp);
    }
    why
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

/// Where two weeks take turns: what a week may hold in each unit so as not to rise above the week before
/// it, which may hold other units. The room is parted as the week's own running is; what one unit cannot
/// do without (a time trial that is run whole), the others do without.
fn rooms(facts: &Facts<'_>, days: &[DraftDay], range: &Range<usize>, shaped: &Shaped, earlier: &Earlier) -> [Milli; 3] {
    let km = |days: &[DraftDay], wanted: &dyn Fn(Unit) -> bool| -> f64 {
        let runs = days.iter().flat_map(|day| &day.items).filter_map(|item| item.session.running());
        runs.filter(|amount| wanted(amount.unit())).map(|amount| middle_km(amount, facts.pace)).sum()
    };
    let before = km(&days[range.start - 7..range.start], &|_| true);
    let before = before.max(facts.request.week.running().middle_km(facts.pace) * SAYS_NOTHING);
    let parts = Unit::ALL.map(|unit| km(&days[range.clone()], &|of| of == unit));
    let least = Unit::ALL.map(|unit| {
        let open = open_week(facts, days, range.clone(), unit, shaped, earlier, Some(Milli::ZERO));
        open.map_or_else(|| sum_in(&days[range.clone()], unit), |open| smallest_sum(&open.choices))
    });
    let least: [f64; 3] =
        std::array::from_fn(|unit| middle_km(Amount::exact(least[unit], Unit::ALL[unit]), facts.pace));
    let room = parted(before, parts, least);
    std::array::from_fn(|unit| facts.km_in(room[unit], Unit::ALL[unit]))
}

/// Parts a whole in proportion, so that each part is at least what it must be: what one takes more, the
/// others have less.
fn parted(whole: f64, parts: [f64; 3], least: [f64; 3]) -> [f64; 3] {
    let mut must = [false; 3];
    loop {
        let taken: f64 = (0..3).filter(|unit| must[*unit]).map(|unit| least[unit]).sum();
        let sum: f64 = (0..3).filter(|unit| !must[*unit]).map(|unit| parts[unit]).sum();
        let one = if sum > 0.0 { (whole - taken).max(0.0) / sum } else { 0.0 };
        let part = |unit: usize| if must[unit] { least[unit] } else { parts[unit] * one };
        match (0..3).find(|unit| !must[*unit] && part(*unit) < least[*unit]) {
            Some(unit) => must[unit] = true,
            None => return std::array::from_fn(part),
        }
    }
}

/// Where two weeks take turns, a week that holds less than this part of their mean (seven days that
/// happen to catch the rest days of both) says nothing about the one behind it.
///
/// # Source
///
/// A convention of ours, no published source.
pub(crate) const SAYS_NOTHING: f64 = 0.45;

/// Whether a week must not rise above the one before it, where two weeks take turns: inside the block,
/// and race week in any case. Before the block they rise and fall as usual. Asked with the last day of
/// the week before.
pub(crate) const fn falls_behind(last_before: u16, is_race_week: bool, length: u8) -> bool {
    is_race_week || last_before < length as u16
}

/// The running of some days in one unit.
fn sum_in(days: &[DraftDay], unit: Unit) -> Milli {
    let runs = days.iter().flat_map(|day| &day.items).filter_map(|item| item.session.running());
    runs.filter(|amount| amount.unit() == unit).map(Amount::middle).sum()
}

fn remember(facts: &Facts<'_>, week: &[DraftDay], earlier: &mut Earlier) {
    let counts =
        |day: &&DraftDay| facts.ebbs(day.to_race) && day.stands != Stands::Fixed && !facts.is_recovering(day.date);
    for day in week.iter().filter(counts) {
        for item in day.items.iter().filter(|item| item.is_running() && !is_short_for_another(item)) {
            earlier.insert(slot_of(facts, day, item), (usual_running(item), item.session.running_middle()));
        }
    }
}

/// A run that is short because of another race, or of a day that was set to more than usual, says nothing about
/// the same weekday later.
fn is_short_for_another(item: &Item) -> bool {
    let says_nothing =
        |why: &Reason| matches!(why, Reason::BeforeOtherRace(_) | Reason::AfterOtherRace(_) | Reason::AroundLonger(_));
    item.why.iter().any(says_nothing)
}

fn usual_running(item: &Item) -> Option<Amount> {
    item.usual.as_ref().and_then(Session::running)
}

/// What the slot of a session had earlier in the block; and what the same slot of the week that takes
/// turns with its own had, unless that is the lighter one there.
fn what_it_had(facts: &Facts<'_>, day: &DraftDay, item: &Item, earlier: &Earlier) -> [Option<Milli>; 2] {
    let (second, weekday, place) = slot_of(facts, day, item);
    let same = earlier.get(&(second, weekday, place)).map(|(_, had)| *had);
    let usual = usual_running(item);
    let no_lighter = |other: Option<Amount>| match (other, usual) {
        (Some(other), Some(usual)) => other.unit() == usual.unit() && other.middle() >= usual.middle(),
        _ => false,
    };
    let other = earlier.get(&(!second, weekday, place)).filter(|(other, _)| no_lighter(*other)).map(|(_, had)| *had);
    [same, other]
}

/// The slot of the base week from which a session comes.
fn slot_of(facts: &Facts<'_>, day: &DraftDay, item: &Item) -> (bool, u8, usize) {
    let weekday = day.date.weekday().num_days_from_monday() as u8;
    (facts.request.week.is_second_due(day.date), weekday, item.place)
}

#[cfg(test)]
mod tests;

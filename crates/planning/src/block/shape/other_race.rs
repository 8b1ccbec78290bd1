//! Other races on the way: a tune-up race with two lighter days before it, or a race that is trained
//! through.

use chrono::NaiveDate;

use crate::block::draft::{DraftDay, Item, Sizing};
use crate::block::facts::{Facts, NO_LONGER_LONG};
use crate::block::{Dropped, Reason, Role};
use crate::race::{Event, Importance, Race};
use crate::session::{Kind, Session};
use crate::units::{Amount, DistanceUnit, Milli, Share};

/// Warm-up and cool-down around a race, which belong to the day's running.
///
/// # Source
///
/// Common practice, no published source: more before short races than before long ones.
const fn around(event: Event, unit: DistanceUnit) -> Milli {
    match (event.up_to_10_miles(), unit) {
        (true, DistanceUnit::Km) => Milli(4000),
        (true, DistanceUnit::Mi) => Milli(2500),
        (false, DistanceUnit::Km) => Milli(2000),
        (false, DistanceUnit::Mi) => Milli(1000),
    }
}

/// The two days before a tune-up race keep this share of the usual.
///
/// # Source
///
/// Common practice, no published source.
const BEFORE_TUNE_UP: f64 = 0.75;

/// The day before a race that is trained through keeps this share of the usual.
///
/// # Source
///
/// Common practice, no published source.
const BEFORE_TRAINING_THROUGH: f64 = 0.50;

/// The two days after a half marathon or longer keep this share of the usual.
///
/// # Source
///
/// Common practice, no published source.
const AFTER_LONG: f64 = 0.50;

/// Nothing else hard stands so many days before another race,
///
/// # Source
///
/// Common practice, no published source.
const QUIET_BEFORE: i64 = 3;

/// nor so many days after it.
///
/// # Source
///
/// Common practice, no published source.
const QUIET_AFTER: i64 = 2;

/// No long run stands from two days before another race to the day after it: it is an easy run there.
///
/// # Source
///
/// Common practice, no published source.
const NO_LONG_RUN: std::ops::RangeInclusive<i64> = -2..=1;

/// The hard session that a race replaces is looked for so many days around it.
///
/// # Source
///
/// Common practice, no published source.
const NEAREST_WITHIN: i64 = 7;

/// Places the other races of the block and makes room around them.
pub(super) fn place(facts: &Facts<'_>, days: &mut [DraftDay]) {
    for race in &facts.path.others {
        let Some(index) = days.iter().position(|day| day.date == race.date && day.to_race > 0 && !day.is_settled())
        else {
            continue;
        };
        put(facts, &mut days[index], race);
        make_room(facts, days, race);
    }
}

/// The race takes the place of whatever stood on its day.
pub(in crate::block) fn put(facts: &Facts<'_>, day: &mut DraftDay, race: &Race) {
    let gone = day.drop_items(Reason::OtherRace, |item| !matches!(item.session.kind, Kind::Mobility | Kind::Rest));
    let longest = gone.iter().filter(|item| item.is_running()).max_by_key(|item| item.session.running_middle());
    let usual = longest.and_then(|item| item.usual.clone());
    let place = longest.map_or(0, |item| item.place);
    if let Some(usual) = &usual {
        // It is not left out, the race stands for it.
        let stands_for = |dropped: &Dropped| dropped.usual == *usual && dropped.why == [Reason::OtherRace];
        if let Some(index) = day.dropped.iter().position(stands_for) {
            day.dropped.remove(index);
        }
    }
    let session = session(race, facts.request.athlete.units);
    day.items.push(Item {
        usual,
        role: Role::OtherRace,
        why: vec![Reason::OtherRace],
        ..Item::as_usual(place, &session)
    });
}

/// A race as a session: its distance is hard, warm-up and cool-down are not.
fn session(race: &Race, units: DistanceUnit) -> Session {
    let unit = units.unit();
    let hard = race.distance.distance().in_unit(units);
    let whole = hard + around(race.distance.event(), units);
    // Written in halves, as a coach would.
    let halves = |value: Milli| Milli((value.0 + 250) / 500 * 500);
    let amount = halves(whole).max(hard);
    let note: String = race.name.chars().take(Session::NOTE_MOST).collect();
    Session {
        hard: Some(Amount::exact(hard.min(amount), unit)),
        note,
        ..Session::new(Kind::TimeTrial, Amount::exact(amount, unit))
    }
}

fn make_room(facts: &Facts<'_>, days: &mut [DraftDay], race: &Race) {
    if let Some((day, place)) = nearest_hard(days, race.date) {
        let to_race = days[day].to_race;
        super::hard::ease(facts, &mut days[day].items[place], to_race, Reason::GaveWayToRace(race.date));
    }
    for day in days.iter_mut().filter(|day| day.to_race > 0 && !day.is_settled()) {
        let since = (day.date - race.date).num_days();
        let to_race = day.to_race;
        let reason = if since < 0 { Reason::BeforeOtherRace(race.date) } else { Reason::AfterOtherRace(race.date) };
        if since != 0 && (-QUIET_BEFORE..=QUIET_AFTER).contains(&since) {
            let hard = |item: &&mut Item| item.session.is_hard() && item.role != Role::OtherRace;
            for item in day.items.iter_mut().filter(hard) {
                super::hard::ease(facts, item, to_race, reason);
            }
        }
        if NO_LONG_RUN.contains(&since) && since != 0 {
            for item in day.items.iter_mut().filter(|item| item.long) {
                let Some(amount) = item.session.amount else { continue };
                item.caps.push((facts.km_in(facts.lengths.longest * NO_LONGER_LONG, amount.unit()), reason));
                item.sizing = Sizing::Ebb;
            }
        }
        let Some(share) = share_around(race, since) else { continue };
        for item in day.items.iter_mut().filter(|item| item.is_running() && item.role != Role::OtherRace) {
            keep_share(item, share, reason);
        }
    }
}

/// Whether another race was run so few days before that nothing else hard stands yet.
pub(super) fn is_just_over(days: &[DraftDay], to_race: u16) -> bool {
    let mut raced = days.iter().filter(|day| day.to_race > to_race && day.holds_a_race());
    raced.any(|day| i64::from(day.to_race - to_race) <= QUIET_AFTER)
}

/// What the days around a race keep of the usual.
fn share_around(race: &Race, since: i64) -> Option<f64> {
    let long = race.distance.event() >= Event::Half;
    match (race.importance, since) {
        (Importance::TrainingThrough, -1) => Some(BEFORE_TRAINING_THROUGH),
        (Importance::TuneUp, -2..=-1) => Some(BEFORE_TUNE_UP),
        (_, 1..=2) if long => Some(AFTER_LONG),
        _ => None,
    }
}

/// Bounds a run by a share of what it is; days of recovery from a goal race stand as they are.
fn keep_share(item: &mut Item, share: f64, reason: Reason) {
    let recovering = item.why.iter().any(|why| matches!(why, Reason::Recovering(_)));
    let Some(amount) = item.session.amount.filter(|_| !recovering) else { return };
    item.caps.push((amount.middle().times(Share(share)), reason));
    if item.sizing == Sizing::Fixed {
        item.sizing = Sizing::Ebb;
    }
}

/// The hard session nearest to a day, the one before it of equals.
fn nearest_hard(days: &[DraftDay], date: NaiveDate) -> Option<(usize, usize)> {
    let mut found: Vec<(i64, bool, usize, usize)> = Vec::new();
    for (index, day) in days.iter().enumerate().filter(|(_, day)| day.to_race > 0 && !day.is_settled()) {
        let since = (day.date - date).num_days();
        if since == 0 || since.abs() > NEAREST_WITHIN {
            continue;
        }
        for (place, item) in day.items.iter().enumerate() {
            if item.session.is_hard() && item.role != Role::OtherRace {
                found.push((since.abs(), since > 0, index, place));
            }
        }
    }
    found.sort_unstable();
    found.first().map(|(_, _, day, place)| (*day, *place))
}

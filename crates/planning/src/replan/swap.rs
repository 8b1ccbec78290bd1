//! A hard session changes places with an easy run where its day suits less.

use chrono::NaiveDate;

use super::{Measure, illness, is_free, travel};
use crate::block::facts::NO_LONGER_LONG;
use crate::block::{Block, Day, Dropped, Planned, Reason, race_week};
use crate::life::{EventKind, LifeEvent};
use crate::note::zones_alone;
use crate::race::Event;
use crate::session::{Kind, Session};
use crate::units::middle_km;

/// A hard session moves at most so many days.
///
/// # Source
///
/// Common practice, no published source.
const FARTHEST: i64 = 2;

/// The last day for hard running, up to 10 miles and longer.
///
/// # Source
///
/// Common practice, no published source.
const fn last_hard(event: Event) -> u16 {
    if event.up_to_10_miles() { 3 } else { 4 }
}

/// Moves hard sessions off low-energy days, nights of work, days without time and days on the way with those just
/// before them, each to the nearest easy run of the same week that may take it, the earlier of equals. What finds no place stays where it
/// is. So race week keeps its one hard session and gets no other, and no long run comes nearer to the race.
pub(super) fn make_room(block: &mut Block, event: &LifeEvent, all: &[LifeEvent], measure: &Measure) {
    let hard: Vec<usize> = (0..block.days.len())
        .filter(|index| {
            let day = &block.days[*index];
            is_free(day)
                && suits_less(event, day.date)
                && day.date >= event.noted
                && day.is_hard()
                && !day.holds_a_race()
        })
        .collect();
    for from in hard {
        if let Some(to) = place_for(block, from, event, all, measure) {
            exchange(&mut block.days, from, to, event.kind);
        }
    }
}

fn place_for(block: &Block, from: usize, event: &LifeEvent, all: &[LifeEvent], measure: &Measure) -> Option<usize> {
    let date = block.days[from].date;
    let mut places: Vec<usize> = (0..block.days.len())
        .filter(|index| *index / 7 == from / 7)
        .filter(|index| *index != from && (block.days[*index].date - date).num_days().abs() <= FARTHEST)
        .filter(|index| fits(block, *index, from, event.noted, all, measure))
        .collect();
    places.sort_by_key(|index| ((block.days[*index].date - date).num_days().abs(), *index));
    places.first().copied()
}

fn fits(block: &Block, index: usize, from: usize, noted: NaiveDate, all: &[LifeEvent], measure: &Measure) -> bool {
    let day = &block.days[index];
    let mut runs = day.sessions.iter().filter(|planned| planned.session.kind.is_running());
    let (Some(run), None) = (runs.next(), runs.next()) else { return false };
    let easy = !run.session.is_hard()
        && !run.usual.as_ref().is_some_and(Session::is_optional)
        && run.role.plays_no_part()
        && !is_long(&run.session, block, measure)
        && (race_week::holds(day.to_race) || !stands_for_a_long_run(run, measure));
    let heavy_beside = [index.checked_sub(1), Some(index + 1)]
        .into_iter()
        .flatten()
        .filter(|beside| *beside != from)
        .filter_map(|beside| block.days.get(beside))
        .any(|day| is_heavy(day, block, measure));
    is_free(day)
        && day.to_race >= last_hard(block.event)
        && day.date >= noted
        && easy
        && !heavy_beside
        && !all.iter().any(|event| is_no_place(event, day.date))
}

/// Whether hard running moves off a day because of an event, where it can.
fn suits_less(event: &LifeEvent, date: NaiveDate) -> bool {
    match event.kind {
        EventKind::LowEnergy | EventKind::NightShift | EventKind::NoTime => event.covers(date),
        EventKind::Travel => travel::keeps_from_hard_on(event, date),
        EventKind::Illness { .. } | EventKind::Injury => false,
    }
}

/// Whether nothing hard is moved to a day because of an event.
fn is_no_place(event: &LifeEvent, date: NaiveDate) -> bool {
    suits_less(event, date)
        || (event.kind != EventKind::Travel && event.covers(date))
        || is_on_the_way_back(event, date)
}

/// The days right after an illness are no place for anything hard.
pub(super) fn is_on_the_way_back(event: &LifeEvent, date: NaiveDate) -> bool {
    let returns = matches!(event.kind, EventKind::Illness { .. } | EventKind::Injury);
    let without_fever = u64::from(event.kind.has_fever());
    returns && date > event.to && date <= event.after(illness::easy_days(event) + without_fever)
}

fn is_long(session: &Session, block: &Block, measure: &Measure) -> bool {
    let is_still_long = session.running_km(measure.pace) > measure.longest_km * NO_LONGER_LONG;
    session.kind == Kind::Long || (block.event >= Event::Marathon && is_still_long)
}

/// Whether the run is what has become of the long run of a week, however short it is by now.
fn stands_for_a_long_run(planned: &Planned, measure: &Measure) -> bool {
    let usual = planned.usual.as_ref().and_then(Session::running);
    usual.is_some_and(|usual| middle_km(usual, measure.pace) >= measure.long_from_km)
}

fn is_heavy(day: &Day, block: &Block, measure: &Measure) -> bool {
    day.is_hard()
        || (block.event >= Event::Marathon
            && day.sessions.iter().any(|planned| is_long(&planned.session, block, measure)))
}

/// The runs of two days change places; strength and the like stay. Off a day without time the hard
/// running moves alone: an easy run that went there would not be run.
fn exchange(days: &mut [Day], hard: usize, easy: usize, kind: EventKind) {
    let (hard_date, easy_date) = (days[hard].date, days[easy].date);
    let hard_runs = take_runs(&mut days[hard]);
    let easy_runs = take_runs(&mut days[easy]);
    if kind == EventKind::NoTime {
        leave_out(&mut days[hard], &hard_runs, Reason::MovedTo(easy_date));
        leave_out(&mut days[easy], &easy_runs, Reason::GaveWayToMoved(hard_date));
    } else {
        put_runs(&mut days[hard], without_notes(easy_runs), Reason::ChangedPlaces(easy_date));
    }
    put_runs(&mut days[easy], hard_runs, Reason::MovedFrom(hard_date));
}

/// Takes the runs off a day.
fn take_runs(day: &mut Day) -> Vec<Planned> {
    let (runs, rest): (Vec<Planned>, Vec<Planned>) =
        std::mem::take(&mut day.sessions).into_iter().partition(|planned| planned.session.kind.is_running());
    day.sessions = rest;
    runs
}

/// An easy run's note is about its day, as a run in the park is, unless it says in which zone it is run; a hard session's
/// is mostly about what is run.
fn without_notes(mut runs: Vec<Planned>) -> Vec<Planned> {
    for planned in runs.iter_mut().filter(|planned| !planned.session.is_hard()) {
        planned.session.note = zones_alone(&planned.session.note);
    }
    runs
}

fn put_runs(day: &mut Day, runs: Vec<Planned>, why: Reason) {
    for (place, mut planned) in runs.into_iter().enumerate() {
        planned.why.push(why);
        day.sessions.insert(place, planned);
    }
    Session::without_rest(&mut day.sessions, |planned| &planned.session);
}

fn leave_out(day: &mut Day, runs: &[Planned], why: Reason) {
    for planned in runs {
        let usual = planned.usual.clone().unwrap_or_else(|| planned.session.clone());
        day.dropped.push(Dropped { usual, why: vec![why] });
    }
}

//! Sessions that are read and cannot be: without a whole, with amounts that contradict each other.

use super::super::amounts::RawAmount;
use super::super::around::jogged_at;
use super::super::read::read_day;
use super::super::runner::Runner;
use super::super::text::Text;
use super::super::write::write_day;
use super::asked::only_session;
use super::{Guess, Way};
use crate::session::{Kind, Session, SetUnit};
use crate::units::{Amount, DistanceUnit, Milli, Pace, Unit};
use crate::week::Slot;

/// A line of one session, as it would be written.
pub(super) fn way(session: Session, guess: Guess) -> Way {
    Way { line: write_day(&[Slot::one(session)]), guess }
}

/// What the session of a line would be without what is wrong with it.
pub(super) fn of(line: &str, runner: Runner) -> Vec<Way> {
    let Ok(day) = read_day(line, runner) else { return Vec::new() };
    let Some(session) = only_session(&day) else { return Vec::new() };
    let timed_only = matches!(session.kind, Kind::Strength | Kind::Mobility);
    match (session.amount, session.hard) {
        (None, _) if session.kind.is_running() => without_amount(session, runner),
        (Some(amount), _) if timed_only && amount.unit() != Unit::Min => {
            let note = crate::plain::joined([amount.to_string(), session.note.clone()], ", ");
            vec![way(Session { amount: None, note, ..session.clone() }, Guess::Nothing)]
        }
        (Some(amount), Some(hard)) if hard.unit() == amount.unit() && hard.high() > amount.high() => {
            vec![way(Session { amount: Some(hard), hard: Some(amount), ..session.clone() }, Guess::Nothing)]
        }
        _ => Vec::new(),
    }
}

/// A run of which the whole is not said: with the amount that stands among its words, and with one that is estimated.
fn without_amount(session: &Session, runner: Runner) -> Vec<Way> {
    let mut ways = Vec::new();
    let as_whole = |words: &str| {
        let mut text = Text::new(words);
        let raw = RawAmount::take(&mut text).ok().flatten().filter(|raw| text.is_done() && raw.has_unit())?;
        raw.in_unit(Unit::Km).ok()
    };
    if let Some(amount) = as_whole(&session.note) {
        ways.push(way(Session { amount: Some(amount), note: String::new(), ..session.clone() }, Guess::Nothing));
        if let [sets] = session.sets.as_slice()
            && sets.pace.is_empty()
        {
            let paced = crate::session::Sets { pace: format!("{} pace", session.note), ..sets.clone() };
            let paced = Session { sets: vec![paced], note: String::new(), ..session.clone() };
            let whole = estimated(&paced, runner);
            ways.push(way(Session { amount: Some(whole), ..paced }, Guess::Whole));
        }
        return ways;
    }
    // "6 x 1 km r 2' 10 km": the whole as the last of the words behind the repetitions.
    if let Some(last) = session.sets.last()
        && let Some((pace, whole)) = last.pace.rsplit_once(' ')
        && let Some(amount) = as_whole(whole)
    {
        let mut with = Session { amount: Some(amount), ..session.clone() };
        if let Some(sets) = with.sets.last_mut() {
            pace.clone_into(&mut sets.pace);
        }
        ways.push(way(with, Guess::Nothing));
    }
    let guess = if session.sets.is_empty() { Guess::Length } else { Guess::Whole };
    ways.push(way(Session { amount: Some(estimated(session, runner)), ..session.clone() }, guess));
    ways
}

/// About what a run comes to of which nobody said it: its repetitions with the jogs between them and a usual warm-up and
/// cool-down; without repetitions a usual length.
///
/// # Source
///
/// Common practice, no published source. Offered to the coach as an estimate.
pub(super) fn estimated(session: &Session, runner: Runner) -> Amount {
    let is_timed = |unit: SetUnit| matches!(unit, SetUnit::S | SetUnit::Min);
    if let Some(hard) = session.hard {
        let about = runner.units.unit();
        let unit = if hard.unit() == Unit::Min { Unit::Min } else { about };
        let (low, high) = (hard.low().0 * 2, hard.high().0 * 2);
        return Amount::between(Milli(low), Milli(high), if hard.unit() == unit { unit } else { hard.unit() });
    }
    if session.sets.is_empty() {
        let is_long = session.kind == Kind::Long;
        let length = match runner.units {
            DistanceUnit::Km => {
                if is_long {
                    16
                } else {
                    8
                }
            }
            DistanceUnit::Mi => {
                if is_long {
                    10
                } else {
                    5
                }
            }
        };
        return Amount::exact(Milli::whole(length), runner.units.unit());
    }
    let unit = if session.sets.iter().all(|sets| is_timed(sets.unit)) { Unit::Min } else { runner.units.unit() };
    let pace = runner.easy_pace.unwrap_or(Pace::ASSUMED);
    let step = if unit == Unit::Min { 5000 } else { 1000 };
    let run = session.sets.iter().map(|sets| {
        let jogs = jogged_at(sets, unit, pace).unwrap_or(Milli::ZERO);
        sets.reckoned_at(unit, pace.hard()).0.saturating_add(jogs.0)
    });
    let sum = run.fold(usual_around(unit).0, i32::saturating_add);
    Amount::exact(Milli(sum.saturating_add(step - 1) / step * step).min(Amount::most(unit)), unit)
}

/// A hard part with what is usually run around it.
pub(super) fn with_usual_around(hard: Amount) -> Amount {
    let around = usual_around(hard.unit());
    let whole = |part: Milli| Milli(part.0.saturating_add(around.0));
    Amount::between(whole(hard.low()), whole(hard.high()), hard.unit())
}

/// Warm-up and cool-down together, where nobody said how long they are.
///
/// # Source
///
/// Common practice, no published source. Shown to the coach as an estimate.
const fn usual_around(unit: Unit) -> Milli {
    match unit {
        Unit::Km => Milli::whole(4),
        Unit::Mi => Milli::whole(3),
        Unit::Min => Milli::whole(25),
    }
}

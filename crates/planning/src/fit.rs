//! Fitting a base week to what is typical: the middle of recent weeks, and a week scaled to a total.

use crate::block::amounts::{hard_step, step_at};
use crate::notation::read_amount;
use crate::problem::{Expected, ProblemKind};
use crate::session::{Session, Sets};
use crate::units::{Amount, DistanceUnit, Milli, Pace, Share, Unit, middle_km};
use crate::week::{BaseWeek, SevenDays, Slot, Turns, WEEKDAYS};

/// The most weeks that are asked about: half a year says what is typical, more says what was.
pub const MOST_WEEKS: usize = 26;

/// What is typical of some weeks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Typical {
    /// How many weeks.
    pub weeks: usize,
    /// The middle one by size, of an even number the mean of the two in the middle.
    pub median: Milli,
    /// The smallest.
    pub least: Milli,
    /// The largest.
    pub most: Milli,
    /// The unit of all of them.
    pub unit: Unit,
}

/// Reads the totals of recent weeks and says what is typical of them: `58, 62, 47, 68, 60, 61`.
///
/// Commas, semicolons and spaces part them; a comma with one digit behind it is a decimal comma. A
/// number without a unit is in the given one; all have to be in the same. Of a range the middle counts.
///
/// # Errors
///
/// What cannot be read, a unit unlike the others', no weeks or more than [`MOST_WEEKS`].
///
/// # Source
///
/// The median rather than the mean or the largest: one week of illness or of travel, and one that was
/// far too much, do not move it. Common practice, no published source.
pub fn typical(text: &str, unit: Unit) -> Result<Typical, ProblemKind> {
    let mut amounts: Vec<Amount> = Vec::new();
    for item in items(text) {
        let has_unit = item.chars().any(char::is_alphabetic);
        let item = if has_unit { item } else { format!("{item} {}", unit.symbol()) };
        let amount = read_amount(&item, DistanceUnit::Km)?;
        if amounts.first().is_some_and(|first| first.unit() != amount.unit()) {
            return Err(ProblemKind::Unreadable { text: text.trim().to_owned(), expected: Expected::OneUnit });
        }
        amounts.push(amount);
    }
    if amounts.len() > MOST_WEEKS {
        return Err(ProblemKind::TooManyWeeks { count: amounts.len(), most: MOST_WEEKS });
    }
    let mut totals: Vec<Milli> = amounts.iter().map(|amount| amount.middle()).collect();
    totals.sort_unstable();
    let (Some(least), Some(most), Some(first)) = (totals.first(), totals.last(), amounts.first()) else {
        return Err(ProblemKind::Missing);
    };
    let half = totals.len() / 2;
    let median =
        if totals.len() % 2 == 1 { totals[half] } else { Milli(i32::midpoint(totals[half - 1].0, totals[half].0)) };
    Ok(Typical { weeks: totals.len(), median, least: *least, most: *most, unit: first.unit() })
}

/// Each week by itself, its unit with it.
fn items(text: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let words = text.split(|c: char| c.is_whitespace() || c == ';').flat_map(parted_by_commas);
    for word in words.filter(|word| !word.is_empty()) {
        let is_unit = word.chars().all(char::is_alphabetic);
        match found.last_mut() {
            // "58 km" was cut in two.
            Some(last) if is_unit && last.ends_with(|c: char| c.is_ascii_digit()) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => found.push(word.to_owned()),
        }
    }
    found
}

/// Commas part weeks, but for one alone with one digit behind it: `58,5`.
fn parted_by_commas(word: &str) -> Vec<&str> {
    let word = word.trim_matches(',');
    let pieces: Vec<&str> = word.split(',').collect();
    match pieces.as_slice() {
        [_, tenths] if tenths.len() == 1 && tenths.bytes().all(|byte| byte.is_ascii_digit()) => vec![word],
        _ => pieces,
    }
}

/// A base week whose running adds up to a total, each session the same part of its usual amount, on
/// values that a coach would write; of two weeks that take turns the mean adds up to it.
///
/// Sessions keep their kind, pace and recovery; a hard part and repetitions go with the whole. Running in
/// other units is scaled by the same share, at the given minutes for a kilometre. Strength, mobility and
/// cross-training stay as they are. A week without running, and a total of nothing, leave it as it is.
#[must_use]
pub fn scaled_to(week: &BaseWeek, total: Amount, pace: Option<Pace>) -> BaseWeek {
    let pace = pace.unwrap_or(Pace::ASSUMED);
    let now = week.running().middle_km(pace);
    let wanted = middle_km(total, pace);
    if now <= 0.0 || wanted <= 0.0 {
        return week.clone();
    }
    let share = Share(wanted / now);
    let turns = week.turns().map(|turns| Turns { week: scaled(&turns.week, share), stands_on: turns.stands_on });
    let first = scaled(week.first(), share);
    let range = week.range().map(|range| {
        let end = |value: Milli| near(value.times(share), range.unit());
        Amount::between(end(range.low()), end(range.high()), range.unit())
    });
    let days = WEEKDAYS.map(|weekday| first.day(weekday).to_vec());
    BaseWeek::new(days, range).run_since(week.since()).taking_turns(turns)
}

/// The same week with every run in a unit of distance told in this one, to the thousandth; what is told in
/// minutes, and repetitions, stay as they are said. [`scaled_to`] then brings it to values that are written in
/// that unit.
#[must_use]
pub fn told_in(week: &BaseWeek, units: DistanceUnit) -> BaseWeek {
    let amount = |amount: Amount| amount.told_in(units);
    let session = |usual: &Session| match usual.running() {
        Some(whole) => Session { amount: Some(amount(whole)), hard: usual.hard.map(amount), ..usual.clone() },
        None => usual.clone(),
    };
    let days = |week: &SevenDays| {
        WEEKDAYS.map(|weekday| {
            let slots = week.day(weekday).iter();
            slots.filter_map(|slot| Slot::any_of(slot.options().iter().map(session).collect())).collect()
        })
    };
    let turns = week.turns().map(|turns| Turns { week: SevenDays::new(days(&turns.week)), stands_on: turns.stands_on });
    BaseWeek::new(days(week.first()), week.range().map(amount)).run_since(week.since()).taking_turns(turns)
}

/// Seven days at a share of their running, the sum as near to that share as written values come.
fn scaled(week: &SevenDays, share: Share) -> SevenDays {
    let mut days = WEEKDAYS.map(|weekday| week.day(weekday).to_vec());
    for unit in Unit::ALL {
        let mut values: Vec<Value> = Vec::new();
        let mut whole = Milli::ZERO;
        for (day, slots) in days.iter().enumerate() {
            for (place, slot) in slots.iter().enumerate() {
                if let Some(usual) = slot.chosen().running().filter(|amount| amount.unit() == unit) {
                    let wish = usual.middle().times(share);
                    whole = whole + usual.middle();
                    values.push(Value { day, place, wish, now: near(wish, unit) });
                }
            }
        }
        // Not the sum of the wishes: each of them is rounded by itself.
        even_out(&mut values, whole.times(share), unit);
        for Value { day, place, now, .. } in values {
            let options = days[day][place].options();
            let chosen = days[day][place].chosen().running_middle();
            let by = Share(now.as_f64() / chosen.as_f64().max(0.001));
            let resized = options.iter().map(|session| resized(session, by)).collect();
            if let Some(slot) = Slot::any_of(resized) {
                days[day][place] = slot;
            }
        }
    }
    SevenDays::new(days)
}

/// A run on its way to another size.
struct Value {
    day: usize,
    place: usize,
    wish: Milli,
    now: Milli,
}

/// Moves runs a step, the farthest off first, until the sum is as near to the wanted one as it can be.
fn even_out(values: &mut [Value], wanted: Milli, unit: Unit) {
    for _ in 0..values.len() {
        let off = wanted - values.iter().map(|value| value.now).sum();
        let step = |value: &Value| {
            let next = if off > Milli::ZERO { up(value.now, unit) } else { down(value.now, unit) };
            next - value.now
        };
        // Only a step that brings the sum nearer.
        let nearer = |value: &&mut Value| {
            let step = step(value);
            step != Milli::ZERO && (off - step).0.abs() < off.0.abs()
        };
        let towards = |value: &Value| (value.wish - value.now).0 * off.0.signum();
        let Some(best) = values.iter_mut().filter(nearer).max_by_key(|value| towards(value)) else { return };
        best.now = best.now + step(best);
    }
}

/// A session at a share of its amount: the range, the hard part and the repetitions with it.
fn resized(usual: &Session, share: Share) -> Session {
    let Some(amount) = usual.running() else { return usual.clone() };
    let unit = amount.unit();
    let whole = if amount.is_range() {
        Amount::between(near(amount.low().times(share), unit), near(amount.high().times(share), unit), unit)
    } else {
        Amount::exact(near(amount.middle().times(share), unit), unit)
    };
    if whole == amount {
        return usual.clone();
    }
    let part = Share(whole.middle().as_f64() / amount.middle().as_f64().max(0.001));
    let hard = usual.hard.map(|hard| {
        let step = f64::from(hard_step(unit));
        let written = |value: Milli, most: Milli| {
            Milli(((f64::from(value.times(part).0) / step).round().max(1.0) * step) as i32).min(most)
        };
        Amount::between(written(hard.low(), whole.low()), written(hard.high(), whole.high()), unit)
    });
    let mut sets: Vec<Sets> = usual.sets.clone();
    for line in &mut sets {
        line.reps = ((f64::from(line.reps) * part.0).round().max(1.0) as u16).min(Sets::MOST);
    }
    let mut session = Session { amount: Some(whole), hard, sets, ..usual.clone() };
    while !session.problems().is_empty() && session.sets.iter().any(|line| line.reps > 1) {
        if let Some(most) = session.sets.iter_mut().max_by_key(|line| line.reps) {
            most.reps -= 1;
        }
    }
    session.keep_note_true(usual);
    // One repetition that is longer than the shorter session: then the session stays as it is.
    if session.problems().is_empty() { session } else { usual.clone() }
}

/// The value that a coach would write, nearest to an amount, at least the smallest one and at most what
/// one session can be.
fn near(value: Milli, unit: Unit) -> Milli {
    let step = f64::from(step_at(value.0, unit));
    Milli(((f64::from(value.0) / step).round().max(1.0) * step) as i32).min(Amount::most(unit))
}

fn up(value: Milli, unit: Unit) -> Milli {
    Milli(value.0 + step_at(value.0, unit)).min(Amount::most(unit))
}

fn down(value: Milli, unit: Unit) -> Milli {
    Milli((value.0 - step_at(value.0 - 1, unit)).max(step_at(0, unit).min(value.0)))
}

#[cfg(test)]
mod tests;

//! Numbers, amounts, paces and race distances as people write them.

use super::line::{is_space, unreadable};
use super::text::{Text, tidy};
use crate::plain::joined;
use crate::problem::{Expected, ProblemKind};
use crate::race::RaceDistance;
use crate::units::{Amount, DistanceUnit, Milli, Pace, Unit};

/// Reads one amount: `7`, `10,5 km`, `8-10 mi`, `50 min`, `1 h 20`, `1:20 h`.
///
/// A number without a unit is in the given unit of distance.
///
/// # Errors
///
/// What is wrong with it: not an amount, below zero, above [`Amount::most`], or low above high.
pub fn read_amount(text: &str, units: DistanceUnit) -> Result<Amount, ProblemKind> {
    let line = clean(text);
    let mut left = Text::new(&line);
    let raw = RawAmount::take(&mut left)?.ok_or_else(|| unreadable(&line, Expected::Amount))?;
    if !left.is_done() {
        let expected = if raw.has_unit() { Expected::Amount } else { Expected::Unit };
        return Err(unreadable(&line, expected));
    }
    raw.in_unit(units.unit())
}

/// Reads a pace: `5:45`, `5:45/km`, `9:15 min/mi`. Without a unit it is for one unit of distance.
///
/// # Errors
///
/// Not a pace, or one that nobody runs ([`Pace::new`]).
pub fn read_pace(text: &str, units: DistanceUnit) -> Result<Pace, ProblemKind> {
    let line = clean(text);
    let fault = || unreadable(&line, Expected::Pace);
    let mut left = Text::new(&line);
    let minutes = left.take_digits();
    left.take_any(&[':', '\'', '\u{2019}', '\u{2032}']).ok_or_else(fault)?;
    let seconds = left.take_digits();
    if minutes.is_empty() || minutes.len() > 2 || seconds.len() != 2 {
        return Err(fault());
    }
    let minutes: u16 = minutes.parse().map_err(|_| fault())?;
    let seconds: u16 = seconds.parse().map_err(|_| fault())?;
    left.take_any(&['"', '\u{201d}', '\u{2033}']);
    left.take_any_phrase(&["min", "minutes"]);
    left.skip_space();
    let divided = left.take_any(&['/']).is_some() || left.take_any_phrase(&["per", "a", "an"]);
    let per = match tidy(left.left()).to_ascii_lowercase().as_str() {
        "" if !divided => units,
        "km" | "k" | "kilometre" | "kilometer" => DistanceUnit::Km,
        "mi" | "mile" => DistanceUnit::Mi,
        _ => return Err(fault()),
    };
    if seconds > 59 {
        return Err(fault());
    }
    Pace::new(minutes * 60 + seconds, per)
}

/// Reads a race distance: `half`, `10k`, `marathon`, `30 km`, `50 mi`, `3000 m`.
///
/// The roundings by which everybody calls the half marathon and the marathon (21.1 km, 26.2 mi) are
/// those races. Whether anybody races the distance is not checked here:
/// [`Race::problems`](crate::Race::problems) does.
///
/// # Errors
///
/// Not a distance with a unit, and no name of one.
pub fn read_distance(text: &str) -> Result<RaceDistance, ProblemKind> {
    let line = clean(text);
    let lower = line.to_ascii_lowercase();
    let named = match lower.as_str() {
        "half" | "half marathon" | "half-marathon" | "hm" | "21.0975 km" | "21.0975km" | "21.0975k" => {
            Some(RaceDistance::Half)
        }
        "marathon" | "full" | "full marathon" => Some(RaceDistance::Marathon),
        "mile" => Some(RaceDistance::Own(Milli::whole(1), DistanceUnit::Mi)),
        code => RaceDistance::from_code(code),
    };
    if let Some(named) = named {
        return Ok(named);
    }
    let fault = || unreadable(&line, Expected::RaceDistance);
    let mut left = Text::new(&line);
    let raw = RawAmount::take(&mut left)?.ok_or_else(fault)?;
    left.take_any_phrase(&["race", "r"]);
    if !left.is_done() || !raw.has_unit() {
        return Err(fault());
    }
    let (value, unit) = raw.single().ok_or_else(fault)?;
    let unit = match unit {
        Unit::Km => DistanceUnit::Km,
        Unit::Mi => DistanceUnit::Mi,
        Unit::Min => return Err(fault()),
    };
    Ok(match (value.0, unit) {
        (5_000, DistanceUnit::Km) => RaceDistance::FiveK,
        (10_000, DistanceUnit::Km) => RaceDistance::TenK,
        (10_000, DistanceUnit::Mi) => RaceDistance::TenMiles,
        (21_000..=21_100, DistanceUnit::Km) if value.0 >= 21_097 => RaceDistance::Half,
        (13_100 | 13_109 | 13_110, DistanceUnit::Mi) => RaceDistance::Half,
        (42_195 | 42_200, DistanceUnit::Km) | (26_200 | 26_219 | 26_220, DistanceUnit::Mi) => RaceDistance::Marathon,
        _ => RaceDistance::Own(value, unit),
    })
}

pub(super) fn clean(text: &str) -> String {
    joined(text.split(is_space), " ")
}

/// An amount whose unit may not be known yet, because it hangs on the kind of session.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct RawAmount {
    low: Number,
    high: Number,
    unit: Option<Written>,
    single: bool,
    /// "10-ish"
    roughly: bool,
}

/// A unit as written, before hours become minutes and metres kilometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Written {
    Km,
    Mi,
    Min,
    Hour,
    Metre,
}

/// A number as written: plain, or hours and minutes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Number {
    /// Thousandths.
    Plain(Milli),
    /// `1:20`: the bigger unit and sixtieths of it.
    Clock(i32, i32),
    /// `1:20:00`: hours and minutes for certain.
    Hours(i32, i32),
}

/// What `1:20` without a unit may be as a whole run: from 20 minutes on, below four hours. `4:30` may be a pace.
const HOURS_BELOW: i32 = 4;
const LEAST_RUN: i32 = 20;

/// The most minutes that a number without a unit may be.
const LONGEST_RUN: Milli = Milli::whole(240);

/// From here on, metres are a run and no climb.
const MOST_CLIMB: Milli = Milli::whole(3000);

/// Below this, `400 m` in a session's amount could as well be minutes or miles.
const LEAST_METRES: Milli = Milli::whole(400);

impl RawAmount {
    /// Takes an amount from the front; nothing if no number stands there.
    pub(super) fn take(text: &mut Text<'_>) -> Result<Option<Self>, ProblemKind> {
        text.skip_space();
        let start = *text;
        if let Some(problem) = negative(text) {
            return Err(problem);
        }
        let Some((low, low_unit)) = measure(text)? else { return Ok(None) };
        let low_roughly = ends_roughly(text.since(&start));
        let before_dash = *text;
        text.skip_space();
        let dashed = text.take_any(&DASHES).is_some() || text.take_phrase("to");
        let second = if dashed { measure(text)? } else { None };
        let Some((high, high_unit)) = second else {
            // "12 km - easy": the stroke parts the amount from what it is.
            let behind_dash = text.left().starts_with(char::is_alphabetic);
            let dash = before_dash.left();
            let is_apart = low_unit.is_some() && before_dash.peek() == Some(' ') && dash.chars().nth(1) == Some(' ');
            if dashed && is_apart && behind_dash {
                return Ok(Some(Self { low, high: low, unit: low_unit, single: true, roughly: low_roughly }));
            }
            if dashed && before_dash.left().starts_with(DASHES) {
                return Err(unreadable(text.since(&start), Expected::Amount));
            }
            *text = before_dash;
            return Ok(Some(Self { low, high: low, unit: low_unit, single: true, roughly: low_roughly }));
        };
        let mut after = *text;
        after.skip_space();
        if after.take_any(&DASHES).is_some() {
            after.take_while(|next| !next.is_whitespace());
            return Err(unreadable(after.since(&start), Expected::Amount));
        }
        let written = text.since(&start);
        let roughly = low_roughly || ends_roughly(written);
        let unit = match (low_unit, high_unit) {
            (Some(Written::Min), Some(Written::Hour)) | (Some(Written::Hour), Some(Written::Min)) => {
                let low = resolve(low, low_unit, Unit::Min, written)?.0;
                let high = resolve(high, high_unit, Unit::Min, written)?.0;
                let (low, high) = (Number::Plain(low), Number::Plain(high));
                return Ok(Some(Self { low, high, unit: Some(Written::Min), single: false, roughly }));
            }
            (Some(one), Some(other)) if one != other => return Err(unreadable(written, Expected::Unit)),
            (one, other) => other.or(one),
        };
        Ok(Some(Self { low, high, unit, single: false, roughly }))
    }

    /// Takes the one mile of "last mile hard".
    pub(super) fn take_one(text: &mut Text<'_>) -> Option<Self> {
        let unit = match () {
            () if text.take_phrase("mile") => Written::Mi,
            () if text.take_any_phrase(&["kilometre", "kilometer", "km", "k"]) => Written::Km,
            () => return None,
        };
        let one = Number::Plain(Milli::whole(1));
        Some(Self { low: one, high: one, unit: Some(unit), single: true, roughly: false })
    }

    /// Whether a unit was written.
    pub(super) const fn has_unit(&self) -> bool {
        self.unit.is_some()
    }

    /// The same in minutes, whatever was written.
    pub(super) const fn as_minutes(self) -> Self {
        Self { unit: Some(Written::Min), ..self }
    }

    /// Whether it was written as "10-ish".
    pub(super) const fn is_roughly(&self) -> bool {
        self.roughly
    }

    /// Whether it was written in kilometres or miles.
    pub(super) const fn is_distance(&self) -> bool {
        matches!(self.unit, Some(Written::Km | Written::Mi | Written::Metre))
    }

    /// Whether its greater number is below this.
    pub(super) fn is_below(&self, most: Milli) -> bool {
        matches!(self.high, Number::Plain(high) if high < most)
    }

    /// Whether its greater number is one alone and reaches this much.
    pub(super) fn is_at_least(&self, least: Milli) -> bool {
        matches!(self.high, Number::Plain(high) if high >= least)
    }

    /// The same with `1:30` read as hours and minutes and `45:00` as minutes: the length of a whole run.
    ///
    /// # Errors
    ///
    /// What may as well be a pace or a time of day.
    pub(super) fn by_the_clock(self) -> Result<Self, ProblemKind> {
        if self.unit.is_some() {
            return Ok(self);
        }
        let read = |number| match number {
            Number::Clock(hours, minutes) if (0..HOURS_BELOW).contains(&hours) && hours * 60 + minutes >= LEAST_RUN => {
                Ok((Number::Plain(Milli::whole(hours * 60 + minutes)), Some(Written::Min)))
            }
            Number::Clock(minutes, 0) if minutes >= LEAST_RUN => {
                Ok((Number::Plain(Milli::whole(minutes)), Some(Written::Min)))
            }
            Number::Clock(big, small) => Err(unreadable(&format!("{big}:{small:02}"), Expected::Duration)),
            Number::Plain(_) | Number::Hours(..) => Ok((number, None)),
        };
        let ((low, unit), (high, other)) = (read(self.low)?, read(self.high)?);
        if unit != other {
            return Ok(self);
        }
        Ok(Self { low, high, unit, ..self })
    }

    /// Whether its numbers are fives as minutes are told, the greater one from this on, and no more than anybody runs.
    pub(super) fn is_round(&self, from: Milli) -> bool {
        const FIVE: i32 = 5_000;
        let is_five = |number| matches!(number, Number::Plain(value) if value.0 % FIVE == 0 && value <= LONGEST_RUN);
        self.is_at_least(from) && is_five(self.low) && is_five(self.high)
    }

    /// The amount, in the given unit where none was written.
    pub(super) fn in_unit(self, unless_said: Unit) -> Result<Amount, ProblemKind> {
        let (low, unit) = resolve(self.low, self.unit, unless_said, "")?;
        let (high, _) = resolve(self.high, self.unit, unless_said, "")?;
        Amount::checked(low, high, unit)
    }

    /// The same for whoever only looks what may be meant: the smaller number first, nothing where it is no amount.
    pub(super) fn in_order(self, unless_said: Unit) -> Option<Amount> {
        let (low, unit) = resolve(self.low, self.unit, unless_said, "").ok()?;
        let (high, _) = resolve(self.high, self.unit, unless_said, "").ok()?;
        let amount = Amount::between(low, high, unit);
        Amount::checked(amount.low(), amount.high(), unit).ok()
    }

    /// Whether it is metres, of which a run of kilometres may climb as many.
    pub(super) fn is_climb(&self) -> bool {
        self.unit == Some(Written::Metre) && matches!(self.high, Number::Plain(high) if high < MOST_CLIMB)
    }

    /// The one number and its unit, if one number with a unit was written.
    fn single(self) -> Option<(Milli, Unit)> {
        if !self.single || self.unit.is_none() {
            return None;
        }
        resolve(self.low, self.unit, Unit::Km, "").ok()
    }
}

impl From<Amount> for RawAmount {
    fn from(amount: Amount) -> Self {
        let unit = match amount.unit() {
            Unit::Km => Written::Km,
            Unit::Mi => Written::Mi,
            Unit::Min => Written::Min,
        };
        let (low, high) = (Number::Plain(amount.low()), Number::Plain(amount.high()));
        Self { low, high, unit: Some(unit), single: !amount.is_range(), roughly: false }
    }
}

/// Every stroke that people type or paste for "to".
const DASHES: [char; 6] = ['-', '\u{2010}', '\u{2011}', '\u{2013}', '\u{2014}', '\u{2212}'];

fn negative(text: &Text<'_>) -> Option<ProblemKind> {
    let mut after = *text;
    after.take_any(&DASHES)?;
    after.skip_space();
    let Ok(Some(Number::Plain(value))) = take_number(&mut after) else { return None };
    Some(ProblemKind::Negative { value: Milli(-value.0) })
}

fn resolve(number: Number, unit: Option<Written>, unless_said: Unit, text: &str) -> Result<(Milli, Unit), ProblemKind> {
    match (number, unit) {
        (Number::Plain(value), None) => Ok((value, unless_said)),
        (Number::Plain(value), Some(Written::Km)) => Ok((value, Unit::Km)),
        (Number::Plain(value), Some(Written::Mi)) => Ok((value, Unit::Mi)),
        (Number::Plain(value), Some(Written::Min)) => Ok((value, Unit::Min)),
        (Number::Plain(value), Some(Written::Metre)) => Ok((Milli(value.0.saturating_add(500) / 1000), Unit::Km)),
        (Number::Plain(value), Some(Written::Hour)) => Ok((Milli(value.0.saturating_mul(60)), Unit::Min)),
        (Number::Clock(hours, minutes), Some(Written::Hour)) => {
            Ok((Milli(hours.saturating_mul(60).saturating_add(minutes).saturating_mul(1000)), Unit::Min))
        }
        (Number::Hours(hours, minutes), None | Some(Written::Hour)) => {
            Ok((Milli(hours.saturating_mul(60).saturating_add(minutes).saturating_mul(1000)), Unit::Min))
        }
        (Number::Clock(big, small) | Number::Hours(big, small), _) => {
            let text = if text.is_empty() { format!("{big}:{small:02}") } else { text.to_owned() };
            Err(ProblemKind::Unreadable { text, expected: Expected::Amount })
        }
    }
}

/// A number and the unit behind it, if there is one; `1 h 20` is one measure.
fn measure(text: &mut Text<'_>) -> Result<Option<(Number, Option<Written>)>, ProblemKind> {
    text.skip_space();
    let start = *text;
    let Some(number) = take_number(text)? else { return Ok(None) };
    // "10ish" is ten; who reads a whole says so in a note.
    text.take_any_phrase(&["ish", "-ish"]);
    let attached = text.peek().is_some_and(char::is_alphabetic);
    let unit = take_unit(text);
    if unit.is_none() && attached && !is_short_kind(*text) {
        text.take_while(|next| !next.is_whitespace());
        return Err(unreadable(text.since(&start), Expected::Unit));
    }
    match (number, unit) {
        (Number::Plain(hours), Some(Written::Hour)) if hours.0 % 1000 == 0 => {
            let before = *text;
            text.skip_space();
            let minutes = text.take_digits();
            let fits = (1..=2).contains(&minutes.len()) && !text.peek().is_some_and(|next| ".,:".contains(next));
            let minutes: Option<i32> = minutes.parse().ok().filter(|minutes| fits && *minutes < 60);
            let unit_behind = take_unit(text);
            // Behind hours an "m" is minutes: "1h30m".
            match (minutes, unit_behind) {
                (Some(minutes), None | Some(Written::Min | Written::Metre))
                    if !text.peek().is_some_and(char::is_alphanumeric) =>
                {
                    Ok(Some((Number::Clock(hours.0 / 1000, minutes), unit)))
                }
                _ => {
                    *text = before;
                    Ok(Some((number, unit)))
                }
            }
        }
        (Number::Plain(value), Some(Written::Metre)) if value < LEAST_METRES => {
            Err(unreadable(text.since(&start), Expected::Unit))
        }
        _ => Ok(Some((number, unit))),
    }
}

/// Whether an amount as written ends in "ish", its unit aside: "10-ish km".
fn ends_roughly(written: &str) -> bool {
    written.to_ascii_lowercase().contains("ish")
}

/// Takes what says that the number behind it is not meant to the metre: "~10", "about 10". Says whether it did.
pub(super) fn take_roughly(text: &mut Text<'_>) -> bool {
    const ROUGHLY: [&str; 9] = ["~", "\u{2248}", "about", "around", "approx.", "approx", "roughly", "circa", "ca."];
    let mut after = *text;
    if !after.take_any_phrase(&ROUGHLY) && !after.take_any_phrase(&["ca", "c."]) {
        return false;
    }
    after.skip_space();
    let leads = after.peek().is_some_and(|next| next.is_ascii_digit());
    if leads {
        *text = after;
    }
    leads
}

/// "8E", "4T", "8am": a kind or a half of the day right behind the number.
pub(super) fn is_short_kind(mut text: Text<'_>) -> bool {
    let word = text.take_while(char::is_alphanumeric);
    ["e", "t", "l", "am", "pm", "mp", "gmp", "hmp", "lt"].iter().any(|kind| word.eq_ignore_ascii_case(kind))
}

fn take_unit(text: &mut Text<'_>) -> Option<Written> {
    let here = *text;
    text.skip_space();
    if text.take_any(&['\'', '\u{2019}', '\u{2032}', '\u{b4}', '`']).is_some() {
        return Some(Written::Min);
    }
    let unit = match text.take_while(char::is_alphabetic).to_ascii_lowercase().as_str() {
        "km" | "k" | "kms" | "ks" | "kilometre" | "kilometres" | "kilometer" | "kilometers" => Some(Written::Km),
        "mi" | "mile" | "miles" | "miler" => Some(Written::Mi),
        "min" | "mins" | "minute" | "minutes" => Some(Written::Min),
        "h" | "hr" | "hrs" | "hour" | "hours" => Some(Written::Hour),
        "m" | "metre" | "metres" | "meter" | "meters" => Some(Written::Metre),
        _ => None,
    };
    if unit.is_none() {
        *text = here;
    } else {
        // "80 min." ends like a sentence in many a notebook.
        text.take_any(&['.']);
    }
    unit
}

/// Digits before the point: what fits a [`Milli`] with its three decimals.
const MOST_DIGITS: usize = 7;

/// Takes the "½" of "6½": its thousandths.
fn take_fraction(text: &mut Text<'_>) -> Option<i32> {
    let thousandths = match text.take_any(&['\u{bc}', '\u{bd}', '\u{be}'])? {
        '\u{bc}' => 250,
        '\u{bd}' => 500,
        _ => 750,
    };
    Some(thousandths)
}

/// Takes `7`, `10.5`, `10,5`, `6½` or `1:20`; nothing if no digit stands in front.
pub(super) fn take_number(text: &mut Text<'_>) -> Result<Option<Number>, ProblemKind> {
    let start = *text;
    let whole = text.take_digits();
    if whole.is_empty() {
        return Ok(None);
    }
    if let Some(part) = take_fraction(text) {
        let whole: i32 = whole.parse::<i16>().map_err(|_| unreadable(text.since(&start), Expected::Number))?.into();
        return Ok(Some(Number::Plain(Milli(whole * 1000 + part))));
    }
    let before_mark = *text;
    let mark = text.take_any(&['.', ',', ':']);
    let decimals = text.take_digits();
    let written = text.since(&start);
    let fault = || unreadable(written, Expected::Number);
    let big: i64 = if whole.len() > MOST_DIGITS { Err(fault()) } else { whole.parse().map_err(|_| fault()) }?;
    if decimals.is_empty() {
        *text = before_mark;
        let value = i32::try_from(big * 1000).map_err(|_| fault())?;
        return Ok(Some(Number::Plain(Milli(value))));
    }
    if text.peek().is_some_and(|next| ".,:".contains(next)) {
        let mut more = *text;
        let is_clock = more.take_any(&['.', ',', ':']) == Some(':') && mark == Some(':');
        let mut seconds = more;
        if is_clock && seconds.take_digits() == "00" && !seconds.peek().is_some_and(|next| ".,:".contains(next)) {
            let small = decimals.parse().ok().filter(|small| decimals.len() == 2 && *small < 60);
            if let (Some(small), Ok(big)) = (small, i32::try_from(big)) {
                *text = seconds;
                return Ok(Some(Number::Hours(big, small)));
            }
        }
        if !more.take_digits().is_empty() {
            more.take_while(|next| !next.is_whitespace());
            return Err(unreadable(more.since(&start), Expected::Number));
        }
    }
    if mark == Some(':') {
        let small: i32 = decimals.parse().map_err(|_| fault())?;
        let big = i32::try_from(big).map_err(|_| fault())?;
        if decimals.len() != 2 || small > 59 {
            return Err(fault());
        }
        return Ok(Some(Number::Clock(big, small)));
    }
    if decimals.len() > 3 {
        return Err(fault());
    }
    let thousandths: i64 = format!("{decimals:0<3}").parse().map_err(|_| fault())?;
    let value = i32::try_from(big * 1000 + thousandths).map_err(|_| fault())?;
    Ok(Some(Number::Plain(Milli(value))))
}

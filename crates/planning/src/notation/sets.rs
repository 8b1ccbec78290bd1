//! Repetitions: how many, how long, at which pace, with which recovery.

use super::amounts::{Number, take_number};
use super::hardness::is_race_name;
use super::kinds::has_word;
use super::line::{Note, Part, unreadable};
use super::text::{Text, tidy};
use crate::plain::joined;
use crate::problem::{Expected, ProblemKind};
use crate::session::{SetUnit, Sets};
use crate::units::Milli;

/// The strokes that people type or paste for "times".
pub(super) const TIMES: [char; 5] = ['x', 'X', '\u{d7}', '*', '\u{2715}'];

pub(super) const RECOVERY_LABELS: [&str; 5] = ["recovery", "recoveries", "rec.", "rec", "pause"];

/// Whether words tell of the rest between repetitions.
pub(super) fn is_recovery(words: &str) -> bool {
    has_word(
        words,
        &[
            "jog",
            "jogs",
            "jogging",
            "walk",
            "walking",
            "rest",
            "standing",
            "float",
            "recovery",
            "recoveries",
            "rec",
            "pause",
        ],
    )
}

/// "5 min walk every 30 min": what of a run is walked, by turns.
pub(super) fn walks_by_turns(words: &str) -> bool {
    is_recovery(words) && has_word(words, &["every", "each"])
}

/// "2nd half" is no amount.
pub(super) fn starts_with_ordinal(mut text: Text<'_>) -> bool {
    !text.take_digits().is_empty() && text.take_any_phrase(&["st", "nd", "rd", "th"])
}

pub(super) fn starts_with_reps(mut text: Text<'_>) -> bool {
    let digits = !text.take_digits().is_empty();
    text.skip_space();
    digits && text.take_any(&TIMES).is_some() && !text.peek().is_some_and(char::is_alphabetic)
}

/// "2 x (6 x 400 m)" and "2 sets of 6 x 400 m" as twelve, with a note that says how they are parted.
pub(super) fn nested(part: &Part) -> Option<Part> {
    let mut text = Text::new(&part.words);
    let times: u16 = text.take_digits().parse().ok().filter(|times| (2..=10).contains(times))?;
    let is_said = text.take_any_phrase(&["sets of", "set of", "rounds of"]);
    if !is_said {
        text.skip_space();
        text.take_any(&TIMES)?;
    }
    let is_bracketed = !is_said && text.is_done();
    // In brackets behind it, or right behind it.
    let (inside, behind, notes) = match part.notes.split_first() {
        Some((Note::Plain(inside), rest))
            if !is_said && !text.left().starts_with(|next: char| next.is_ascii_digit()) =>
        {
            (inside.as_str(), text.left(), rest)
        }
        _ => (text.left(), "", part.notes.as_slice()),
    };
    let mut inner = Text::new(inside);
    if !starts_with_reps(inner) {
        // "6 x (3' hard/2' float)"
        let (run, rest) = inside.split_once('/').filter(|(_, rest)| is_bracketed && is_recovery(rest))?;
        let words = joined([format!("{times} x {}", run.trim()), behind.to_owned()], " ");
        let notes = std::iter::once(Note::Plain(rest.trim().to_owned())).chain(notes.iter().cloned()).collect();
        return Some(Part { words, quoted: part.quoted.clone(), notes });
    }
    let reps: u16 = inner.take_digits().parse().ok()?;
    let all = times.checked_mul(reps).filter(|all| *all <= Sets::MOST)?;
    let words = joined([format!("{all} {}", inner.left()), behind.to_owned()], " ");
    let notes = std::iter::once(Note::Quoted(format!("{times} sets of {reps}"))).chain(notes.iter().cloned()).collect();
    Some(Part { words, quoted: part.quoted.clone(), notes })
}

/// Takes `6 x 800 m 10k pace`, `8x400`, `4 x 1:30 with 60 s jog`: all of the text.
pub(super) fn take_sets(text: &mut Text<'_>) -> Result<Sets, ProblemKind> {
    let start = *text;
    let fault = || unreadable(start.left(), Expected::Sets);
    let reps = text.take_digits().parse().map_err(|_| fault())?;
    text.skip_space();
    text.take_any(&TIMES);
    let (length, unit) = take_length(text)?.ok_or_else(fault)?;
    text.skip_space();
    let is_at = text.take_any_phrase(&["@", "at"]);
    let tail = text.left();
    if is_at && is_time_of(tail, length, unit) {
        *text = Text::new("");
        return Ok(Sets { reps, length, unit, pace: format!("{tail} s"), recovery: String::new() });
    }
    if tail.chars().all(|next| next.is_ascii_digit()) && !tail.is_empty() {
        return Err(fault());
    }
    *text = Text::new("");
    let (pace, recovery) = split_recovery(tail, is_at);
    let pace = if is_at && is_time_of(pace, length, unit) { format!("{pace} s") } else { tidy(pace) };
    Ok(Sets { reps, length, unit, pace, recovery: tidy(recovery) })
}

/// Whether a bare number is the seconds in which a repetition is run: "12 x 400 @ 72".
fn is_time_of(tail: &str, length: Milli, unit: SetUnit) -> bool {
    /// The fastest and the slowest running, in seconds a kilometre, that anybody times so.
    const SECONDS_A_KM: std::ops::RangeInclusive<f64> = 130.0..=420.0;
    let seconds = tail.parse::<u16>().ok().filter(|_| unit == SetUnit::M && tail.len() < 4);
    seconds.is_some_and(|seconds| SECONDS_A_KM.contains(&(f64::from(seconds) * 1000.0 / length.as_f64())))
}

/// "1:1": as long a rest as a repetition.
pub(super) fn is_ratio(words: &str) -> bool {
    let is_digit = |text: &str| text.len() == 1 && text.bytes().all(|one| one.is_ascii_digit());
    words.split_once(':').is_some_and(|(one, other)| is_digit(one) && is_digit(other))
}

/// "400j" as "400 m jog".
pub(super) fn short_jog(words: &str) -> Option<String> {
    let metres = words.strip_suffix(['j', 'J'])?.trim_end();
    let is_metres = metres.len() == 3 && metres.bytes().all(|one| one.is_ascii_digit());
    is_metres.then(|| format!("{metres} m jog"))
}

/// Whether a rest is its length alone: "2 min", "90 s".
pub(super) fn is_bare_rest(words: &str) -> bool {
    let mut text = Text::new(words);
    matches!(take_length(&mut text), Ok(Some((_, SetUnit::S | SetUnit::Min)))) && text.is_done()
}

/// The pieces of a note that are the rest between repetitions, "walk back", "2' easy", without its other words.
pub(crate) fn rests_alone(note: &str) -> String {
    let is_rest = |piece: &&str| {
        let mut text = Text::new(piece);
        let is_timed = matches!(take_length(&mut text), Ok(Some((_, SetUnit::S | SetUnit::Min))));
        is_recovery(piece)
            || has_word(piece, &["float"])
            || (is_timed && (text.is_done() || text.take_any_phrase(&JOGS)))
    };
    note.split(", ").filter(is_rest).collect::<Vec<_>>().join(", ")
}

/// Words for easy running between repetitions.
const JOGS: [&str; 9] = ["jog", "jogs", "jogging", "jogged", "float", "floats", "easy", "e", "j"];

/// How far or how long is jogged between repetitions, as their rest or else the words behind them tell it: "200 jog", "jog
/// 200", "in 3:50 r 400 m easy jog". Back or down it is as far as the repetition, on a hill as on the flat.
///
/// # Source
///
/// Common practice, no published source.
pub(super) fn jog_in(sets: &Sets) -> Option<(Milli, SetUnit)> {
    let words = if sets.recovery.is_empty() { &sets.pace } else { &sets.recovery };
    if !has_word(words, &JOGS) {
        return None;
    }
    // "2 min or so, jog": the rest begins with how long it is.
    if let Ok(Some(length)) = take_length(&mut Text::new(&sets.recovery)) {
        return Some(length);
    }
    let places = std::iter::once(0).chain(words.match_indices([' ', '/']).map(|(at, _)| at + 1));
    let told = places
        .map(|at| Text::new(&words[at..]))
        .find_map(|text| length_then_jog(text).or_else(|| jog_then_length(text)));
    // "jog back", "jog down": as far as the repetition.
    let is_back = || has_word(words, &BACK) && !words.contains(|one: char| one.is_ascii_digit());
    told.or_else(|| is_back().then_some((sets.length, sets.unit)))
}

/// Words for the way back to where a repetition began.
const BACK: [&str; 2] = ["back", "down"];

/// "400 m easy jog"
fn length_then_jog(mut text: Text<'_>) -> Option<(Milli, SetUnit)> {
    let length = take_jogged(&mut text)?;
    while text.take_any_phrase(&["slow", "gentle", "recovery", "rec", "of", "a", "very"]) {}
    text.take_any_phrase(&JOGS).then_some(length)
}

/// "jog for 400 m"
fn jog_then_length(mut text: Text<'_>) -> Option<(Milli, SetUnit)> {
    text.take_any_phrase(&JOGS).then_some(())?;
    text.take_any_phrase(&["jog", "recovery", "for", "of"]);
    take_jogged(&mut text)
}

/// Takes the length of a jog. Without a unit it is metres, but for what is as often told in seconds.
fn take_jogged(text: &mut Text<'_>) -> Option<(Milli, SetUnit)> {
    const LEAST_METRES: i32 = 50;
    const SECONDS: [i32; 3] = [60, 75, 90];
    let start = *text;
    if let Ok(Some(length)) = take_length(text) {
        return Some(length);
    }
    *text = start;
    text.skip_space();
    let metres: i32 = text.take_digits().parse().ok()?;
    let ends = !text.peek().is_some_and(|next| next.is_alphanumeric() || ":.,-/'\"".contains(next));
    (ends && metres >= LEAST_METRES && !SECONDS.contains(&metres)).then_some((Milli::whole(metres), SetUnit::M))
}

/// "10k pace with 90 s jog", or only "90 s jog": pace words and recovery. Behind "@" the time of a repetition comes
/// first: "3:05 w/ 400 jog".
fn split_recovery(tail: &str, is_at: bool) -> (&str, &str) {
    let is_digit = |first: char| first.is_ascii_digit();
    let (first, behind) = tail.split_once(' ').unwrap_or((tail, ""));
    let is_pace = is_figures(first) || is_race_name(first);
    let tells_time = is_at && (first.contains(':') || (is_pace && behind.starts_with(['w', 'W'])));
    if !tells_time && tail.starts_with(is_digit) && is_recovery(tail) && !tail.contains("pace") {
        return ("", tail);
    }
    let lower = tail.to_ascii_lowercase();
    for word in ["with ", "w/ ", "w/"] {
        for (index, _) in lower.match_indices(word) {
            let starts_word = tail[..index].chars().next_back().is_none_or(char::is_whitespace);
            let behind = tail[index + word.len()..].trim();
            if starts_word && is_recovery(behind) {
                return (tail[..index].trim(), behind);
            }
        }
    }
    (tail, "")
}

/// "76", "76-77": the seconds of a repetition, with its rest behind them.
fn is_figures(word: &str) -> bool {
    word.chars().all(|one| one.is_ascii_digit() || matches!(one, '-' | '\u{2013}' | '/' | '.'))
}

/// Without a unit a number from here on is metres: "8 x 400".
const PLAIN_METRES: Milli = Milli::whole(100);

/// The length of one repetition; nothing where it cannot be told.
pub(super) fn take_length(text: &mut Text<'_>) -> Result<Option<(Milli, SetUnit)>, ProblemKind> {
    text.skip_space();
    let start = *text;
    if text.take_any_phrase(&["miles", "mile"]) {
        return Ok(Some((Milli::whole(1), SetUnit::Mi)));
    }
    let Some(number) = take_number(text)? else { return Ok(None) };
    let written = text.since(&start);
    let unit = take_set_unit(text);
    Ok(match (number, unit) {
        (Number::Clock(minutes, seconds), None | Some(SetUnit::Min)) => in_seconds(minutes, seconds),
        (Number::Clock(..), Some(_)) | (Number::Hours(..), _) => None,
        (Number::Plain(value), Some(SetUnit::Min)) if value.0 % 1000 == 0 => {
            let before = *text;
            if let Some(seconds) = take_seconds(text) {
                in_seconds(value.0 / 1000, seconds)
            } else {
                *text = before;
                Some((value, SetUnit::Min))
            }
        }
        // In metres a comma before three digits parts the thousands: nobody measures millimetres.
        (Number::Plain(value), Some(SetUnit::M)) if is_thousands(written) => {
            value.0.checked_mul(1000).map(|value| (Milli(value), SetUnit::M))
        }
        (Number::Plain(value), Some(unit)) => Some((value, unit)),
        (Number::Plain(value), None) => (value >= PLAIN_METRES).then_some((value, SetUnit::M)),
    })
}

fn is_thousands(written: &str) -> bool {
    written.split_once(',').is_some_and(|(_, decimals)| decimals.len() == 3)
}

fn in_seconds(minutes: i32, seconds: i32) -> Option<(Milli, SetUnit)> {
    let total = minutes.checked_mul(60)?.checked_add(seconds)?.checked_mul(1000)?;
    Some(if seconds == 0 { (Milli::whole(minutes), SetUnit::Min) } else { (Milli(total), SetUnit::S) })
}

/// The seconds of `1 min 30 s` and `1'30`.
fn take_seconds(text: &mut Text<'_>) -> Option<i32> {
    let attached = text.peek().is_some_and(|next| next.is_ascii_digit());
    text.skip_space();
    let digits = text.take_digits();
    let seconds = digits.parse().ok().filter(|seconds| *seconds < 60)?;
    let unit = take_set_unit(text);
    let ends = !text.peek().is_some_and(char::is_alphanumeric);
    (ends && (unit == Some(SetUnit::S) || (unit.is_none() && attached))).then_some(seconds)
}

/// The unit of a repetition, in full or as its mark; nothing is taken where none stands there.
pub(super) fn take_set_unit(text: &mut Text<'_>) -> Option<SetUnit> {
    let here = *text;
    text.skip_space();
    if text.take_any_phrase(&["''", "\u{b4}\u{b4}"])
        || text.take_any(&['"', '\u{201d}', '\u{201c}', '\u{2033}']).is_some()
    {
        return Some(SetUnit::S);
    }
    if text.take_any(&['\'', '\u{2019}', '\u{2032}', '\u{b4}', '`']).is_some() {
        return Some(SetUnit::Min);
    }
    let unit = match text.take_while(char::is_alphabetic).to_ascii_lowercase().as_str() {
        "m" | "metre" | "metres" | "meter" | "meters" => Some(SetUnit::M),
        "km" | "k" | "kms" | "kilometre" | "kilometres" | "kilometer" | "kilometers" => Some(SetUnit::Km),
        "mi" | "mile" | "miles" => Some(SetUnit::Mi),
        "s" | "sec" | "secs" | "second" | "seconds" => Some(SetUnit::S),
        "min" | "mins" | "minute" | "minutes" => Some(SetUnit::Min),
        _ => None,
    };
    if unit.is_none() {
        *text = here;
    }
    unit
}

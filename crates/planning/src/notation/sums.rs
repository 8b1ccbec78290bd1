//! A run that is told by its numbers, with a pace only at the hard one: "3 + 8 @ 4:12 + 3", "MP 14 km - 3 + 8 + 3",
//! "14 km, 8 @ 4:12", "24 km: 8 easy 8 steady 8 MP".
//!
//! Such a line says the same as one that names warm-up and cool-down, or what is "with" the whole, and is made one before
//! it is cut. A pace that only one part of a run has is what sets it apart: that part is hard.

use std::borrow::Cow;

use super::amounts::RawAmount;
use super::around::is_around;
use super::hardness::{is_gentle, is_pace_only, take_kind_with_pace};
use super::kinds::{STRIDES, has_word, take_kind, take_kind_or_short};
use super::line::is_opening_quote;
use super::sets::{is_recovery, starts_with_reps};
use super::text::Text;
use super::unparted::is_up;
use crate::session::Kind;
use crate::units::{Amount, Milli, Unit};

/// The line with its parts in words; nearly every line stays as it is.
pub(super) fn spelled(line: &str) -> Cow<'_, str> {
    let may_be_told = (line.contains(['+', ',', '/', ':']) || line.contains("middle of"))
        && line.bytes().filter(u8::is_ascii_digit).count() > 1;
    if !may_be_told {
        return Cow::Borrowed(line);
    }
    let (front, note) = line.split_at(line.find('(').unwrap_or(line.len()));
    let is_open = note.is_empty() || (note.ends_with(')') && note.matches('(').count() == 1);
    if line.contains(is_opening_quote) {
        return Cow::Borrowed(line);
    }
    if !is_open {
        // "12 km: 2 km easy, 6 x 800 (400 jog), 2 km easy"
        let has_list =
            line.split('(').skip(1).any(|note| note.split(')').next().is_some_and(|note| note.contains(',')));
        let told = if has_list { None } else { of_whole_and_reps(line) };
        return told.map_or(Cow::Borrowed(line), Cow::Owned);
    }
    let told = told(front).or_else(|| {
        // "3 + 8 @ 4:12 + 3 + gym": what is done besides has no number in front.
        let starts = front.match_indices([',', '+']).map(|(at, _)| at);
        let besides = |at: &usize| front[at + 1..].trim_start().starts_with(char::is_alphabetic);
        let (front, besides) = front.split_at(starts.into_iter().find(besides).filter(|at| *at > 0)?);
        Some(format!("{}{}{besides}", told(front.trim_end())?, if besides.starts_with('+') { " " } else { "" }))
    });
    told.map_or(Cow::Borrowed(line), |told| Cow::Owned(format!("{told} {note}").trim_end().to_owned()))
}

/// The line in words, in whichever of these ways it tells its numbers.
fn told(front: &str) -> Option<String> {
    of_three(front, false)
        .or_else(|| of_whole_and_part(front))
        .or_else(|| of_kinds(front))
        .or_else(|| of_whole_and_around(front))
        .or_else(|| of_a_middle(front))
        .or_else(|| of_reps_between(front))
}

/// The parts of a run that stand in brackets behind its whole, "14 km (3 + 8 @ 4:12 + 3)", in words.
pub(super) fn spelled_inside(note: &str) -> Cow<'_, str> {
    of_three(note, true).map_or(Cow::Borrowed(note), Cow::Owned)
}

/// "3 + 8 @ 4:12 + 3" as warm-up, hard part and cool-down; a whole and a kind may stand in front of them.
///
/// `is_inside`: whether the whole stands in front of the brackets around it.
fn of_three(line: &str, is_inside: bool) -> Option<String> {
    let (lead, rest) = lead(line);
    let (whole, rest) = whole_in_front(rest);
    let mark = ['+', '/', ','].into_iter().find(|mark| rest.contains(*mark))?;
    let mut pieces = rest.split(mark).map(str::trim);
    let (one, two, three) = (pieces.next()?, pieces.next()?, pieces.next()?);
    if pieces.next().is_some() {
        return None;
    }
    let (amount, tail) = amount_and_tail(two)?;
    let (kind, pace, is_short) = hard_kind(lead, tail)?;
    let (front, behind) = (outer(one)?, outer(three)?);
    let is_most = || length(amount) > length(front).max(length(behind));
    let is_clear = match mark {
        ',' => whole.is_some() || is_inside || (is_most() && (!pace.is_empty() || (is_bare(one) && is_bare(three)))),
        // These are told without a word elsewhere: see `super::unparted` and `super::around`.
        _ if pace.is_empty() && whole.is_none() && !is_inside && !is_short => {
            lead.is_some() && !line.contains(':') && is_most()
        }
        _ => true,
    };
    let around = |piece: &str, phrase: &str| {
        if is_around(piece) { piece.to_owned() } else { format!("{piece} {phrase}") }
    };
    // Numbers without a unit are in that of their whole.
    let in_unit = |number: &str| in_unit_of(whole.unwrap_or_default(), number);
    let (front, amount, behind) = (in_unit(front), in_unit(amount), in_unit(behind));
    let (front, behind) = (around(&front, "warm up"), around(&behind, "cool down"));
    let whole = whole.map_or_else(String::new, |whole| format!(", {whole}"));
    let hard = format!("{amount} {kind} {pace}");
    is_clear.then(|| format!("{front}, {}, {behind}{whole}", hard.trim_end()))
}

/// The kind of hard running in front of numbers: "MP 3 + 8 + 3".
fn lead(line: &str) -> (Option<&str>, &str) {
    let start = Text::new(line);
    let mut text = start;
    match take_kind(&mut text) {
        Some((kind, _)) if is_even(kind) => {
            let words = text.since(&start).trim_end_matches([':', '-', '\u{2013}', ' ']);
            (Some(words), text.left())
        }
        _ => (None, line.trim()),
    }
}

/// "14 km - 3 + 8 + 3", "14 km: 3 / 8 / 3": the whole of what stands behind the mark.
fn whole_in_front(line: &str) -> (Option<&str>, &str) {
    const MARKS: [&str; 5] = [" - ", " \u{2013} ", " \u{2014} ", ": ", " = "];
    let cut = |mark: &str| line.split_once(mark).filter(|(whole, _)| is_bare(whole));
    let listed = || line.split_once(", ").filter(|(whole, rest)| is_bare(whole) && rest.contains(['+', '/']));
    match MARKS.into_iter().find_map(cut).or_else(listed) {
        Some((whole, rest)) => (Some(whole.trim()), rest.trim()),
        None => (None, line),
    }
}

/// What stands around the hard part: a number, easy running or a warm-up; its words without "easy".
fn outer(words: &str) -> Option<&str> {
    if is_around(words) {
        return Some(words);
    }
    let (amount, tail) = amount_and_tail(words)?;
    let mut text = Text::new(tail);
    let is_easy = tail.is_empty()
        || take_kind(&mut text).is_some_and(|(kind, _)| matches!(kind, Kind::Easy | Kind::Recovery) && text.is_done());
    is_easy.then_some(amount)
}

/// The kind of the hard part, its pace in figures, and whether the kind has a name that only stands where a pace does.
fn hard_kind<'a>(lead: Option<&'a str>, tail: &'a str) -> Option<(&'a str, String, bool)> {
    let at = |figure: &str| match figure.trim_matches(['(', ')']).trim_start_matches(['@', ' ']) {
        "" => String::new(),
        figure if figure.starts_with(|first: char| first.is_ascii_digit()) => format!("@ {figure}"),
        figure => figure.to_owned(),
    };
    if tail.is_empty() || is_pace_only(tail) {
        // A pace alone does not say which race it is of.
        return lead.or((!tail.is_empty()).then_some("tempo")).map(|kind| (kind, at(tail), false));
    }
    let mut text = Text::new(tail);
    text.take_any_phrase(&["@", "at", "in"]);
    text.skip_space();
    let start = text;
    let named = |mut text: Text<'a>| {
        let (kind, _) = take_kind(&mut text)?;
        let is_pace = text.is_done() || is_pace_only(text.left());
        (is_even(kind) && is_pace).then(|| (text.since(&start), at(text.left()), false))
    };
    named(text).or_else(|| {
        let (kind, _) = take_kind_or_short(&mut text).filter(|_| lead.is_none())?;
        (is_even(kind) && text.is_done())
            .then(|| (if kind == Kind::Tempo { "tempo" } else { "race pace" }, String::new(), true))
    })
}

/// "14 km, 8 @ 4:12": a part with its pace beside the whole.
fn of_whole_and_part(line: &str) -> Option<String> {
    let (whole, part) = line.split_once(", ").or_else(|| line.split_once(": "))?;
    let (amount, tail) = amount_and_tail(part.trim())?;
    let mut text = Text::new(tail);
    let is_at = text.take_any_phrase(&["@", "at"]);
    let is_hard =
        is_pace_only(tail) || take_kind_with_pace(&mut text).is_some_and(|(kind, _)| kind.assumed_hard().is_some());
    let run = run_amount(whole)?;
    // "14 km easy, 8 @ 5:30": a pace of easy running, perhaps.
    let may_be_easy = is_pace_only(tail) && is_gentle(whole);
    (is_at && is_hard && !may_be_easy && length(amount) < length(run))
        .then(|| format!("{} with {}", whole.trim(), part.trim()))
}

/// The amount of a run that is told by its kind and its amount, "long 24", "14 km easy".
fn run_amount(words: &str) -> Option<&str> {
    let mut text = Text::new(words);
    let in_front = take_kind(&mut text);
    let (amount, tail) = amount_and_tail(text.left())?;
    let mut tail = Text::new(tail);
    let behind = take_kind(&mut tail);
    let is_run = in_front.into_iter().chain(behind).all(|(kind, _)| kind.is_running());
    (is_run && tail.is_done()).then_some(amount)
}

/// "24 km: 8 easy 8 steady 8 MP": the parts of a whole with the kind of each, one of them hard.
fn of_kinds(line: &str) -> Option<String> {
    let (whole, parts) = line.split_once(": ")?;
    let mut left = length(run_amount(whole)?)?;
    let (mut hard, mut others) = (Vec::new(), Vec::new());
    let mut text = Text::new(parts);
    while !text.is_done() {
        text.skip_space();
        text.take_any(&[',', '/', '+', ';']);
        text.take_any_phrase(&["then", "and"]);
        text.skip_space();
        let start = text;
        RawAmount::take(&mut text).ok().flatten()?;
        left = left - length(text.since(&start))?;
        text.take_any_phrase(&["@", "at"]);
        let (kind, _) = take_named(&mut text)?;
        let is_hard = kind.assumed_hard().is_some();
        if is_hard { &mut hard } else { &mut others }.push(text.since(&start));
    }
    let [hard] = hard.as_slice() else { return None };
    (left == Milli::ZERO && !others.is_empty()).then(|| format!("{} with {hard} ({})", whole.trim(), others.join(", ")))
}

/// "6.5: 2 up, 20 min T, 1 down": the whole is told behind its parts everywhere else.
fn of_whole_and_around(line: &str) -> Option<String> {
    let (whole, parts) = whole_in_front(line);
    let whole = whole?;
    let first = parts.split(',').next().unwrap_or_default().trim();
    if parts.matches(',').count() > 1 && (is_around(first) || is_up(first)) {
        return Some(format!("{parts}, {whole}"));
    }
    of_whole_and_reps(line)
}

/// "8 mi: 2 mi easy, 6 x 800, 2 mi easy", "8 mi: 6 x 800".
fn of_whole_and_reps(line: &str) -> Option<String> {
    let (whole, parts) = line.split_once(": ").filter(|(whole, _)| is_bare(whole))?;
    let are_reps = starts_with_reps(Text::new(parts)) && !has_word(parts, &STRIDES);
    if are_reps {
        return Some(format!("{whole} with {parts}"));
    }
    reps_in_order(parts, whole).filter(|_| !parts.contains('+')).map(|parts| format!("{parts}, {whole}"))
}

/// Repetitions with what is run easily before and behind them as warm-up and cool-down: "2 mi easy, 6 x 800, 2 mi easy".
fn reps_in_order(parts: &str, whole: &str) -> Option<String> {
    let parts: Vec<&str> = parts.split(',').map(str::trim).collect();
    let are_reps = |part: &&str| starts_with_reps(Text::new(part)) && !has_word(part, &STRIDES);
    let reps = parts.iter().position(are_reps)?;
    let last_reps = parts.iter().rposition(are_reps)?;
    let around = |part: &str, phrase: &str| {
        let amount = outer(part).filter(|_| reps == 1)?;
        Some(format!("{} {phrase}", in_unit_of(whole, amount)))
    };
    let told = |(at, part): (usize, &&str)| match at {
        _ if is_around(part) => (*part).to_owned(),
        _ if at < reps => around(part, "warm up").unwrap_or_default(),
        // Right behind repetitions it is their rest.
        _ if at > last_reps + 1 || (at > last_reps && at + 1 == parts.len() && !is_recovery(part)) => {
            around(part, "cool down").unwrap_or_else(|| (*part).to_owned())
        }
        _ => (*part).to_owned(),
    };
    let told: Vec<String> = parts.iter().enumerate().map(told).collect();
    told.iter().all(|part| !part.is_empty()).then(|| told.join(", "))
}

/// A number without a unit in that of its whole.
fn in_unit_of(whole: &str, number: &str) -> String {
    let unit = whole.trim_start_matches(|one: char| !one.is_alphabetic() && one != '\'');
    let is_plain = number.bytes().all(|one| one.is_ascii_digit() || one == b'.');
    if is_plain && !unit.is_empty() { format!("{number} {unit}") } else { number.to_owned() }
}

/// "20 min tempo in the middle of 7": the whole behind its part.
fn of_a_middle(line: &str) -> Option<String> {
    const MIDDLES: [&str; 3] = [" in the middle of ", " in middle of ", " in the middle of a "];
    let (part, whole) = MIDDLES.into_iter().find_map(|middle| line.split_once(middle))?;
    let (_, tail) = amount_and_tail(part)?;
    let is_told = !tail.is_empty() && run_amount(whole).is_some();
    is_told.then(|| format!("{} with {part} in the middle", whole.trim()))
}

/// "3k, 5x1k, 2k": repetitions between two numbers that are no whole.
///
/// # Source
///
/// Common practice, no published source.
fn of_reps_between(line: &str) -> Option<String> {
    const MOST_AROUND: Milli = Milli::whole(5);
    let mut parts = line.split(", ").map(str::trim);
    let (front, reps, behind) = (parts.next()?, parts.next()?, parts.next()?);
    let is_around = |words: &str| is_bare(words) && length(words).is_some_and(|length| length <= MOST_AROUND);
    let is_told = parts.next().is_none()
        && is_around(front)
        && is_around(behind)
        && starts_with_reps(Text::new(reps))
        && !has_word(reps, &STRIDES);
    is_told.then(|| format!("{front} warm up, {reps}, {behind} cool down"))
}

/// A kind in front of a further number, or at the end.
fn take_named(text: &mut Text<'_>) -> Option<(Kind, Option<String>)> {
    let before = *text;
    take_kind(text).or_else(|| {
        *text = before;
        take_kind_or_short(text)
    })
}

/// An amount in front of words, and these.
fn amount_and_tail(words: &str) -> Option<(&str, &str)> {
    let start = Text::new(words);
    let mut text = start;
    if starts_with_reps(start) || !matches!(RawAmount::take(&mut text), Ok(Some(_))) {
        return None;
    }
    Some((text.since(&start), text.left()))
}

fn is_bare(words: &str) -> bool {
    amount_and_tail(words).is_some_and(|(_, tail)| tail.is_empty())
}

/// How much an amount is, for comparing those of one line; metres and hours are not told so.
fn length(words: &str) -> Option<Milli> {
    let raw = RawAmount::take(&mut Text::new(words)).ok().flatten()?;
    raw.in_unit(Unit::Km).ok().map(Amount::low)
}

/// Whether all of a part is run at one pace, as a tempo run is.
const fn is_even(kind: Kind) -> bool {
    matches!(kind, Kind::Tempo | Kind::RacePace)
}

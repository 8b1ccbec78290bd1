//! What a question about a line leads to: each of the readings between which it asks.

use super::super::amounts::RawAmount;
use super::super::around::shortest_whole;
use super::super::bare;
use super::super::doubles::is_easy_run;
use super::super::hardness::is_pace_only;
use super::super::kinds::take_kind_or_short;
use super::super::line::{Parts, apart_from_notes, written};
use super::super::read::with_wholes_reckoned;
use super::super::rest::is_rest;
use super::super::runner::Runner;
use super::super::sets::starts_with_reps;
use super::super::text::{Text, tidy};
use super::mended::{way, with_usual_around};
use super::{Guess, Way, sound};
use crate::plain::joined;
use crate::problem::{Expected, ProblemKind};
use crate::session::{Kind, Session};
use crate::units::{Amount, Milli, Unit};
use crate::week::Slot;

/// The readings of a whole day that is one slot, told by its words.
pub(super) fn of_day(line: &str, runner: Runner) -> Vec<String> {
    let Err(problems) = sound(line, runner) else { return Vec::new() };
    match problems.as_slice() {
        [ProblemKind::Unreadable { text, expected: Expected::TwoRuns }] => two_runs(line, text, runner),
        [ProblemKind::Unreadable { text, expected: Expected::OneAmount }] => two_amounts(line, text, runner),
        _ => Vec::new(),
    }
}

/// The readings of one session for what is asked about it.
pub(super) fn of_session(line: &str, problems: &[ProblemKind], runner: Runner) -> Vec<Way> {
    let [problem] = problems else { return Vec::new() };
    let unit = runner.units.unit().symbol();
    let lines = match problem {
        ProblemKind::WholeUnsaid { line, .. } => return vec![Way { line: line.clone(), guess: Guess::Whole }],
        ProblemKind::Unreadable { expected: Expected::WholeRun, .. } => {
            let whole = |line| Way { line, guess: Guess::Whole };
            return with_wholes_reckoned(line, runner).map(whole).into_iter().collect();
        }
        ProblemKind::Unreadable { text, expected } => match expected {
            Expected::UnitOfRun => {
                let units = [Unit::Min.symbol(), unit];
                let everywhere = units.map(|unit| with_unit_everywhere(line, unit));
                let once = units.into_iter().filter_map(|unit| Some(line.replacen(text, &with_unit(text, unit)?, 1)));
                // Who leaves out the unit of several numbers has one in mind for all of them.
                if everywhere.iter().any(|other| other != line) && line != text {
                    everywhere.into()
                } else {
                    once.collect()
                }
            }
            Expected::RunOrMinutes => run_or_minutes(line, text, unit),
            Expected::HalfOrClock => half_or_clock(line, unit),
            Expected::RangeOrRuns => range_or_runs(line, text),
            Expected::PartBetween => {
                ["tempo", "easy"].map(|kind| line.replacen(text, &format!("{kind} {text}"), 1)).into()
            }
            Expected::PartsInOrder => return in_order(line, text, runner),
            Expected::Sets => with_unit_of_sets(text, unit).map(|sets| line.replacen(text, &sets, 1)).into(),
            Expected::HowHard if starts_with_reps(Text::new(text)) => {
                with_unit_of_sets(text, unit).map(|sets| line.replacen(text, &sets, 1)).into()
            }
            Expected::Unit if turned_reps(line).is_some() => turned_reps(line).into_iter().collect(),
            Expected::Unit if text.ends_with('m') => {
                ["i", "in"].map(|rest| line.replacen(text, &format!("{text}{rest}"), 1)).into()
            }
            Expected::Amount => vec![line.replacen(text, text.trim_end_matches(['-', '\u{2013}', ' ']), 1)],
            _ => Vec::new(),
        },
        _ => Vec::new(),
    };
    lines.into_iter().map(Way::sure).collect()
}

/// "am 40 pm 30": the unit that nobody said is the same for both.
pub(super) fn in_one_unit(slots: &[Vec<Parts>], runner: Runner) -> Vec<String> {
    let Some(runs) = bare::runs(slots) else { return Vec::new() };
    let asks = |at: &usize| {
        let wrong = sound(&written(&slots[*at..=*at]), runner).err().unwrap_or_default();
        matches!(wrong.as_slice(), [ProblemKind::Unreadable { expected: Expected::UnitOfRun, .. }])
    };
    if !runs.iter().any(asks) && bare::asks_unit(slots, runner.units).is_none() {
        return Vec::new();
    }
    let slot = |(at, slot): (usize, &Vec<Parts>), unit: &str| {
        let line = written(std::slice::from_ref(slot));
        if runs.contains(&at) { with_unit(&line, unit).unwrap_or(line) } else { line }
    };
    let day = |unit: &str| slots.iter().enumerate().map(|one| slot(one, unit)).collect::<Vec<_>>().join(" + ");
    vec![day(Unit::Min.symbol()), day(runner.units.unit().symbol())]
}

/// "45 easy" with "min": "45 min easy".
fn with_unit(text: &str, unit: &str) -> Option<String> {
    let from = text.find(|one: char| one.is_ascii_digit())?;
    let is_number = |one: char| one.is_ascii_digit() || matches!(one, '.' | ',' | '-' | '\u{2013}');
    let until = text[from..].find(|one| !is_number(one)).map_or(text.len(), |at| from + at);
    Some(tidy(&format!("{} {unit} {}", &text[..until], &text[until..])))
}

/// "15 wu, 20 tempo, 10 cd" with one unit for each number that has none.
fn with_unit_everywhere(line: &str, unit: &str) -> String {
    let part = |part: &str| {
        let lacks = matches!(RawAmount::take(&mut Text::new(part)), Ok(Some(raw)) if !raw.has_unit());
        if lacks { with_unit(part, unit).unwrap_or_else(|| part.to_owned()) } else { part.to_owned() }
    };
    line.split(", ").map(part).collect::<Vec<_>>().join(", ")
}

/// "6 x 3 threshold": repetitions of minutes, or of kilometres or miles.
fn with_unit_of_sets(text: &str, unit: &str) -> [String; 2] {
    let times = text.find(['x', 'X', '\u{d7}', '*']).map_or(0, |at| at + 1);
    let (reps, length) = text.split_at(text.len().min(text.ceil_char_boundary(times)));
    // "6 x 3m T": the letter stands for either.
    let number = length.trim_start().trim_start_matches(|one: char| one.is_ascii_digit() || one == '.');
    let digits = &length[..length.len() - number.len()];
    let is_letter = { Text::new(number) }.take_phrase("m");
    let without = || format!("{}{}", digits, number.trim_start().get(1..).unwrap_or_default());
    let length = &*if is_letter { without() } else { length.to_owned() };
    [Unit::Min.symbol(), unit].map(|unit| tidy(&format!("{reps} {}", with_unit(length, unit).unwrap_or_default())))
}

/// "800s x 6": six times 800 m.
fn turned_reps(line: &str) -> Option<String> {
    let (length, times) = line.split_once(['x', 'X', '\u{d7}', '*'])?;
    let length = length.trim_end().strip_suffix('s')?;
    let until = times.trim_start().find(|one: char| !one.is_ascii_digit()).unwrap_or(times.trim_start().len());
    let (times, rest) = times.trim_start().split_at(until);
    let is_metres = (3..=4).contains(&length.len()) && length.bytes().all(|one| one.is_ascii_digit());
    (is_metres && !times.is_empty()).then(|| format!("{times} x {length} m{rest}"))
}

/// "8 gym": the run beside it, or its minutes.
fn run_or_minutes(line: &str, text: &str, unit: &str) -> Vec<String> {
    let minutes = with_unit(text, Unit::Min.symbol()).map(|with| line.replacen(text, &with, 1));
    // "easy 8 bike": what stands in front of the number is the run's.
    let number = text.find(|one: char| one.is_ascii_digit()).unwrap_or_default();
    let mut taken = Text::new(&text[number..]);
    let run = match RawAmount::take(&mut taken) {
        Ok(Some(_)) if !taken.is_done() => Some((text[..text.len() - taken.left().len()].trim(), taken.left())),
        _ => text.rsplit_once(' ').map(|(sport, amount)| (amount, sport)),
    };
    let both = run.map(|(amount, sport)| line.replacen(text, &format!("{amount} {unit} + {sport}"), 1));
    let in_front = text.starts_with(|first: char| first.is_ascii_digit());
    let (first, second) = if in_front { (both, minutes) } else { (minutes, both) };
    first.into_iter().chain(second).collect()
}

/// "8 am", "6 am 8": the run of a half of the day, or a time of day beside the run.
fn half_or_clock(line: &str, unit: &str) -> Vec<String> {
    let words: Vec<&str> = line.split(' ').collect();
    let is_half = |word: &str| ["am", "pm", "a.m.", "p.m."].iter().any(|half| word.eq_ignore_ascii_case(half));
    let split = |word: &str| -> Option<(String, String)> {
        let at = word.find(|one: char| !one.is_ascii_digit() && one != ':' && one != '.')?;
        (at > 0 && is_half(&word[at..])).then(|| (word[..at].to_owned(), word[at..].to_owned()))
    };
    let attached = words.iter().enumerate().find_map(|(at, word)| Some((at, at + 1, split(word)?)));
    let apart = || {
        let at = (1..words.len()).find(|at| is_half(words[*at]))?;
        Some((at - 1, at + 1, (words[at - 1].to_owned(), words[at].to_owned())))
    };
    let Some((from, until, (number, half))) = attached.or_else(apart) else { return Vec::new() };
    let rest = [&words[..from], &words[until..]].concat().join(" ");
    let rest =
        if rest.bytes().all(|one| one.is_ascii_digit()) && !rest.is_empty() { format!("{rest} {unit}") } else { rest };
    vec![format!("{rest} (\"{number} {half}\")"), tidy(&format!("{} {number} {unit} {rest}", half.to_uppercase()))]
}

/// "6/8": a range, or two runs of a day; what is given once, the unit, is given to both.
fn range_or_runs(line: &str, text: &str) -> Vec<String> {
    let Some((one, other)) = ["/", "&", " and "].into_iter().find_map(|mark| text.split_once(mark)) else {
        return Vec::new();
    };
    let (one, other) = (one.trim(), other.trim());
    let Some(from) = one.rfind(' ').map(|at| at + 1).or(Some(0)) else { return Vec::new() };
    let (kind, low) = one.split_at(from);
    let until = other.find(|next: char| !next.is_ascii_digit() && next != '.').unwrap_or(other.len());
    let (high, unit) = other.split_at(until);
    let is_turned = low.parse::<f64>().ok().zip(high.parse::<f64>().ok()).is_some_and(|(low, high)| low > high);
    let range = if is_turned { format!("{kind}{high}-{low}{unit}") } else { format!("{kind}{low}-{high}{unit}") };
    let runs = format!("{kind}{low}{unit} + {kind}{high}{unit}");
    let both = if is_turned { [runs, range] } else { [range, runs] };
    both.map(|reading| line.replacen(text, &reading, 1)).into()
}

/// "10 km (6 + 4)", "14 km (AM 8 km, PM 6 km)", "2 x 40 min easy": the two runs.
fn two_runs(line: &str, text: &str, runner: Runner) -> Vec<String> {
    if let Some(at) = line.find('(') {
        let two = if text.contains('/') { text.replace('/', " + ") } else { text.to_owned() };
        let noted = line.replacen(&format!("({text})"), &format!("({})", super::super::line::quote(text)), 1);
        return vec![two, if noted == line { line[..at].to_owned() } else { noted }];
    }
    let Some((times, one)) = line.split_once(['x', 'X', '\u{d7}', '*']) else { return Vec::new() };
    let Ok(times) = times.trim().parse::<usize>() else { return Vec::new() };
    let one = one.trim();
    if !(2..=3).contains(&times) || sound(one, runner).is_err() {
        return Vec::new();
    }
    vec![vec![one; times].join(" + ")]
}

/// "5, 6": two runs of a day.
fn two_amounts(line: &str, text: &str, runner: Runner) -> Vec<String> {
    let is_amount = |words: &str| {
        let mut text = Text::new(words);
        matches!(RawAmount::take(&mut text), Ok(Some(_))) && text.is_done()
    };
    let before = line.strip_suffix(text).map(|before| before.trim_end_matches([' ', ','])).unwrap_or_default();
    if is_amount(text) && is_amount(before) {
        return vec![format!("{before} + {text}")];
    }
    part_or_run(before, text, runner)
}

/// "14 km, 8 MP", "14 km easy, 8 @ 5:30": a hard part of the run in front; or else what is run behind it, or easily.
fn part_or_run(before: &str, text: &str, runner: Runner) -> Vec<String> {
    let amount = |words: &str| {
        let mut text = Text::new(words);
        let raw = RawAmount::take(&mut text).ok().flatten()?;
        Some((raw, text.left().to_owned()))
    };
    let (Some((whole, kind)), Some((part, tail))) = (amount(before), amount(text)) else { return Vec::new() };
    let is_run = kind.is_empty() || is_easy_run(before);
    if !is_run || part.has_unit() || starts_with_reps(Text::new(text)) {
        return Vec::new();
    }
    let tail = tail.as_str();
    if is_pace_only(tail) {
        return vec![format!("{before} with {text}"), format!("{before} ({})", super::super::line::quote(text))];
    }
    let mut kind = Text::new(tail);
    let is_hard = take_kind_or_short(&mut kind).is_some_and(|(kind, _)| kind.assumed_hard().is_some());
    if !is_hard || !kind.is_done() {
        return Vec::new();
    }
    let units = runner.units.unit();
    let Ok(whole) = whole.in_unit(units) else { return Vec::new() };
    let Ok(part) = part.in_unit(whole.unit()) else { return Vec::new() };
    let sum = Milli(whole.high().0.saturating_add(part.high().0));
    let both = Amount::exact(sum, whole.unit());
    vec![format!("{before} with {part} @ {tail}"), format!("{tail} {both}, hard {part}")]
}

/// "8 km + 10 x 30 s", "3 + 6 x 800": repetitions at the end of the run, or behind it as a warm-up, rather than a session of
/// their own.
pub(super) fn run_with_reps(run: &str, reps: &str, runner: Runner) -> Option<String> {
    let lacks_whole = |line: &str| {
        let wrong = sound(line, runner).err().unwrap_or_default();
        matches!(wrong.as_slice(), [ProblemKind::AmountMissing { .. }])
    };
    let day = sound(run, runner).ok()?;
    let is_easy = only_session(&day).is_some_and(|session| session.kind == Kind::Easy && session.sets.is_empty());
    if !is_easy || !starts_with_reps(Text::new(reps)) || !lacks_whole(reps) {
        return None;
    }
    let lines = [format!("{run}, {reps}"), format!("{run} warm up, {reps}")];
    lines.into_iter().find(|line| sound(line, runner).is_ok())
}

/// "7 E + str": strides at the end of the run, or strength beside it; "4 str" are four of the former.
pub(super) fn strides_or_strength(line: &str) -> Vec<String> {
    let (outside, _) = apart_from_notes(line);
    let ends = |at: usize| {
        let front = outside[..at].strip_suffix('x').filter(|front| front.ends_with(|one: char| one.is_ascii_digit()));
        let attached = front.unwrap_or(&outside[..at]).ends_with(char::is_alphabetic);
        !attached && !line[at + 3..].starts_with(|one: char| one.is_alphanumeric())
    };
    let lower = outside.to_ascii_lowercase();
    let Some(at) = lower.match_indices("str").map(|(at, _)| at).find(|at| ends(*at)) else {
        // "easy 5, ST"
        let is_st = outside.ends_with(", ST") || outside.ends_with("+ ST");
        return if is_st { strides_or_strength(&format!("{line}R")) } else { Vec::new() };
    };
    let (front, behind) = (line[..at].trim_end(), &line[at + 3..]);
    let strides = format!("{front} strides{behind}");
    if front.ends_with(|one: char| one.is_ascii_digit() || one == 'x') {
        return vec![strides];
    }
    let bare = front.strip_suffix("w/").unwrap_or(front).trim_end_matches([',', '+', '&', '/', ' ']);
    if bare.is_empty() { Vec::new() } else { vec![strides, format!("{bare} + strength{behind}")] }
}

/// "tempo 9 km, 2 km warm up, 2 km cool down": in the order in which it is run, or as the whole.
fn in_order(line: &str, text: &str, runner: Runner) -> Vec<Way> {
    let Some(around) = line.strip_prefix(text).map(|rest| rest.trim_start_matches([',', ' '])) else {
        return Vec::new();
    };
    if !around.contains(|one: char| one.is_ascii_digit()) {
        return between(text, around, runner);
    }
    let Some((warm, cool)) = around.split_once(", ") else { return Vec::new() };
    [format!("{warm}, {text}, {cool}"), format!("{text} incl. {warm} and {cool}")].map(Way::sure).into()
}

/// "20 min tempo, wu/cd": what is run between the two, whose amounts nobody said; or the whole, where it is long enough.
fn between(text: &str, around: &str, runner: Runner) -> Vec<Way> {
    let Ok(day) = sound(text, runner) else { return Vec::new() };
    let Some((session, told)) = only_session(&day).and_then(|session| Some((session, session.amount?))) else {
        return Vec::new();
    };
    let noted = |session: Session| Session { note: joined([session.note.as_str(), around], ", "), ..session };
    let hard = Session { amount: Some(with_usual_around(told)), hard: Some(told), ..session.clone() };
    let whole = (told.high() >= shortest_whole(told.unit())).then(|| way(noted(session.clone()), Guess::Nothing));
    std::iter::once(way(noted(hard), Guess::Whole)).chain(whole).collect()
}

/// "rest or easy 5", "off or easy 4 or XT": a day of either, the other kept in brackets.
pub(super) fn rest_or_run(options: &[Parts]) -> Vec<String> {
    let Some(at) = options.iter().position(is_rest) else { return Vec::new() };
    let text = |parts: &Parts| written(&[vec![parts.clone()]]);
    let rest = text(&options[at]);
    let others: Vec<String> = options.iter().filter(|parts| !is_rest(parts)).map(text).collect();
    let Some((first, further)) = others.split_first() else { return Vec::new() };
    let run = std::iter::once(format!("{first} (or {})", rest.to_lowercase())).chain(further.iter().cloned());
    let both = [format!("{rest} (or {})", others.join(" or ")), run.collect::<Vec<_>>().join(" or ")];
    if at == 0 { both.into() } else { both.into_iter().rev().collect() }
}

/// The sessions of one slot.
pub(super) fn only_session(day: &[Slot]) -> Option<&Session> {
    match day {
        [slot] if slot.options().len() == 1 => Some(slot.chosen()),
        _ => None,
    }
}

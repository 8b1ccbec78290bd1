//! Repetitions that are told by the round, or one by one: "5 x (1' hard 1' easy)", "30/30 x 20", "400 800 1200 800 400".
//!
//! Such words are made "5 x 1' hard, recovery 1' easy", "20 x 30 s, recovery 30 s easy" and one repetition after the other before
//! the line is cut; nearly every line has none.

use std::borrow::Cow;

use super::amounts::RawAmount;
use super::around::is_around;
use super::hardness::is_gentle;
use super::kinds::take_kind;
use super::line::is_opening_quote;
use super::sets::{TIMES, is_bare_rest, is_recovery, take_set_unit};
use super::text::{Text, place};
use super::turns::are_turns;
use crate::plain::joined;
use crate::session::{SetUnit, Sets};
use crate::units::{DistanceUnit, Milli, Unit};

/// The line with its rounds told as repetitions.
pub(super) fn spelled(line: &str) -> Cow<'_, str> {
    if !line.contains(|one: char| one.is_ascii_digit()) || line.contains(is_opening_quote) {
        return Cow::Borrowed(line);
    }
    let whole = [in_brackets, in_minutes, by_lists, by_seconds, by_strokes, one_by_one, turned];
    let told = whole.into_iter().find_map(|told| told(line));
    let told = told.or_else(|| [by_strokes, one_by_one, turned].into_iter().find_map(|told| in_a_part(line, told)));
    told.map_or(Cow::Borrowed(line), Cow::Owned)
}

/// "45' w/ 5x(1' hard 1' easy)": what is run hard, and what between.
fn in_brackets(line: &str) -> Option<String> {
    let open = line.find('(')?;
    let close = open + line[open..].find(')')?;
    let front = line[..open].trim_end().strip_suffix(TIMES)?.trim_end();
    let from = front.trim_end_matches(|one: char| one.is_ascii_digit()).len();
    let (lead, reps) = front.split_at(from);
    let behind = &line[close + 1..];
    let ends = behind.trim_start();
    let is_apart = ends.is_empty() || ends.starts_with([',', ';', '+', '/', '|', '-', '(']);
    let inside = &line[open + 1..close];
    let [run, rest] = two_lengths(inside).or_else(|| two_parts(inside)).filter(|_| !are_turns(inside))?;
    // "6 x (3' hard/2' float)" is read as it is, see `super::sets`.
    let is_read = lead.is_empty() && line[open..close].contains('/') && is_recovery(rest);
    let is_rest = two_lengths(inside).is_some()
        || is_recovery(rest)
        || is_gentle(rest)
        || rest.to_ascii_lowercase().ends_with("off");
    let is_told = is_apart && is_rest && !is_read && !reps.is_empty();
    is_told.then(|| format!("{lead}{reps} x {run}, recovery {rest}{behind}"))
}

/// "1'/1'", "90s/60s": what stands behind the stroke is the rest.
fn two_lengths(words: &str) -> Option<[&str; 2]> {
    let (run, rest) = words.split_once('/')?;
    (is_bare_rest(run) && is_bare_rest(rest)).then(|| [run.trim(), rest.trim()])
}

/// "8 km w/ 10x(1/1)", "5x(3/2), 45 min": minutes, where the whole says so.
fn in_minutes(line: &str) -> Option<String> {
    let rounds = OnOff::find(line)?;
    let all = |length: Milli, times: u16| length.0.checked_mul(i32::from(times));
    let run = Milli(all(rounds.on, rounds.reps)?.checked_add(all(rounds.off, rounds.reps - 1)?)?);
    let says_minutes = |words: &str| {
        let mut text = Text::new(words);
        take_kind(&mut text);
        let amount = RawAmount::take(&mut text).ok().flatten()?.in_unit(Unit::Km).ok()?;
        let is_timed = amount.unit() == Unit::Min;
        let is_whole = text.is_done() || (take_kind(&mut text).is_some() && text.is_done());
        ((is_timed && is_around(words)) || (is_whole && (is_timed || amount.high() <= run))).then_some(())
    };
    if let Some(unit) = rounds.unit {
        return Some(rounds.in_unit(unit));
    }
    let front = rounds.front.trim_end().trim_end_matches([':', ',']);
    let front = LEADS.iter().find_map(|lead| front.strip_suffix(lead)).unwrap_or(front);
    let is_told = |words: &str| words.split([',', '+']).any(|part| says_minutes(part.trim()).is_some());
    (is_told(front) || is_told(rounds.behind)).then(|| rounds.in_unit(Unit::Min))
}

/// What leads from a whole to its rounds.
const LEADS: [&str; 4] = [" w/", " with", " incl", " w"];

/// The readings of rounds without a unit, the likelier first: "10x(1/1)" may be kilometres too.
pub(super) fn in_either_unit(line: &str, units: DistanceUnit) -> Vec<String> {
    let Some(rounds) = OnOff::find(line).filter(|_| in_minutes(line).is_none()) else { return Vec::new() };
    [Unit::Min, units.unit()].map(|unit| rounds.in_unit(unit)).into()
}

/// "10x(1/1)", "10 x (1 hard/1 easy)": so many rounds of two numbers.
struct OnOff<'a> {
    front: &'a str,
    reps: u16,
    on: Milli,
    /// How these are run: "hard".
    pace: &'a str,
    off: Milli,
    /// The unit behind the brackets.
    unit: Option<Unit>,
    behind: &'a str,
}

impl<'a> OnOff<'a> {
    fn find(line: &'a str) -> Option<Self> {
        /// From here on they may be seconds.
        const MOST: Milli = Milli::whole(10);
        let open = line.find('(')?;
        let close = open + line[open..].find(')')?;
        let front = line[..open].trim_end().strip_suffix(TIMES)?.trim_end();
        let (front, reps) = front.split_at(front.trim_end_matches(|one: char| one.is_ascii_digit()).len());
        let number = |words: &'a str, how: &[&str]| {
            let (number, word) = words.trim().split_once(' ').unwrap_or((words.trim(), ""));
            let number = number.parse::<f64>().ok().map(|number| Milli((number * 1000.0).round() as i32));
            let number = number.filter(|number| *number > Milli::ZERO && *number <= MOST)?;
            (word.is_empty() || how.iter().any(|one| word.eq_ignore_ascii_case(one))).then_some((number, word))
        };
        let (on, off) = line[open + 1..close].split_once('/')?;
        let (on, pace) = number(on, &["on", "hard", "fast", "quick"])?;
        let (off, _) = number(off, &["off", "easy", "jog", "float", "slow"])?;
        let reps = reps.parse().ok().filter(|reps| (1..=Sets::MOST).contains(reps))?;
        let mut text = Text::new(&line[close + 1..]);
        let unit = match take_set_unit(&mut text) {
            Some(SetUnit::Min) => Some(Unit::Min),
            Some(SetUnit::Km) => Some(Unit::Km),
            Some(SetUnit::Mi) => Some(Unit::Mi),
            Some(SetUnit::M | SetUnit::S) => return None,
            None => None,
        };
        let behind = &line[line.len() - text.left().len()..];
        let behind = if unit.is_some() { behind } else { &line[close + 1..] };
        Some(Self { front, reps, on, pace, off, unit, behind })
    }

    fn in_unit(&self, unit: Unit) -> String {
        let Self { front, reps, on, pace: how, off, behind, .. } = self;
        let unit = unit.symbol();
        let front =
            front.trim_end().strip_suffix(':').map_or_else(|| (*front).to_owned(), |whole| format!("{whole}, "));
        // "5x(3/2) hard"
        let (pace, behind) = behind.split_at(behind.find([',', ';', '+', '(']).unwrap_or(behind.len()));
        let space = if behind.starts_with(['+', '(']) { " " } else { "" };
        let pace = joined([*how, pace.trim()], " ");
        let run = joined([format!("{front}{reps} x {on} {unit}"), pace], " ");
        format!("{run}, recovery {off} {unit} easy{space}{behind}")
    }
}

/// "1' hard 1' easy", "3 min T / 2 min jog": two amounts with their words.
fn two_parts(words: &str) -> Option<[&str; 2]> {
    let words = words.trim();
    let mut text = Text::new(words);
    RawAmount::take(&mut text).ok().flatten().filter(RawAmount::has_unit)?;
    let from = words.len() - text.left().len();
    let places = words[from..].match_indices([' ', ',', '/', '+']).map(|(at, _)| from + at);
    let is_amount = |words: &str| {
        words.starts_with(|first: char| first.is_ascii_digit())
            && matches!(RawAmount::take(&mut Text::new(words)), Ok(Some(raw)) if raw.has_unit())
    };
    let mut starts = places.map(|at| at + 1).filter(|at| is_amount(&words[*at..]));
    let second = starts.next()?;
    let marks = [' ', ',', '/', '+', '-'];
    starts.next().is_none().then(|| [words[..second].trim_matches(marks), words[second..].trim()])
}

/// "2 x (10 x 30/30)"
fn in_sets(front: &str, behind: &str, [run, rest]: [u16; 2]) -> Option<String> {
    let (outer, inner) = front.split_once('(')?;
    let count = |words: &str| words.trim().strip_suffix(TIMES)?.trim().parse::<u16>().ok();
    let (sets, reps) = (count(outer)?, count(inner)?);
    let behind = behind.strip_prefix(')')?;
    let all = sets.checked_mul(reps).filter(|all| *all <= Sets::MOST)?;
    Some(format!("{all} x {run} s, recovery {rest} s easy ({sets} sets of {reps}){behind}"))
}

/// "3 x (1k, 500, 200)": rounds of several lengths.
fn by_lists(line: &str) -> Option<String> {
    let open = line.find('(')?;
    let close = open + line[open..].find(')')?;
    let front = line[..open].trim_end().strip_suffix(TIMES)?.trim_end();
    let from = front.trim_end_matches(|one: char| one.is_ascii_digit()).len();
    let (lead, reps) = front.split_at(from);
    let words = line[open + 1..close].split([' ', ',', '-', '/']).filter(|word| !word.is_empty());
    let metres: Vec<u16> = words.map(metres).collect::<Option<_>>()?;
    let is_told = (1..=2).contains(&reps.len()) && (2..=6).contains(&metres.len());
    is_told.then(|| format!("{lead}{}{}", in_rounds(reps, &metres), &line[close + 1..]))
}

fn in_rounds(reps: &str, metres: &[u16]) -> String {
    let told: Vec<String> = metres.iter().map(|metres| format!("{reps} x {metres} m")).collect();
    format!("{} (in rounds)", told.join(", "))
}

/// "2 x 400-800-400"
fn by_strokes(line: &str) -> Option<String> {
    let (reps, behind) = line.split_once(TIMES)?;
    let (reps, behind) = (reps.trim(), behind.trim_start());
    let until = behind.find([' ', ',', ';']).unwrap_or(behind.len());
    let metres: Vec<u16> = behind[..until].split(['-', '\u{2013}']).map(metres).collect::<Option<_>>()?;
    let is_told = (1..=2).contains(&reps.len())
        && reps.bytes().all(|one| one.is_ascii_digit())
        && (3..=6).contains(&metres.len());
    is_told.then(|| format!("{}{}", in_rounds(reps, &metres), &behind[until..]))
}

/// "30/30 x 20", "20 x 30/30": so many seconds hard, and so many easy.
fn by_seconds(line: &str) -> Option<String> {
    line.match_indices('/').find_map(|(at, _)| seconds_at(line, at))
}

/// The same for the stroke at this place.
fn seconds_at(line: &str, at: usize) -> Option<String> {
    let is_digit = |one: char| one.is_ascii_digit();
    let from = line[..at].trim_end_matches(is_digit).len();
    let until = at + 1 + line[at + 1..].find(|one| !is_digit(one)).unwrap_or(line.len() - at - 1);
    let seconds = |words: &str| words.parse::<u16>().ok().filter(|one| (10..=90).contains(one) && one % 5 == 0);
    let (run, rest) = (seconds(&line[from..at])?, seconds(&line[at + 1..until])?);
    let unit = ["\"", "s", "sec", "secs", "''"]
        .into_iter()
        .find(|unit| line[until..].strip_prefix(unit).is_some_and(|behind| !behind.starts_with(char::is_alphabetic)));
    let (front, behind) = (&line[..from], &line[until + unit.map_or(0, str::len)..]);
    // "8 x (30/30)"
    let (front, behind) = match (front.trim_end().strip_suffix('('), behind.strip_prefix(')')) {
        (Some(front), Some(behind)) => (front, behind),
        _ if front.matches('(').count() > front.matches(')').count() => return in_sets(front, behind, [run, rest]),
        _ => (front, behind),
    };
    let told = |front: &str, reps: &str, behind: &str| {
        // "8 km: 20 x 30 s": the whole stands in front of its parts.
        let whole = front.trim_end().strip_suffix(':').map(|whole| format!("{whole}, "));
        let front = whole.unwrap_or_else(|| front.to_owned());
        format!("{front}{reps} x {run} s, recovery {rest} s easy{behind}")
    };
    let turned = behind.trim_start().strip_prefix(TIMES).map(str::trim_start);
    if let Some(turned) = turned {
        let end = turned.find(|one| !is_digit(one)).unwrap_or(turned.len());
        return (1..=2).contains(&end).then(|| told(front, &turned[..end], &turned[end..]));
    }
    let before = front.trim_end().strip_suffix(TIMES)?.trim_end();
    let reps = before.trim_end_matches(is_digit).len();
    let is_apart = behind.is_empty() || behind.starts_with([' ', ',', ';', ')']);
    (reps < before.len() && is_apart).then(|| told(&before[..reps], &before[reps..], behind))
}

/// "mile repeats x 4", "800s x 6": how long in front of how often.
fn turned(line: &str) -> Option<String> {
    let (length, behind) = line.split_once(TIMES)?;
    let mut text = Text::new(length);
    let length = if text.take_phrase("mile") {
        "1 mi".to_owned()
    } else {
        let digits = text.take_digits();
        let metres: u16 = digits.parse().ok().filter(|one| (100..=5000).contains(one))?;
        text.take_any_phrase(&["metres", "m"]);
        format!("{metres} m")
    };
    text.take_any_phrase(&["repeats", "repeat", "repetitions", "reps", "intervals", "s"]);
    let behind = behind.trim_start();
    let until = behind.find(|one: char| !one.is_ascii_digit()).unwrap_or(behind.len());
    let (reps, behind) = behind.split_at(until);
    let ends = behind.is_empty() || behind.starts_with([' ', ',', ';']);
    // "800 x 80 s": what has a unit is how long, and no count.
    let has_unit = take_set_unit(&mut Text::new(behind)).is_some();
    let is_told = text.is_done() && ends && !has_unit && (1..=2).contains(&reps.len());
    is_told.then(|| format!("{reps} x {length}{behind}"))
}

/// "2k wu, 400-800-1200-800-400, 2k cd": what is one part of a run.
fn in_a_part(line: &str, told: impl Fn(&str) -> Option<String>) -> Option<String> {
    let mut parts: Vec<Cow<'_, str>> = line.split(", ").map(Cow::Borrowed).collect();
    let (at, words) = parts.iter().enumerate().find_map(|(at, part)| Some((at, told(part)?)))?;
    parts[at] = Cow::Owned(words);
    (parts.len() > 1).then(|| parts.join(", "))
}

/// "400 800 1200 800 400", "pyramid 400-800-1200-800-400, 8 km": a ladder of metres, one repetition after the other.
fn one_by_one(line: &str) -> Option<String> {
    const NAMES: [&str; 4] = ["pyramid", "ladder", "cutdown", "cut down"];
    let line = line.trim();
    let mut text = Text::new(line);
    let is_named = text.take_any_phrase(&NAMES);
    let start = line.len() - { text }.left().trim_start_matches([':', ' ']).len();
    let ladder = &line[start..];
    let end = ladder
        .find(|one: char| !(one.is_ascii_digit() || matches!(one, ' ' | '-' | '\u{2013}' | '/' | ',' | 'm' | 'k')));
    let end = end.unwrap_or(ladder.len());
    // What stands behind the last of them begins with another mark, or with an amount of its own.
    let numbers: Vec<(usize, &str)> = ladder[..end]
        .split([' ', '-', '\u{2013}', '/', ','])
        .filter(|word| !word.is_empty())
        .map(|word| (place(ladder, word), word))
        .collect();
    let all: Vec<u16> = numbers.iter().map_while(|(_, word)| metres(word)).collect();
    let (last, word) = numbers.get(all.len().checked_sub(1)?)?;
    let behind = &ladder[last + word.len()..];
    let is_ladder = (3..=12).contains(&all.len()) && all.windows(2).all(|two| two[0] != two[1]);
    let is_apart = behind.is_empty() || behind.starts_with([',', ';', '(', ' ', '+']);
    let name = if is_named { format!(" ({})", line[..start].trim_matches([' ', ':'])) } else { String::new() };
    let told: Vec<String> = all.iter().map(|metres| format!("1 x {metres} m")).collect();
    let is_told = is_ladder && is_apart && all.len() <= usize::from(Sets::MOST);
    is_told.then(|| {
        let comma = if behind.trim_start().is_empty() || behind.starts_with([',', ';', '+']) { "" } else { "," };
        format!("{}{name}{comma}{behind}", told.join(", "))
    })
}

/// The metres of a word: "400", "400m", "1k".
fn metres(word: &str) -> Option<u16> {
    if let Some(digits) = word.strip_suffix('k') {
        return digits.parse::<u16>().ok().filter(|one| (1..=5).contains(one)).map(|one| one * 1000);
    }
    let digits = word.strip_suffix('m').unwrap_or(word);
    digits.parse::<u16>().ok().filter(|one| (100..=5000).contains(one) && one % 50 == 0)
}

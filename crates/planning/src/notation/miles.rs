//! The "m" of whoever counts in miles: "8m easy", "6m inc 3m @ MP", "= 7m".
//!
//! For an athlete in miles a small number with "m" is as many miles. Repetitions keep theirs, "6 x 800m", "10 x 60m", and
//! so does what is jogged or rested between them, "5 x 1k w/ 2m jog", which may be minutes.

use std::borrow::Cow;

use super::around::is_named;
use super::kinds::{has_word, take_kind};
use super::line::quoted_spans;
use super::sets::{TIMES, starts_with_reps};
use super::text::Text;
use crate::session::Kind;
use crate::units::DistanceUnit;

/// From here on it may be minutes, and from [`super::amounts`]' least metres on it is metres.
///
/// # Source
///
/// Common practice, no published source.
const FROM: f64 = 27.0;

/// Less than this right behind repetitions may be the rest between them.
///
/// # Source
///
/// Common practice, no published source.
const LONGER_THAN_A_REST: f64 = 6.0;

/// What is done between repetitions.
const BETWEEN: [&str; 15] = [
    "jog",
    "jogs",
    "jogging",
    "rec",
    "recs",
    "recovery",
    "recoveries",
    "rest",
    "rests",
    "float",
    "floats",
    "walk",
    "walking",
    "off",
    "between",
];

/// Behind a number they make it metres.
const METRES: [&str; 10] =
    ["climb", "climbing", "ascent", "descent", "vert", "gain", "elevation", "hill sprints", "sprints", "strides"];

/// What parts an amount from its neighbours.
const PARTING: [&str; 11] = [", ", ";", "+", "(", ")", "=", " - ", " \u{2013} ", " / ", ". ", " or "];

/// The line with the small "m" of an athlete in miles as "mi".
pub(super) fn spelled(line: &str, units: DistanceUnit) -> Cow<'_, str> {
    if units != DistanceUnit::Mi || !line.contains(['m', 'M']) {
        return Cow::Borrowed(line);
    }
    let quoted = quoted_spans(line);
    let mut spelled = String::new();
    let (mut from, mut depth, mut before) = (0, 0_i32, ' ');
    for (at, next) in line.char_indices().filter(|(at, _)| quoted.iter().all(|span| !span.contains(at))) {
        depth += i32::from(next == '(') - i32::from(next == ')');
        // "(2M wu, 5M T, 2M cd)", "6-8M"; "8 M" may be a pace.
        let is_great =
            |small: &Small<'_>| small.until == at && (depth > 0 || small.is_range) && !small.front().ends_with("w/");
        let is_unit = next == 'm' || (next == 'M' && before.is_ascii_digit());
        before = next;
        if !is_unit {
            continue;
        }
        let small = Small::ending(line, at).filter(|small| next == 'm' || is_great(small));
        if let Some(small) = small.filter(Small::is_miles) {
            spelled.push_str(&line[from..small.until]);
            spelled.push_str(" mi");
            from = at + 1;
        }
    }
    if from == 0 {
        return Cow::Borrowed(line);
    }
    spelled.push_str(&line[from..]);
    Cow::Owned(spelled)
}

/// A number, or a range of two, with an "m" behind it.
struct Small<'a> {
    line: &'a str,
    /// Where the first number begins, and where the last ends.
    start: usize,
    until: usize,
    /// Where the "m" stands.
    unit: usize,
    most: f64,
    is_range: bool,
}

impl<'a> Small<'a> {
    fn ending(line: &'a str, unit: usize) -> Option<Self> {
        let front = &line[..unit];
        let until = front.strip_suffix(' ').unwrap_or(front).len();
        let (start, most) = number(&line[..until])?;
        let low = line[..start].strip_suffix(['-', '\u{2013}']).and_then(number).map(|(low, _)| low);
        Some(Self { line, start: low.unwrap_or(start), until, unit, most, is_range: low.is_some() })
    }

    fn front(&self) -> &'a str {
        &self.line[..self.start]
    }

    fn behind(&self) -> &'a str {
        &self.line[self.unit + 1..]
    }

    /// What stands in front of it and behind it in its part of the line.
    fn part(&self) -> (&'a str, &'a str) {
        let (front, behind) = (self.front(), self.behind());
        let ends = |mark: &str| front.rfind(mark).map(|at| at + mark.len());
        let from = PARTING.iter().filter_map(|mark| ends(mark)).max().unwrap_or_default();
        let until = PARTING.iter().chain(&[","]).filter_map(|mark| behind.find(mark)).min().unwrap_or(behind.len());
        (front[from..].trim(), behind[..until].trim())
    }

    fn is_miles(&self) -> bool {
        let (before, after) = self.part();
        let part = format!("{before} {after}");
        let stands_alone = self.most > 0.0 && self.most < FROM && !self.is_attached() && !self.is_of_a_time();
        stands_alone && !is_other_sport(&part) && (self.is_total(&part) || !self.is_of_reps(before, after))
    }

    /// Whether it is part of something longer: a count, a pace, a climb, a word.
    fn is_attached(&self) -> bool {
        let (front, behind) = (self.front(), self.behind());
        let bare = front.trim_end();
        let in_word = front.ends_with(|last: char| last.is_alphanumeric() || matches!(last, '.' | ':' | ',' | '\''));
        let climbs = front.ends_with('+') && (front.len() == 1 || front.ends_with(" +"));
        let is_counted = bare.trim_end_matches(['(', ' ']).ends_with(TIMES) || bare.ends_with(['@', '<', '>']);
        let is_led = bare.rsplit(' ').next().is_some_and(|word| word.eq_ignore_ascii_case("at"));
        let mut letters = behind.chars();
        let goes_on = letters.next().is_some_and(|next| {
            next.is_alphanumeric()
                || matches!(next, '\'' | '\u{2019}' | '+')
                || (next == '/' && letters.next().is_some_and(char::is_alphabetic))
        });
        let is_metres = METRES.iter().any(|word| { Text::new(behind) }.take_phrase(word));
        let turned = behind
            .trim_start()
            .strip_prefix(TIMES)
            .is_some_and(|times| times.trim_start().starts_with(|first: char| first.is_ascii_digit()));
        in_word || climbs || is_counted || is_led || goes_on || is_metres || turned
    }

    /// "1h 20m", "2m 30s"
    fn is_of_a_time(&self) -> bool {
        let hours = self.front().trim_end().trim_end_matches(|one: char| one.is_alphabetic());
        let unit = &self.front().trim_end()[hours.len()..];
        let is_hours = ["h", "hr", "hrs", "hour", "hours"].iter().any(|hour| unit.eq_ignore_ascii_case(hour));
        let behind = self.behind().trim_start();
        let seconds = behind.trim_start_matches(|one: char| one.is_ascii_digit());
        let mut unit = Text::new(seconds);
        let is_seconds = seconds.len() < behind.len() && unit.take_any_phrase(&["s", "sec", "secs", "seconds"]);
        is_hours || is_seconds
    }

    /// Whether it is called the whole.
    fn is_total(&self, part: &str) -> bool {
        has_word(part, &["tot", "total", "all", "altogether", "overall"]) || self.front().trim_end().ends_with('=')
    }

    /// Whether it may be what is jogged or rested between repetitions.
    fn is_of_reps(&self, before: &str, after: &str) -> bool {
        let between = has_word(before, &BETWEEN) || has_word(after, &BETWEEN) || before == "r";
        let part = format!("{before} {after}");
        // "2m jog, 6 x 400, 2m jog": the second is the end of the run, as the first is its beginning.
        let is_begun = || {
            const MARKS: [char; 3] = [',', ';', '+'];
            let own = self.line[self.start..].split(MARKS).next().map(str::trim);
            let mut begun = self.front().split(MARKS).map(str::trim).take_while(|part| !has_reps(part));
            begun.any(|part| starts(part).any(|part| Some(part) == own))
        };
        let is_last = !has_reps(self.behind()) && !is_named(self.behind());
        let ends_as_begun = is_last && !part.trim().is_empty() && is_begun();
        if has_reps(before) || (between && has_reps(self.front()) && !is_named(&part) && !ends_as_begun) {
            return true;
        }
        let is_bare = before.is_empty() && after.is_empty();
        let front = self.front().trim_end();
        let in_front = front.strip_suffix([',', ';', '(']).unwrap_or_default();
        let last = PARTING.iter().filter_map(|mark| in_front.rfind(mark).map(|at| at + mark.len())).max();
        is_bare && self.most < LONGER_THAN_A_REST && has_reps(&in_front[last.unwrap_or_default()..])
    }
}

/// The number at the end of a text, and where it begins.
fn number(text: &str) -> Option<(usize, f64)> {
    let start = text.trim_end_matches(|one: char| one.is_ascii_digit() || one == '.').len();
    let digits = &text[start..];
    let begins = digits.starts_with(|first: char| first.is_ascii_digit());
    digits.parse().ok().filter(|_| begins && !digits.ends_with('.')).map(|number| (start, number))
}

fn has_reps(words: &str) -> bool {
    starts(words).any(|words| starts_with_reps(Text::new(words)))
}

/// "gym 20m": minutes, or nobody knows. What loosens up beside a warm-up is none: "2m w/u with drills".
fn is_other_sport(part: &str) -> bool {
    let is_other = |words: &str| {
        take_kind(&mut Text::new(words))
            .is_some_and(|(kind, _)| !kind.is_running() && (kind != Kind::Mobility || !is_named(part)))
    };
    starts(part).any(is_other)
}

/// The words of a text, each with all that stands behind it.
fn starts(words: &str) -> impl Iterator<Item = &str> {
    std::iter::once(0).chain(words.match_indices(' ').map(|(at, _)| at + 1)).map(|at| &words[at..])
}

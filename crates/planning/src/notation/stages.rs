//! A run whose stages are set apart by strokes or arrows: "WU 3k / 5x1km T (2' walk) / CD 2k", "2k wu → 5k tempo → 2k cd".
//!
//! Such a line says the same as one with commas, and is made one before it is cut, so that brackets stay with the stage
//! behind which they stand. Where no warm-up or cool-down is named, a stroke means something else as often as not ("6/8",
//! "10E/6E", "gym / 8E"): those lines are read elsewhere, see [`super::unparted`] and [`super::doubles`].

use std::borrow::Cow;

use super::around::{is_around, is_named, names_both};
use super::line::{Aside, apart_from_notes, cut};

/// What parts stages, with the longer of those that begin alike first.
const MARKS: [&str; 8] = ["-->", "->", "=>", ">", "\u{2192}", "/", "|", "\\"];

/// Strokes that part stages only between spaces: "8-10 km" is a range.
const DASHES: [&str; 3] = [" - ", " \u{2013} ", " \u{2014} "];

/// What stands between two stages.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    /// A stroke or an arrow between spaces.
    Spaced,
    /// One that stands right at a word.
    Close,
    /// A dash between spaces.
    Dash,
    /// A comma and its like: parts in any line.
    Comma,
}

/// A stage, with the mark in front of it.
struct Stage<'a> {
    mark: Mark,
    /// The mark and the stage as they were typed.
    typed: &'a str,
    /// The stage alone.
    text: &'a str,
    /// Its words outside of brackets and quotes.
    words: String,
}

/// The line with commas between stages that strokes or arrows set apart.
pub(super) fn parted(line: &str) -> Cow<'_, str> {
    let may_be_parted =
        line.contains(['/', '|', '>', '\u{2192}', '\\']) || DASHES.iter().any(|dash| line.contains(dash));
    // Hardly a line of a week holds one: no work for the others. What cannot be cut is told as it was typed.
    if !may_be_parted || !is_named(line) || cut(line).is_err() {
        return Cow::Borrowed(line);
    }
    let stages = stages(line);
    let around: Vec<bool> = stages.iter().map(|stage| is_around(&stage.words)).collect();
    if !around.contains(&true) {
        return Cow::Borrowed(line);
    }
    let begins_with_number = |words: &str| words.starts_with(|first: char| first.is_ascii_digit());
    let parts = |at: usize| {
        let (before, behind) = (&stages[at - 1], &stages[at]);
        let is_empty = before.words.is_empty() || behind.words.is_empty();
        let is_beside = around[at - 1] || around[at];
        match behind.mark {
            Mark::Comma => false,
            // "2 km wu/cd" names both at once.
            _ if is_empty || names_both(&format!("{}/{}", before.words, behind.words)) => false,
            Mark::Spaced => true,
            Mark::Close => is_beside,
            Mark::Dash => is_beside || begins_with_number(&behind.words),
        }
    };
    // "2k wu / drills + strides / 6x400 / 2k cd": what is done before the work is no session of its own.
    let is_inside = |at: usize| {
        let stage = &stages[at];
        let joins = stage.typed.starts_with('+') && !stage.words.contains(|one: char| one.is_ascii_digit());
        joins && at > 1 && at + 1 < stages.len() && parts(at - 1) && parts(at + 1)
    };
    let mut parted = String::with_capacity(line.len());
    for (at, stage) in stages.iter().enumerate() {
        if at > 0 && (parts(at) || is_inside(at)) {
            parted.truncate(parted.trim_end().len());
            parted.push_str(", ");
            parted.push_str(stage.text.trim_start());
        } else {
            parted.push_str(stage.typed);
        }
    }
    Cow::Owned(parted)
}

/// The stages of a line; brackets and quotes belong to the stage in which they stand.
fn stages(line: &str) -> Vec<Stage<'_>> {
    let mut stages = Vec::new();
    let (mut mark, mut typed_from, mut from) = (Mark::Comma, 0, 0);
    let mut words = String::new();
    let mut at = 0;
    while let Some(next) = line[at..].chars().next() {
        if let Some((next_mark, length)) = mark_at(line, at) {
            let (typed, text) = (&line[typed_from..at], &line[from..at]);
            stages.push(Stage { mark, typed, text, words: std::mem::take(&mut words).trim().to_owned() });
            (mark, typed_from, from) = (next_mark, at, at + length);
            at += length;
            continue;
        }
        at = if let Some(aside) = Aside::at(line, at) {
            aside.end
        } else {
            words.push(next);
            at + next.len_utf8()
        };
    }
    let (typed, text) = (&line[typed_from..], &line[from..]);
    stages.push(Stage { mark, typed, text, words: words.trim().to_owned() });
    stages
}

/// The mark that stands at a place of a line, with its length.
fn mark_at(line: &str, at: usize) -> Option<(Mark, usize)> {
    let here = &line[at..];
    if here.starts_with([',', ';', '+']) {
        return Some((Mark::Comma, 1));
    }
    if let Some(dash) = DASHES.iter().find(|dash| here.starts_with(**dash)) {
        return Some((Mark::Dash, dash.len()));
    }
    let mark = MARKS.iter().find(|mark| here.starts_with(**mark))?;
    let (before, behind) = (&line[..at], &here[mark.len()..]);
    // "w/u", "w/ 2' jog" and "c/d" are one word.
    let ends_in_letter = |letter: char| {
        let rest = before.strip_suffix([letter, letter.to_ascii_uppercase()]);
        rest.is_some_and(|rest| !rest.ends_with(char::is_alphabetic))
    };
    if *mark == "/" && (ends_in_letter('w') || ends_in_letter('c')) {
        return None;
    }
    let is_spaced = before.ends_with(' ') && behind.starts_with(' ');
    Some((if is_spaced { Mark::Spaced } else { Mark::Close }, mark.len()))
}

/// The line with a comma for a full stop between two of its parts, and "2 km w/u + c/d" as both: "6 x 1k, 90s jog. 2.5k w/u +
/// c/d". Up to the first bracket or quote; what stands in front of the first number is a heading.
pub(super) fn sentences_parted(line: &str) -> Cow<'_, str> {
    const SHORT: [&str; 8] = ["incl", "inc", "rec", "ges", "w", "min", "ca", "approx"];
    const BOTH: [(&str, &str); 3] = [("w/u + c/d", "w/u & c/d"), ("wu + cd", "wu & cd"), ("w/u + w/d", "w/u & w/d")];
    let (front, behind) = apart_from_notes(line);
    if !front.contains(". ") && !front.contains(" + ") {
        return Cow::Borrowed(line);
    }
    let is_stop = |at: usize| {
        let before = &front[..at];
        let word = before.rsplit(|one: char| !one.is_alphabetic()).next().unwrap_or_default();
        let goes_on = front[at + 2..].trim_start().starts_with(|one: char| one.is_ascii_digit());
        let has_number = before.contains(|one: char| one.is_ascii_digit());
        word.len() > 1 && goes_on && has_number && !SHORT.iter().any(|short| word.eq_ignore_ascii_case(short))
    };
    let mut parted = front.to_owned();
    for (at, _) in front.match_indices(". ").filter(|(at, _)| is_stop(*at)) {
        parted.replace_range(at..=at, ",");
    }
    for (two, both) in BOTH {
        let Some(at) = parted.find(two) else { continue };
        let has_amount = parted[..at]
            .trim_end()
            .rsplit(' ')
            .next()
            .is_some_and(|word| word.contains(|one: char| one.is_ascii_digit()));
        let ends = parted[at + two.len()..].trim().is_empty();
        if has_amount && ends && !parted[..at].trim_end().ends_with(',') {
            parted.replace_range(at..at + two.len(), both);
        }
    }
    if parted == front { Cow::Borrowed(line) } else { Cow::Owned(parted + behind) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stages_are_parted_where_a_warm_up_or_a_cool_down_is_named_and_nowhere_else() {
        for (line, commas) in [
            ("WU 3k / 5x1km T (2' walk) / CD 2k", "WU 3k, 5x1km T (2' walk), CD 2k"),
            ("WU 3k/5x3'/2'/CD 2k", "WU 3k, 5x3'/2', CD 2k"),
            ("2k wu -> 5k tempo -> 2k cd", "2k wu, 5k tempo, 2k cd"),
            ("2k wu - 5k tempo - 2k cd", "2k wu, 5k tempo, 2k cd"),
            ("3 w/u / 12x400 w/ 60s / 2 c/d", "3 w/u, 12x400 w/ 60s, 2 c/d"),
            ("2k wu | 3x1k T (1') | 4x200 | 2k cd", "2k wu, 3x1k T (1'), 4x200, 2k cd"),
        ] {
            assert_eq!(parted(line), commas, "{line}");
        }
        for line in [
            "6/8",
            "10E/6E",
            "gym / 8E",
            "walk/jog 30",
            "2 km wu/cd, 6 x 800 m, 9 km",
            "6 x 800 m (wu / cd), 9 km",
            "10 km (\")wu / cd\")",
            "10 km (wu \") or 8 km (\"wu / 2 cd\")",
            "10 km \"wu / cd\"",
            "2k wu / 5k (tempo / 2k cd",
            "10 km w/ club",
            "8-10 km",
            "5x3'/2', wu 2 km, cd 2 km",
        ] {
            assert_eq!(parted(line), line);
        }
    }
}

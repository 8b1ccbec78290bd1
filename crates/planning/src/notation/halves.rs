//! The halves of a day of which one is told in a way of its own: "AM easy 6, PM 3 + 8 @ 4:12 + 3", "AM 6, PM 16: 4E/8M/4E".
//!
//! Each half is told in words as a line of its own would be, and a "+" among the numbers of one run parts no sessions; the
//! file `doubles` parts the halves.

use std::borrow::Cow;
use std::ops::Range;

use super::around::one_run;
use super::doubles::{half, half_behind, may_tell_half};
use super::line::{aside_spans, cut, written};
use super::text::place;
use super::{letters, spelled, stages};
use crate::units::DistanceUnit;

/// The line with each half in words; nearly every line stays as it is.
pub(super) fn spelled(line: &str, units: DistanceUnit) -> Cow<'_, str> {
    let names_long = || line.split(' ').any(|word| half(word).is_some());
    if !may_tell_half(line) && !names_long() {
        return Cow::Borrowed(line);
    }
    let mut told = String::new();
    let mut from = 0;
    for of_half in runs(line) {
        if let Some(one) = in_words(&line[of_half.clone()], units) {
            told.push_str(&line[from..of_half.start]);
            told.push_str(&one);
            // "2 + 5T + 2pm"
            if line[of_half.end..].starts_with(char::is_alphabetic) {
                told.push(' ');
            }
            from = of_half.end;
        }
    }
    if from == 0 { Cow::Borrowed(line) } else { Cow::Owned(told + &line[from..]) }
}

/// What stands behind each word for a half of the day, or in front of it where none of them begins the line.
fn runs(line: &str) -> Vec<Range<usize>> {
    const MARKS: [char; 9] = [' ', ',', ';', '/', '|', '&', '+', ':', '-'];
    let aside = aside_spans(line);
    let is_word = |word: &&str| {
        let at = place(line, word);
        aside.iter().all(|span| !span.contains(&at))
    };
    let bare = |word: &str| word.trim_end_matches([',', ';']).to_owned();
    let mut halves: Vec<Range<usize>> = Vec::new();
    let mut leads = false;
    for word in line.split(' ').filter(|word| !word.is_empty()).filter(is_word) {
        let at = place(line, word);
        let is_first = line[..at].trim().is_empty();
        // "AM3", "3pm"
        let number =
            |rest: &str| rest.starts_with(|one: char| one.is_ascii_digit()) && !rest.contains(char::is_alphabetic);
        let attached =
            |half: Option<&str>, rest: Option<&str>| half.and_then(half_behind).is_some() && rest.is_some_and(number);
        let end = bare(word).len();
        let is_half = half(&bare(word)).is_some_and(|_| is_first || leads) || half_behind(&bare(word)).is_some();
        let found = if is_half {
            Some(at..at + word.len())
        } else if attached(word.get(..2), word.get(2..)) {
            Some(at..at + 2)
        } else if end > 2 && attached(word.get(end - 2..end), word.get(..end - 2)) {
            Some(at + end - 2..at + end)
        } else {
            None
        };
        leads |= is_first && found.as_ref().is_some_and(|half| half.start == at);
        halves.extend(found);
    }
    if halves.is_empty() {
        return Vec::new();
    }
    let from = if leads { None } else { Some(0) };
    let until = leads.then_some(line.len());
    let starts = from.into_iter().chain(halves.iter().map(|half| half.end));
    let ends = halves.iter().skip(usize::from(leads)).map(|half| half.start).chain(until);
    let trimmed = |(start, end): (usize, usize)| {
        let run = line[start..end].trim_start_matches(MARKS);
        let start = end - run.len();
        start..start + run.trim_end_matches(MARKS).len()
    };
    starts.zip(ends).map(trimmed).collect()
}

/// The words of one half as they are told in words; nothing where they stay.
fn in_words(words: &str, units: DistanceUnit) -> Option<String> {
    // "PM (3 + 8 @ 4:12 + 3)"
    let inside = words.strip_prefix('(').and_then(|words| words.strip_suffix(')'));
    let words = inside.filter(|words| !words.contains(['(', ')'])).unwrap_or(words);
    let told = letters::spelled(words, units);
    let told = spelled::numbers(&told);
    let told = stages::parted(&told);
    if told == words { in_one(words) } else { Some(told.into_owned()) }
}

/// The one run that words tell by its numbers, and what is done besides; nothing where they tell several or have no "+".
fn in_one(words: &str) -> Option<String> {
    if !words.contains('+') {
        return None;
    }
    let slots = cut(words).ok()?;
    let all = slots.len();
    let told = one_run(slots);
    (told.len() < all).then(|| written(&told))
}

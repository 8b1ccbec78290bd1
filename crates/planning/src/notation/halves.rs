//! The halves of a day of which one is told by its numbers: "AM easy 6, PM 3 + 8 @ 4:12 + 3".
//!
//! There a "+" parts no sessions. Such a half is made one run, its parts behind each other, before the line is cut; the
//! file `doubles` parts the halves.

use std::borrow::Cow;
use std::ops::Range;

use super::around::one_run;
use super::doubles::{half, half_behind};
use super::line::{aside_spans, cut, written};
use super::sums;

/// The line with each half that is one run by its numbers told as one; nearly every line stays as it is.
pub(super) fn spelled(line: &str) -> Cow<'_, str> {
    if !line.contains('+') || line.bytes().filter(u8::is_ascii_digit).count() < 3 {
        return Cow::Borrowed(line);
    }
    let mut told = String::new();
    let mut from = 0;
    for of_half in runs(line) {
        if let Some(one) = in_one(&line[of_half.clone()]) {
            told.push_str(&line[from..of_half.start]);
            told.push_str(&one);
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
        let is_first = line[..place(line, word)].trim().is_empty();
        let is_half = half(&bare(word)).is_some_and(|_| is_first || leads) || half_behind(&bare(word)).is_some();
        leads |= is_half && is_first;
        halves.extend(is_half.then(|| place(line, word)..place(line, word) + word.len()));
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

/// Where a word of a line begins.
fn place(line: &str, word: &str) -> usize {
    word.as_ptr() as usize - line.as_ptr() as usize
}

/// The one run that words tell by its numbers, and what is done besides; nothing where they tell several or have no "+".
fn in_one(words: &str) -> Option<String> {
    if !words.contains('+') {
        return None;
    }
    // "PM (3 + 8 @ 4:12 + 3)"
    let inside = words.strip_prefix('(').and_then(|words| words.strip_suffix(')'));
    let words = inside.filter(|words| !words.contains(['(', ')'])).unwrap_or(words);
    if let Cow::Owned(told) = sums::spelled(words) {
        return Some(told);
    }
    let slots = cut(words).ok()?;
    (3..=slots.len()).rev().find_map(|until| {
        let (run, besides) = slots.split_at(until);
        let one = one_run(run.to_vec());
        (one.len() == 1).then(|| written(&[one, besides.to_vec()].concat()))
    })
}

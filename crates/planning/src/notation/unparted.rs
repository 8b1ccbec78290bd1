//! A run that is told by its parts without anything between them: "2 wu 5 t 2 cd", "3 up 20' tempo 2 down", "3E/4T/3E",
//! "6 x 800 2 up 2 down".

use super::amounts::RawAmount;
use super::around::{is_around, is_named, is_told_by_parts};
use super::kinds::take_kind;
use super::line::{Part, Parts};
use super::sets::{TIMES, starts_with_reps};
use super::text::Text;
use crate::session::Kind;

/// What stands for a warm-up in front and for a cool-down behind, where the other stands too.
const UP: &str = "up";
const DOWN: &str = "down";
const DOWNS: [&str; 2] = [DOWN, "dn"];

/// Parts words that hold a whole run by its parts; everything else stays as it is.
pub(super) fn by_parts(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let in_session = |parts: Parts| {
        let parts: Parts = parts.into_iter().flat_map(whole_apart).flat_map(pair_apart).collect();
        up_and_down(parts).into_iter().flat_map(apart).collect()
    };
    slots.into_iter().map(|slot| slot.into_iter().map(in_session).collect()).collect()
}

/// Parts the whole from the parts in front of it: "2 up 20 min T 1 down 6.5".
fn whole_apart(part: Part) -> Parts {
    let places = part.words.match_indices(' ').map(|(at, _)| (&part.words[..at], &part.words[at + 1..]));
    let is_behind = |(front, whole): &(&str, &str)| {
        let ends_part = ends_with_down(front) || front.split(' ').next_back().is_some_and(is_named);
        is_bare(whole) && ends_part && pieces(front).is_some()
    };
    let Some((front, whole)) = places.into_iter().find(is_behind) else { return vec![part] };
    let whole = Part { words: whole.to_owned(), ..Part::default() };
    vec![Part { words: front.to_owned(), ..part.clone() }, whole]
}

fn ends_with_down(words: &str) -> bool {
    words.rsplit(' ').next().is_some_and(|last| DOWNS.iter().any(|down| last.eq_ignore_ascii_case(down)))
}

/// Parts a warm-up and a cool-down from each other, and from what stands in front: "8 x 800 2 up 2 down", "2k wu 2k cd".
fn pair_apart(part: Part) -> Parts {
    let words = part.words.as_str();
    let last = words.rsplit(|next: char| !next.is_alphabetic()).next().unwrap_or_default();
    let is_down = DOWNS.iter().any(|down| last.eq_ignore_ascii_case(down));
    if !is_down && (!is_named(words) || is_around(words)) {
        return vec![part];
    }
    let starts = std::iter::once(0).chain(words.match_indices(' ').map(|(at, _)| at + 1));
    let pair = |start: usize| if is_down { up_down(&words[start..]) } else { warm_cool(&words[start..]) };
    let Some((start, [warm, cool])) = starts.into_iter().find_map(|start| Some((start, pair(start)?))) else {
        return vec![part];
    };
    let of = |words: String| Part { words, ..Part::default() };
    let front = Part { words: words[..start].trim_end().to_owned(), ..part.clone() };
    if front.words.is_empty() {
        return vec![Part { words: warm, ..front }, of(cool)];
    }
    vec![front, of(warm), of(cool)]
}

/// "2 up 2 down", "2 up/2 down", "2 km up and down".
fn up_down(words: &str) -> Option<[String; 2]> {
    let mut text = Text::new(words);
    let amount = |text: &mut Text<'_>| {
        let start = *text;
        matches!(RawAmount::take(text), Ok(Some(_))).then(|| text.since(&start).to_owned())
    };
    let up = amount(&mut text)?;
    text.take_phrase(UP).then_some(())?;
    text.take_any_phrase(&["and", "&", "/"]);
    let down = if { text }.take_any_phrase(&DOWNS) { up.clone() } else { amount(&mut text)? };
    (text.take_any_phrase(&DOWNS) && text.is_done()).then(|| [format!("{up} warm up"), format!("{down} cool down")])
}

/// "2k wu 2k cd", "wu 2k cd 2k": each is told as the other is.
fn warm_cool(words: &str) -> Option<[String; 2]> {
    let begins_with_number = |words: &str| words.starts_with(|first: char| first.is_ascii_digit());
    // "2 wu 5 t 2 cd" has something between them.
    let numbers = |words: &str| {
        words.split(|next: char| !matches!(next, '0'..='9' | '.' | ',' | '-')).filter(|one| !one.is_empty()).count()
    };
    let is_told = |words: &str| is_around(words) && numbers(words) < 2;
    let is_one = |(one, other): &(&str, &str)| {
        is_told(one) && is_told(other) && begins_with_number(one) == begins_with_number(other)
    };
    let places = words.match_indices(' ').map(|(at, _)| (&words[..at], &words[at + 1..]));
    places.into_iter().find(is_one).map(|(one, other)| [one.to_owned(), other.to_owned()])
}

/// "2 up, 4 x 1 mi, 2 down".
fn up_and_down(mut parts: Parts) -> Parts {
    // "Tempo: 2 up, 4 @ 6:40, 1 down": the kind is that of the middle.
    if let [first, middle, last] = parts.as_mut_slice()
        && let Some((kind, up)) = first.words.split_once(": ")
        && as_phrase(up, UP, "").is_some()
        && as_phrase(&last.words, DOWN, "").is_some()
    {
        middle.words = format!("{kind} {}", middle.words);
        first.words = up.to_owned();
    }
    // "2 up, 20 min T, 1 down, 6.5": a number before or behind all of them is the whole.
    let is_told = |part: &Part| as_phrase(&part.words, UP, "").is_some();
    let from = parts.iter().take(2).position(is_told).unwrap_or_default();
    let until = parts.len() - usize::from(parts.len() > 3 && parts.last().is_some_and(|last| is_bare(&last.words)));
    let is_whole_in_front = from == 0 || is_bare(&parts[0].words);
    if let Some([first, .., last]) = parts.get_mut(from..until).filter(|_| is_whole_in_front)
        && let (Some(up), Some(down)) =
            (as_phrase(&first.words, UP, "warm up"), as_phrase(&last.words, DOWN, "cool down"))
    {
        (first.words, last.words) = (up, down);
    }
    parts
}

/// Whether words are a warm-up told as "2 up".
pub(super) fn is_up(words: &str) -> bool {
    as_phrase(words, UP, "").is_some()
}

/// Whether words are a cool-down told as "2 down".
pub(super) fn is_down(words: &str) -> bool {
    as_phrase(words, DOWN, "").is_some()
}

/// "2 up" as "2 warm up".
fn as_phrase(words: &str, short: &str, phrase: &str) -> Option<String> {
    let until = words.len().checked_sub(short.len()).filter(|until| words.is_char_boundary(*until))?;
    let (before, last) = words.split_at(until);
    let mut text = Text::new(before);
    let is_amount = matches!(RawAmount::take(&mut text), Ok(Some(_))) && text.is_done();
    (last.eq_ignore_ascii_case(short) && is_amount).then(|| format!("{before}{phrase}"))
}

/// "15-20-10 tempo", "15/25/10 tempo": how long it is run easily, hard, easily.
fn three_numbers(words: &str) -> Option<Vec<String>> {
    let until =
        words.find(|next: char| !next.is_ascii_digit() && !matches!(next, '.' | '-' | '\u{2013}' | '/' | '\''))?;
    let mut parts = words[..until].split(['-', '\u{2013}', '/']);
    let [one, two, three] = [parts.next()?, parts.next()?, parts.next()?];
    let kind = words[until..].trim();
    let mut text = Text::new(kind);
    let (named, _) = take_kind(&mut text)?;
    let is_even = matches!(named, Kind::Tempo | Kind::RacePace) && text.is_done();
    let all = parts.next().is_none()
        && [one, two, three].iter().all(|part| part.starts_with(|one: char| one.is_ascii_digit()));
    (is_even && all).then(|| vec![format!("{one} warm up"), format!("{two} {kind}"), format!("{three} cool down")])
}

fn apart(part: Part) -> Parts {
    let Some(pieces) = pieces(&part.words) else { return vec![part] };
    // What stands in brackets was typed behind the last of them, and is about the middle one where that is sets.
    let holder = pieces.iter().position(|words| starts_with_reps(Text::new(words))).unwrap_or(pieces.len() - 1);
    let of = |(at, words): (usize, String)| {
        let rest = if at == holder { part.clone() } else { Part::default() };
        Part { words, ..rest }
    };
    pieces.into_iter().enumerate().map(of).collect()
}

/// The pieces of words that are a run by its parts.
fn pieces(words: &str) -> Option<Vec<String>> {
    // Hardly a line of a week is one: no work for the others.
    let begins = words.starts_with(|first: char| first.is_ascii_digit() || matches!(first, 'w' | 'W'));
    if !begins
        || !words.contains([' ', '/', '-', '\u{2013}'])
        || (is_around(words) && !words.contains(['/', '-', '\u{2013}', '>', '\u{2192}']))
    {
        return None;
    }
    if let Some(three) = three_numbers(words) {
        return Some(three);
    }
    if !words.contains([' ', '/']) {
        return None;
    }
    let spaced = words.replace('/', " / ");
    let is_mark = |word: &&str| matches!(*word, "/" | "|" | "-" | "\u{2013}" | ">" | "->" | "\u{2192}");
    let is_name = |word: &str| ["wu", "cd"].iter().any(|one| word.eq_ignore_ascii_case(one));
    let is_led = {
        let mut ends = words.rsplit(' ');
        ends.next().is_some_and(is_bare) && ends.next().is_some_and(is_name) && words.get(..2).is_some_and(is_name)
    };
    let divided = spaced.contains(" / ") || spaced.contains(" | ");
    let mut pieces: Vec<String> = Vec::new();
    let mut is_full = true;
    for word in spaced.split(' ').filter(|word| !word.is_empty()) {
        if is_mark(&word) {
            is_full = true;
            continue;
        }
        let starts = word.starts_with(|first: char| first.is_ascii_digit());
        let bare = word.trim_end_matches(|one: char| one.is_ascii_digit());
        // "wu 2 6x400 cd 2": each is told with its number behind.
        let is_behind = is_led && pieces.last().is_some_and(|piece| is_name(piece)) && is_bare(word);
        if let Some(piece) = pieces.last_mut().filter(|_| is_behind) {
            piece.push(' ');
            piece.push_str(word);
            is_full = true;
            continue;
        }
        let is_unnumbered = ["wu", "cd"].iter().any(|one| bare.eq_ignore_ascii_case(one)) && is_full;
        match pieces.last_mut() {
            Some(piece) if !((starts && is_full) || is_unnumbered) => {
                piece.push(' ');
                piece.push_str(word);
            }
            _ => pieces.push(word.to_owned()),
        }
        is_full = pieces.last().is_some_and(|piece| is_whole(piece));
    }
    let last = pieces.len().checked_sub(1).filter(|last| *last > 1)?;
    spell(&mut pieces, last);
    // "20'/15' T/10'": what stands around the hard part.
    if divided && last == 2 {
        for (at, phrase) in [(0, "warm up"), (last, "cool down")] {
            if is_bare(&pieces[at]) {
                pieces[at] = format!("{} {phrase}", pieces[at]);
            }
        }
    }
    is_told_by_parts(&pieces).then_some(pieces)
}

fn is_bare(piece: &str) -> bool {
    let mut text = Text::new(piece);
    matches!(RawAmount::take(&mut text), Ok(Some(_))) && text.is_done()
}

/// Whether a piece says what it is, so that the next number begins another.
fn is_whole(piece: &str) -> bool {
    let mut text = Text::new(piece);
    // "5 x" of "5 x 1 km" is not yet one.
    if starts_with_reps(text) || is_around(piece) {
        return !piece.ends_with(TIMES);
    }
    matches!(RawAmount::take(&mut text), Ok(Some(_))) && !text.is_done()
}

/// "3 up … 2 down" is a warm-up and a cool-down.
fn spell(pieces: &mut [String], last: usize) {
    let ends = |piece: &str, word: &str| piece.to_ascii_lowercase().ends_with(&format!(" {word}"));
    if ends(&pieces[0], UP) && ends(&pieces[last], DOWN) {
        for (at, word, phrase) in [(0, UP, "warm up"), (last, DOWN, "cool down")] {
            let until = pieces[at].len() - word.len();
            pieces[at].replace_range(until.., phrase);
        }
    }
}

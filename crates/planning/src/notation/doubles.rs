//! Two sessions of a day that no "+" parts: "AM 6 easy, PM 8 easy", "6 km am, 8 km pm", "easy 8 km and strength".

use super::amounts::RawAmount;
use super::around::is_around;
use super::line::{Note, Part, Parts, cut};
use super::read::{starts_with_reps, take_kind};
use super::text::Text;
use crate::session::{Kind, Session};

const SHORT: [&str; 4] = ["am", "a.m", "pm", "p.m"];
const LONG: [&str; 3] = ["morning", "afternoon", "evening"];

fn half(word: &str) -> Option<&str> {
    let bare = word.trim_end_matches([':', '.', '-']);
    SHORT.iter().chain(&LONG).any(|half| bare.eq_ignore_ascii_case(half)).then_some(bare)
}

/// The same where it stands behind: "in the morning" is a note.
fn half_behind(word: &str) -> Option<&str> {
    half(word).filter(|bare| SHORT.iter().any(|half| bare.eq_ignore_ascii_case(half)))
}

/// Parts the slots of a line where another half of the day begins; the word for it stays as a note.
pub(super) fn by_halves(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let first_word = slots.first().and_then(|slot| slot.first()?.first()?.words.split(' ').next());
    let leads = first_word.is_some_and(|word| half(word).is_some());
    let named = |part: &Part| part.words.split(' ').any(|word| half(word).is_some());
    if !slots.iter().flatten().flatten().any(named) {
        return slots;
    }
    let mut parted = Vec::with_capacity(slots.len());
    for slot in slots {
        match <[Parts; 1]>::try_from(slot) {
            Ok([parts]) if leads => parted.extend(led(parts).into_iter().map(|parts| vec![parts])),
            Ok([parts]) => parted.extend(followed(parts).into_iter().map(|parts| vec![parts])),
            Err(slot) => parted.push(slot),
        }
    }
    parted
}

/// Whether a note tells of two runs of a day, "14 km (AM 8 km, PM 6 km)": as a note it would stay when a block
/// shortens what it speaks of.
pub(super) fn tells_halves(session: &Session, note: &str) -> bool {
    let has_half = note.split(' ').any(|word| half(word).is_some());
    let is_run = |parts: &[Parts]| {
        let words = parts.first().and_then(|parts| parts.first()).map_or("", |part| part.words.as_str());
        let mut text = Text::new(words);
        take_kind(&mut text);
        matches!(RawAmount::take(&mut text), Ok(Some(_)))
    };
    session.kind.is_running()
        && has_half
        && cut(note).is_ok_and(|slots| by_halves(slots).iter().filter(|slot| is_run(slot)).count() > 1)
}

/// "AM 6 easy, PM 8 easy": each session behind its half.
fn led(parts: Parts) -> Vec<Parts> {
    let mut sessions: Vec<Parts> = vec![Vec::new()];
    for part in parts {
        let words: Vec<&str> = part.words.split(' ').collect();
        let starts: Vec<usize> = (0..words.len()).filter(|at| half(words[*at]).is_some()).collect();
        if starts.is_empty() {
            sessions.last_mut().into_iter().for_each(|session| session.push(part.clone()));
            continue;
        }
        let before = tidied(&words[..starts[0]]);
        if !before.is_empty() {
            let session = Part { words: before, ..Part::default() };
            sessions.last_mut().into_iter().for_each(|parts| parts.push(session.clone()));
        }
        for (index, start) in starts.iter().enumerate() {
            let end = starts.get(index + 1).copied().unwrap_or(words.len());
            // What stands in brackets and quotes was typed behind the last of them.
            let rest = if end == words.len() { part.clone() } else { Part::default() };
            let mut session = Part { words: tidied(&words[start + 1..end]), ..rest };
            session.notes.extend(half(words[*start]).map(|half| Note::Half(half.to_owned())));
            sessions.push(vec![session]);
        }
    }
    sessions.retain(|session| !session.is_empty());
    sessions
}

/// "6 km am, 8 km pm": each session in front of its half. Behind a bare number it may be the time of day.
fn followed(parts: Parts) -> Vec<Parts> {
    let mut sessions: Vec<Parts> = vec![Vec::new()];
    for mut part in parts {
        let ends = part.words.rsplit_once(' ').and_then(|(before, last)| {
            let is_clock = before
                .rsplit(' ')
                .next()
                .is_some_and(|word| word.bytes().all(|one| one.is_ascii_digit() || one == b':'));
            half_behind(last)
                .filter(|_| !is_clock)
                .map(|half| (tidied(&before.split(' ').collect::<Vec<_>>()), half.to_owned()))
        });
        let is_last = ends.is_some();
        if let Some((words, half)) = ends {
            part.words = words;
            part.notes.push(Note::Half(half));
        }
        sessions.last_mut().into_iter().for_each(|session| session.push(part.clone()));
        if is_last {
            sessions.push(Vec::new());
        }
    }
    sessions.retain(|session| !session.is_empty());
    sessions
}

/// Words without what parted them from the other half.
fn tidied(words: &[&str]) -> String {
    let is_mark = |word: &&str| matches!(*word, "/" | "|" | "&" | "and" | "then" | "-" | "\u{2013}" | ":");
    let from = words.iter().take_while(|word| is_mark(word)).count();
    let until = words.len() - words[from..].iter().rev().take_while(|word| is_mark(word)).count();
    words[from..until].join(" ")
}

/// Parts the slots of a line where another sport begins: "easy 8 km, gym", "easy 8 km and core 15".
pub(super) fn by_sports(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let mut parted = Vec::with_capacity(slots.len());
    for slot in slots {
        match <[Parts; 1]>::try_from(slot) {
            Ok([parts]) if parts.iter().enumerate().any(|(at, part)| at > 0 || is_joined(&part.words)) => {
                parted.extend(sports(parts).into_iter().map(|parts| vec![parts]));
            }
            Ok([parts]) => parted.push(vec![parts]),
            Err(slot) => parted.push(slot),
        }
    }
    parted
}

/// Words that join what is run or done one after the other.
pub(super) const AND: [&str; 6] = ["and then", "and", "then", "plus", "&", "followed by"];

fn sports(parts: Parts) -> Vec<Parts> {
    let mut sessions: Vec<(Option<Kind>, Parts)> = Vec::new();
    for part in parts {
        for piece in pieces(part) {
            let (words, kind) = begins(&piece.words);
            let words = words.to_owned();
            let (known, all_around) = match sessions.last() {
                Some((known, before)) => (*known, before.iter().all(|part| is_around(&part.words))),
                None => (None, true),
            };
            let other = kind.filter(|kind| !kind.is_running() && !all_around && known != Some(*kind));
            match sessions.last_mut() {
                Some((known, session)) if other.is_none() => {
                    *known = known.or(kind);
                    session.push(piece);
                }
                _ => sessions.push((kind, vec![Part { words, ..piece }])),
            }
        }
    }
    sessions.into_iter().map(|(_, parts)| parts).collect()
}

/// The words without a joining one in front, and the kind that they begin with.
fn begins(words: &str) -> (&str, Option<Kind>) {
    let mut text = Text::new(words);
    text.take_any_phrase(&AND);
    let words = text.left();
    text.skip_space();
    let kind = if starts_with_reps(text) { None } else { take_kind(&mut text).map(|(kind, _)| kind) };
    (words, kind)
}

/// Whether a joining word stands in the words: hardly a line of a week holds one, and every day that is read is looked
/// through.
fn is_joined(words: &str) -> bool {
    words.match_indices(' ').any(|(index, _)| { Text::new(&words[index + 1..]) }.take_any_phrase(&AND))
}

/// A part cut where a joining word stands in front of another sport.
fn pieces(part: Part) -> Vec<Part> {
    let cut = part.words.match_indices(' ').map(|(index, _)| index).find(|index| {
        let behind = &part.words[index + 1..];
        let joined = { Text::new(behind) }.take_any_phrase(&AND);
        joined && begins(behind).1.is_some_and(|kind| !kind.is_running())
    });
    match cut {
        Some(at) => {
            let front = Part { words: part.words[..at].to_owned(), ..Part::default() };
            vec![front, Part { words: part.words[at + 1..].to_owned(), ..part }]
        }
        None => vec![part],
    }
}

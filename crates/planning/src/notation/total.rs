//! The whole of a run or of a day that is called so: "9 total", "2 wu + 5 tempo + 2 cd = 9", "6 x 800 (10k total)".
//!
//! Where one run stands on the line, the total is its whole. Where several do, it must be their sum: it says nothing
//! new, but whoever adds up differently means something else, and is asked.

use super::amounts::RawAmount;
use super::around::is_around;
use super::hardness::names_hardness;
use super::kinds::take_kind;
use super::line::{Note, Part, Parts};
use super::sets::starts_with_reps;
use super::text::Text;
use crate::plain::joined;

/// Words that call an amount a total, longer ones first.
const CALLED: [&[&str]; 13] = [
    &["in", "total"],
    &["in", "all"],
    &["all", "in"],
    &["total:"],
    &["total"],
    &["tot:"],
    &["tot"],
    &["altogether"],
    &["overall"],
    &["ges."],
    &["ges"],
    &["gesamt"],
    &["insgesamt"],
];

/// Takes the total out of a line that is cut: its amount as typed.
pub(super) fn taken(slots: &mut Vec<Vec<Parts>>) -> Option<String> {
    let leads = |slot: usize| slot == 0 && slots.len() > 1;
    let place =
        places(slots).into_iter().find_map(|(slot, at)| Some((slot, at, found(&slots[slot][0][at], leads(slot))?)));
    let (slot, at, (left, total)) = place?;
    let parts = &mut slots[slot][0];
    if left == Part::default() {
        parts.remove(at);
    } else {
        parts[at] = left;
    }
    if parts.is_empty() && slots.len() > 1 {
        slots.remove(slot);
    }
    Some(total)
}

/// Every part of slots without options, by its slot and its place there.
fn places(slots: &[Vec<Parts>]) -> Vec<(usize, usize)> {
    let of = |(slot, options): (usize, &Vec<Parts>)| {
        let parts = if options.len() == 1 { options[0].len() } else { 0 };
        (0..parts).map(move |at| (slot, at))
    };
    slots.iter().enumerate().flat_map(of).collect()
}

/// The slot of one run with its whole: behind parts that are run one after the other, else in front of what it holds.
pub(super) fn with_total(slot: &mut [Parts], total: &str) {
    let whole = Part { words: total.to_owned(), ..Part::default() };
    for parts in slot {
        let in_order = parts.iter().any(|part| is_around(&part.words) || has_reps(&part.words));
        if in_order {
            parts.push(whole.clone());
            continue;
        }
        for part in parts.iter_mut().filter(|part| is_hard_part(&part.words)) {
            part.words = format!("with {}", amount_first(&part.words));
        }
        parts.insert(0, whole.clone());
    }
}

fn has_reps(words: &str) -> bool {
    let mut text = Text::new(words);
    take_kind(&mut text);
    text.skip_space();
    starts_with_reps(text)
}

/// "TDL 8 km in 5:00" as "8 km tempo in 5:00", as hard parts are told inside a whole.
fn amount_first(words: &str) -> String {
    let start = Text::new(words);
    let mut text = start;
    if take_kind(&mut text).is_none() {
        return words.to_owned();
    }
    let kind = text.since(&start).trim_end_matches([':', '-', ' ']);
    let kind = if names_hardness(kind) { kind } else { "tempo" };
    let before = text;
    match RawAmount::take(&mut text) {
        Ok(Some(_)) => joined([text.since(&before), kind, text.left()], " "),
        _ => words.to_owned(),
    }
}

/// "4 tempo", "tempo 4": an amount and a kind of hard running.
fn is_hard_part(words: &str) -> bool {
    let mut text = Text::new(words);
    let in_front = take_kind(&mut text);
    let has_amount = matches!(RawAmount::take(&mut text), Ok(Some(_)));
    let kind = in_front.or_else(|| take_kind(&mut text));
    has_amount && kind.is_some_and(|(kind, _)| kind.assumed_hard().is_some())
}

/// Whether a note would be taken for the total of a day.
pub(super) fn tells_total(note: &str) -> bool {
    in_words(note, false).is_some_and(|(left, _)| left.is_empty())
}

/// Whether an amount among words would be taken for the total of a day: "1 min total".
pub(super) fn names_total(words: &str) -> bool {
    in_words(words, false).is_some()
}

/// A part without its total, and the total. `leads`: more runs stand behind it, as in "10 = 6 + 4".
fn found(part: &Part, leads: bool) -> Option<(Part, String)> {
    if let Some((words, total)) = in_words(&part.words, leads) {
        return Some((Part { words, ..part.clone() }, total));
    }
    let alone = |note: &Note| match note {
        Note::Plain(words) => in_words(words, leads).filter(|(left, _)| left.is_empty()).map(|(_, total)| total),
        Note::Quoted(_) | Note::Half(_) => None,
    };
    let (at, total) = part.notes.iter().enumerate().find_map(|(at, note)| Some((at, alone(note)?)))?;
    let mut left = part.clone();
    left.notes.remove(at);
    Some((left, total))
}

/// Words without their total, and the total.
fn in_words(words: &str, leads: bool) -> Option<(String, String)> {
    if let Some((front, behind)) = words.split_once('=') {
        let (front, behind) = (front.trim(), behind.trim());
        let behind_bare = behind.strip_suffix("total").unwrap_or(behind).trim();
        return match (is_amount(behind_bare), is_amount(front)) {
            (true, is_front) if !(is_front && leads) => Some((front.to_owned(), behind_bare.to_owned())),
            (_, true) => Some((behind.to_owned(), front.to_owned())),
            (_, false) => None,
        };
    }
    let all: Vec<&str> = words.split(' ').collect();
    let (at, end) = (0..all.len()).find_map(|at| {
        CALLED.iter().find_map(|called| {
            let here = all.get(at..at + called.len())?;
            here.iter()
                .zip(*called)
                .all(|(word, wanted)| word.eq_ignore_ascii_case(wanted))
                .then_some((at, at + called.len()))
        })
    })?;
    let behind = if all.get(end).is_some_and(|word| matches!(*word, "of" | ":")) { end + 1 } else { end };
    let until = (behind + 1..=all.len()).rev().find(|until| is_amount(&all[behind..*until].join(" ")));
    match ((0..at).find(|from| is_amount(&all[*from..at].join(" "))), until) {
        (Some(from), None) => {
            let left = [&all[..from], &all[end..]].concat().join(" ");
            // "200 m jog - 8 total": the stroke only parts them.
            let left = left.trim_end_matches([' ', '-', '\u{2013}']).to_owned();
            Some((left, all[from..at].join(" ")))
        }
        (None, Some(until)) => Some(([&all[..at], &all[until..]].concat().join(" "), all[behind..until].join(" "))),
        // "long 20 total 25": one of the two, and nobody knows which.
        (Some(_), Some(_)) | (None, None) => None,
    }
}

fn is_amount(words: &str) -> bool {
    let mut text = Text::new(words);
    matches!(RawAmount::take(&mut text), Ok(Some(_))) && text.is_done()
}

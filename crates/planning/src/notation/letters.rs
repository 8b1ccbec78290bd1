//! A run that is told by its parts, each with the letter of its pace: "16: 4E/8M/4E", "20: 10E/6M/4T", "4E 8M 4E".
//!
//! Beside easy parts an M is the marathon's pace, and no miles. What is told of one hard part by other letters is read
//! elsewhere, see `sums` and `unparted`; here are those of which "M" is one, and those of several hard parts.

use std::borrow::Cow;

use super::amounts::RawAmount;
use super::kinds::take_kind;
use super::text::Text;
use crate::plain::joined;
use crate::session::Kind;
use crate::units::{Amount, DistanceUnit, Milli, Unit};

/// The letters of hard running, as the notation names their paces elsewhere.
const PACES: [(&str, &str); 7] =
    [("gmp", "MP"), ("mp", "MP"), ("m", "MP"), ("hmp", "HMP"), ("hm", "HMP"), ("lt", "T"), ("t", "T")];

/// What parts the parts of a run.
const MARKS: [char; 7] = [' ', '/', '+', ',', '|', '-', '\u{2013}'];

/// The line with its parts in words; nearly every line stays as it is.
pub(super) fn spelled(line: &str, units: DistanceUnit) -> Cow<'_, str> {
    // Two parts have two numbers.
    if line.bytes().filter(u8::is_ascii_digit).count() < 2 || !line.contains(['E', 'e']) {
        return Cow::Borrowed(line);
    }
    let told = told(line, units).or_else(|| {
        // "16: 4E/8M/4E, strides": what is done besides has no number in front.
        let starts = line.match_indices([',', '+']).map(|(at, _)| at);
        let besides = |at: &usize| line[at + 1..].trim_start().starts_with(char::is_alphabetic);
        let (front, besides) = line.split_at(starts.into_iter().find(besides)?);
        Some(format!("{}{}{besides}", told(front.trim_end(), units)?, if besides.starts_with('+') { " " } else { "" }))
    });
    told.map_or(Cow::Borrowed(line), Cow::Owned)
}

/// A part with the number in front of its letter, and its pace; nothing of an easy one.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Told {
    length: Milli,
    pace: Option<&'static str>,
}

fn told(line: &str, units: DistanceUnit) -> Option<String> {
    let aside = line.strip_suffix(')').and_then(|line| line.split_once('('));
    let marked = || [": ", " = "].into_iter().find_map(|mark| line.split_once(mark));
    let (front, letters) = aside.or_else(marked).unwrap_or(("", line));
    let all = parts(letters)?;
    let hard: Vec<(Milli, &str)> = all.iter().filter_map(|part| Some((part.length, part.pace?))).collect();
    let has_letter = |letter: char| letters.split(MARKS).any(|part| part.trim_end().ends_with(letter));
    let is_told_elsewhere = hard.len() == 1 && !(has_letter('M') || has_letter('m'));
    if hard.is_empty() || hard.len() == all.len() || is_told_elsewhere {
        return None;
    }
    let sum: Milli = all.iter().map(|part| part.length).sum();
    let (kind, whole) = whole_of(front, units)?;
    let whole = whole.unwrap_or(Amount::exact(sum, units.unit()));
    if whole != Amount::exact(sum, whole.unit()) || whole.unit() == Unit::Min {
        return None;
    }
    let amount = |length: Milli| Amount::exact(length, whole.unit());
    let reps = || hard.iter().map(|(length, pace)| format!("1 x {} {pace}", amount(*length))).collect::<Vec<_>>();
    let work = match hard.as_slice() {
        [(length, pace)] => format!("{} {pace}", amount(*length)),
        _ => reps().join(", "),
    };
    let easy_at = |part: Option<&Told>| part.filter(|part| part.pace.is_none()).map(|part| amount(part.length));
    let (front, behind) = (easy_at(all.first()), easy_at(all.last()));
    // In the order in which it is run; of a long run, and of what is told in another order, what it holds.
    let is_in_order = all.len() == hard.len() + usize::from(front.is_some()) + usize::from(behind.is_some());
    let is_around = front.is_some() && (behind.is_some() || hard.len() > 1);
    Some(if kind.is_empty() && is_in_order && is_around {
        let warm = front.map(|front| format!("{front} warm up"));
        let cool = behind.map(|behind| format!("{behind} cool down"));
        joined(warm.into_iter().chain([work]).chain(cool).chain([whole.to_string()]), ", ")
    } else if hard.len() == 1 && behind.is_none() {
        joined([kind.to_owned(), format!("{whole}, last {work}")], " ")
    } else {
        joined([kind.to_owned(), format!("{whole} with {work}")], " ")
    })
}

/// The parts that words tell with the letter of each; nothing where they tell anything else.
fn parts(words: &str) -> Option<Vec<Told>> {
    let part = |part: &str| {
        let letter = part.trim_start_matches(|one: char| one.is_ascii_digit() || one == '.');
        let number = RawAmount::take(&mut Text::new(&part[..part.len() - letter.len()])).ok().flatten()?;
        let length = number.in_unit(Unit::Km).ok()?.low();
        let pace = match letter.to_ascii_lowercase().as_str() {
            "e" => None,
            letter => Some(PACES.iter().find(|(name, _)| *name == letter)?.1),
        };
        Some(Told { length, pace })
    };
    let all: Vec<Told> = words.split(MARKS).filter(|word| !word.is_empty()).map(part).collect::<Option<_>>()?;
    (all.len() > 1).then_some(all)
}

/// The kind and the whole in front of the parts, neither of which need be there: "long 20 km".
fn whole_of(front: &str, units: DistanceUnit) -> Option<(&str, Option<Amount>)> {
    let front = front.trim();
    let start = Text::new(front);
    let mut text = start;
    let kind = match take_kind(&mut text) {
        Some((Kind::Long, _)) => text.since(&start).trim_end_matches([':', '-', ' ']),
        Some(_) => return None,
        None => "",
    };
    if text.is_done() {
        return Some((kind, None));
    }
    let whole = RawAmount::take(&mut text).ok().flatten()?.in_unit(units.unit()).ok()?;
    text.is_done().then_some((kind, Some(whole)))
}

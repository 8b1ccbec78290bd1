//! Running and walking by turns: "34 min run 4 walk 1", "17 x (1 run/1 walk)", "run 1 walk 1 x 17".
//!
//! However often they take turns, it is one easy run: its whole is told, or is all turns together. How long each turn is
//! stays a note, without how often, which would not be true of a shorter run.

use super::amounts::RawAmount;
use super::kinds::{has_word, take_kind};
use super::line::{Note, Part, Parts};
use super::sets::{TIMES, take_length};
use super::text::Text;
use crate::session::{SetUnit, Sets};
use crate::units::{Amount, Milli, Unit};

const RUN: [&str; 4] = ["running", "run", "jogging", "jog"];
const WALK: [&str; 2] = ["walking", "walk"];

/// The slots of a line with each run of turns told by its whole.
pub(super) fn told(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    let walks = |part: &Part| {
        let names = |words: &str| words.as_bytes().windows(4).any(|four| four.eq_ignore_ascii_case(b"walk"));
        names(&part.words) || part.notes.iter().any(|note| matches!(note, Note::Plain(words) if names(words)))
    };
    if !slots.iter().flatten().flatten().any(walks) {
        return slots;
    }
    slots.into_iter().map(|slot| slot.into_iter().map(in_session).collect()).collect()
}

/// Whether words are a turn of running and one of walking: "1' run 1' walk".
pub(crate) fn are_turns(words: &str) -> bool {
    Turns::read(words).is_some()
}

fn in_session(mut parts: Parts) -> Parts {
    let Some((at, until, found)) = (0..parts.len()).find_map(|at| {
        let next = parts.get(at + 1);
        let both = next.and_then(|next| Found::in_both(&parts[at], next)).map(|found| (at, at + 2, found));
        both.or_else(|| Found::in_one(&parts[at]).map(|found| (at, at + 1, found)))
    }) else {
        return parts;
    };
    // "5 min walk, 8 x (1 run, 2 walk)": what is walked before it is not its whole.
    let others = parts[..at].iter().chain(&parts[until..]).map(|part| part.words.as_str());
    let others = others.filter(|words| !has_word(words, &WALK));
    let is_told = others.chain([found.front.as_str()]).any(has_amount);
    // "beginners: 8 x (1 run, 2 walk)": a name of the coach's own.
    let name = Some(found.front.clone()).filter(|front| !is_told && !front.is_empty() && !is_kind(front));
    let words = match found.whole {
        _ if is_told => found.front,
        Some(whole) if is_kind(&found.front) => format!("{} {whole}", found.front),
        Some(whole) => format!("easy {whole}"),
        None => return parts,
    };
    let mut part = Part { words, ..parts[until - 1].clone() };
    part.notes.extend(name.map(Note::Quoted));
    part.notes.retain(|note| !matches!(note, Note::Plain(words) if are_turns(words)));
    part.notes.push(Note::Quoted(found.turns));
    parts.splice(at..until, [part]);
    parts
}

/// Whether words are the name of a kind.
fn is_kind(words: &str) -> bool {
    let mut text = Text::new(words);
    take_kind(&mut text).is_some() && text.is_done()
}

/// Whether an amount of a whole stands in words.
fn has_amount(words: &str) -> bool {
    let starts = std::iter::once(0).chain(words.match_indices(' ').map(|(at, _)| at + 1));
    starts.into_iter().any(|at| matches!(RawAmount::take(&mut Text::new(&words[at..])), Ok(Some(_))))
}

/// Turns that were found in a part of a run.
struct Found {
    /// What stands in front of them.
    front: String,
    turns: String,
    /// What all of them come to, where it is told how often.
    whole: Option<Amount>,
}

impl Found {
    /// "17 x (1 run/1 walk)", "(1 run/1 walk) x 17", "34 min run 1 walk 1", "run 1 walk 1 x 17".
    fn in_one(part: &Part) -> Option<Self> {
        let of = |front: &str, reps: Option<u16>, turns: &str| {
            let read = Turns::read(turns)?;
            let whole = reps.map(|reps| read.times(reps).ok_or(())).transpose().ok()?;
            Some(Self { front: without_marks(front).to_owned(), turns: turns.to_owned(), whole })
        };
        if let Some(Note::Plain(turns)) = part.notes.first()
            && let Some((front, reps)) = reps_behind(&part.words).or_else(|| reps_alone(&part.words))
        {
            return of(front, Some(reps), turns);
        }
        // "jog 2 min walk 1 min for 30 min"
        if let Some((turns, whole)) = part.words.rsplit_once(" for ")
            && has_amount(whole)
            && let Some(found) = of(whole, None, turns)
        {
            return Some(found);
        }
        let (words, behind) = match turned_reps(&part.words) {
            Some((words, reps)) => (words, Some(reps)),
            None => (part.words.as_str(), None),
        };
        let starts = std::iter::once(0).chain(words.match_indices(' ').map(|(at, _)| at + 1));
        starts.into_iter().find_map(|at| match reps_behind(&words[..at]) {
            Some((front, reps)) => of(front, Some(reps).filter(|_| behind.is_none()), &words[at..]),
            None => of(&words[..at], behind, &words[at..]),
        })
    }

    /// "40 min, run 4, walk 1", "6 x 3 min run, 2 min walk".
    fn in_both(part: &Part, next: &Part) -> Option<Self> {
        let are_bare = part.quoted.is_empty() && part.notes.is_empty();
        let both = Part { words: format!("{}, {}", part.words, next.words), ..Part::default() };
        are_bare.then(|| Self::in_one(&both)).flatten()
    }
}

/// How long is run and how long is walked, in seconds.
struct Turns {
    run: i64,
    walk: i64,
}

impl Turns {
    fn read(words: &str) -> Option<Self> {
        let mut text = Text::new(words);
        let run = turn(&mut text, &RUN)?;
        text.skip_space();
        text.take_any(&[',', '/', '-', '&', '+', ':']);
        text.take_any_phrase(&["then", "and"]);
        let walk = turn(&mut text, &WALK)?;
        text.is_done().then_some(Self { run, walk })
    }

    /// So many of them; nothing where they come to no tenth of a minute.
    fn times(&self, reps: u16) -> Option<Amount> {
        let seconds = i64::from(reps) * (self.run + self.walk);
        let whole = i32::try_from(seconds * 1000 / 60).ok()?;
        let is_told = reps > 0 && reps <= Sets::MOST && seconds % 6 == 0;
        is_told.then(|| Amount::exact(Milli(whole), Unit::Min))
    }
}

/// "run 4 min", "4 min run", "run 4": its seconds.
fn turn(text: &mut Text<'_>, names: &[&str]) -> Option<i64> {
    let is_led = text.take_any_phrase(names);
    text.take_any_phrase(&["for"]);
    text.skip_space();
    let before = *text;
    let seconds = match take_length(text).ok().flatten() {
        Some((length, SetUnit::Min)) => i64::from(length.0) * 60 / 1000,
        Some((length, SetUnit::S)) => i64::from(length.0) / 1000,
        Some(_) => return None,
        None => {
            *text = before;
            text.take_digits().parse::<i64>().ok()? * 60
        }
    };
    (is_led || text.take_any_phrase(names)).then_some(seconds).filter(|seconds| *seconds > 0)
}

/// What stands in front of turns without the marks and the words that lead to them: "34 min:", "40 min w/".
fn without_marks(front: &str) -> &str {
    let front = front.trim_end_matches([' ', ',', ';', ':', '-', '\u{2013}']);
    let words = front.rsplit(' ').next().unwrap_or_default();
    let is_led = ["w/", "with", "as", "of", "alternating"].iter().any(|led| words.eq_ignore_ascii_case(led));
    if is_led { front[..front.len() - words.len()].trim_end() } else { front }
}

/// "easy 17 x": what stands in front, and how often.
fn reps_behind(words: &str) -> Option<(&str, u16)> {
    let words = words.trim_end().strip_suffix(TIMES)?.trim_end();
    let front = words.trim_end_matches(|one: char| one.is_ascii_digit());
    words[front.len()..].parse().ok().map(|reps| (front, reps))
}

/// "x 17", alone.
fn reps_alone(words: &str) -> Option<(&str, u16)> {
    turned_reps(words).filter(|(front, _)| front.is_empty())
}

/// "run 1 walk 1 x 17": the words, and how often.
fn turned_reps(words: &str) -> Option<(&str, u16)> {
    let (front, reps) = words.rsplit_once(TIMES)?;
    reps.trim().parse().ok().map(|reps| (front.trim_end(), reps))
}

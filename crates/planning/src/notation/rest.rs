//! A day, or a slot of one, on which nobody runs: "rest", "off - travel", "Rest/XT", "off (mobility at home)".

use super::amounts::RawAmount;
use super::kinds::take_kind;
use super::line::{Note, Part, Parts};
use super::text::Text;

const WORDS: [&str; 21] = [
    "rest",
    "rest day",
    "off",
    "day off",
    "off day",
    "complete rest",
    "full rest",
    "no run",
    "no running",
    "-",
    "\u{2013}",
    "\u{2014}",
    "\u{2212}",
    "--",
    "---",
    "none",
    "nil",
    "n/a",
    "0",
    "0 km",
    "0 mi",
];

fn is_word(words: &str) -> bool {
    WORDS.iter().any(|word| words.eq_ignore_ascii_case(word))
}

/// Whether a session is none: a word for rest, and at most why ("Rest - travel").
pub(super) fn is_rest(parts: &Parts) -> bool {
    let says_why = |words: &str| {
        dashed(words).is_some_and(|(rest, why)| {
            is_word(rest) && !why.contains(|one: char| one.is_ascii_digit()) && take_kind(&mut Text::new(why)).is_none()
        })
    };
    matches!(parts.as_slice(), [only] if is_word(&only.words) || says_why(&only.words))
}

fn dashed(words: &str) -> Option<(&str, &str)> {
    [" - ", " \u{2013} ", " \u{2014} ", ": "].into_iter().find_map(|dash| words.split_once(dash))
}

/// Parts the slots that name rest and something else: "Rest/XT" is one or the other, "off - mobility at home" is a day
/// without running on which something is done.
pub(super) fn parted(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    slots.into_iter().map(|slot| apart(&slot).unwrap_or(slot)).collect()
}

fn apart(slot: &[Parts]) -> Option<Vec<Parts>> {
    let [parts] = slot else { return None };
    let [part] = parts.as_slice() else { return None };
    if let Some(done) = beside_rest(part) {
        return Some(vec![vec![done]]);
    }
    let (one, other) = part.words.split_once('/')?;
    let as_parts = |words: &str, part: Part| vec![Part { words: words.trim().to_owned(), ..part }];
    let both = vec![as_parts(one, Part::default()), as_parts(other, part.clone())];
    both.iter().any(is_rest).then_some(both)
}

/// What is done on a day without running, where it is told behind a dash or in brackets: its words would be lost with
/// the rest, which is no session and has no note.
fn beside_rest(part: &Part) -> Option<Part> {
    let (rest, done) = match (dashed(&part.words), part.notes.as_slice()) {
        (Some((rest, done)), []) if part.quoted.is_empty() => (rest, done),
        (None, [Note::Plain(done)]) if part.quoted.is_empty() => (part.words.as_str(), done.as_str()),
        _ => return None,
    };
    let mut text = Text::new(done);
    let (kind, _) = take_kind(&mut text).filter(|_| is_word(rest))?;
    // "rest (gym is closed)" is why.
    let is_denied = ["no", "not", "closed", "cancelled", "canceled", "off"]
        .iter()
        .any(|word| done.split(' ').any(|one| one.eq_ignore_ascii_case(word)));
    if kind.is_running() || is_denied {
        return None;
    }
    let before = text;
    if !matches!(RawAmount::take(&mut text), Ok(Some(_))) {
        text = before;
    }
    let mut notes = vec![Note::Half(rest.to_owned())];
    if !text.is_done() {
        notes.push(Note::Quoted(text.left().to_owned()));
    }
    Some(Part { words: text.since(&Text::new(done)).to_owned(), quoted: Vec::new(), notes })
}

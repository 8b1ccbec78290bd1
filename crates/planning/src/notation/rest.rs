//! A day, or a slot of one, on which nobody runs: "rest", "off - travel", "XT/rest", "Rest (swim if legs heavy)".
//!
//! What stands beside rest are the words of a day of rest, which a block keeps too (`Session::rest_with`): why nobody runs,
//! "rest, physio", or what is done without an amount, and is no running. With an amount it is that session: "off, 30 min
//! swim". Running behind a word for rest is asked about.

use std::borrow::Cow;

use super::amounts::RawAmount;
use super::kinds::take_kind;
use super::line::{Note, Part, Parts, cut};
use super::offer::words_have_unit;
use super::sets::starts_with_reps;
use super::text::Text;
use crate::plain::joined;
use crate::session::Kind;

/// Of coaches who think in another language: words that mean nothing else where they stand alone.
const ELSEWHERE: [&str; 14] = [
    "ruhetag", "frei", "fri", "fridag", "hvile", "hviledag", "vila", "vilodag", "vrij", "rust", "rustdag", "repos",
    "descanso", "riposo",
];

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
    WORDS.iter().chain(&ELSEWHERE).any(|word| words.eq_ignore_ascii_case(word))
}

/// Whether a session is none: a word for rest, and at most why ("Rest - travel").
pub(super) fn is_rest(parts: &Parts) -> bool {
    let says_why = |words: &str| {
        dashed(words).is_some_and(|(rest, why)| {
            // "Fri: club night" is a day of the week.
            let is_day = rest.eq_ignore_ascii_case("fri");
            is_word(rest)
                && !is_day
                && !why.contains(|one: char| one.is_ascii_digit())
                && take_kind(&mut Text::new(why)).is_none()
        })
    };
    matches!(parts.as_slice(), [only] if is_word(&only.words) || says_why(&only.words))
}

/// The words of a day that [`is_rest`], nothing where it has none: "- (physio)".
pub(super) fn words_of(parts: &Parts) -> Option<String> {
    let [only] = parts.as_slice() else { return None };
    let why = dashed(&only.words).filter(|_| !is_word(&only.words)).map(|(_, why)| why.to_owned());
    let words = joined(why.into_iter().chain(aside(only)), ", ");
    (!words.is_empty()).then_some(words)
}

/// What stands in brackets and quotes.
fn aside(part: &Part) -> impl Iterator<Item = String> {
    let notes = part.notes.iter().map(|note| match note {
        Note::Plain(words) | Note::Quoted(words) | Note::Half(words) => words.clone(),
    });
    part.quoted.iter().cloned().chain(notes)
}

fn dashed(words: &str) -> Option<(&str, &str)> {
    [" - ", " \u{2013} ", " \u{2014} ", ": "].into_iter().find_map(|dash| words.split_once(dash))
}

/// Parts the slots that name rest and another sport by a stroke: "XT/rest" is one or the other.
pub(super) fn parted(slots: Vec<Vec<Parts>>) -> Vec<Vec<Parts>> {
    slots.into_iter().map(|slot| apart(&slot).unwrap_or(slot)).collect()
}

fn apart(slot: &[Parts]) -> Option<Vec<Parts>> {
    let [parts] = slot else { return None };
    let [part] = parts.as_slice() else { return None };
    let (one, other) = part.words.split_once('/')?;
    let as_parts = |words: &str, part: Part| vec![Part { words: words.trim().to_owned(), ..part }];
    let both = vec![as_parts(one, Part::default()), as_parts(other, part.clone())];
    both.iter().any(is_rest).then_some(both)
}

/// With these a line of rest begins, longer ones first.
const LEADS: [&str; 25] = [
    "complete rest",
    "full rest",
    "total rest",
    "rest day",
    "day off",
    "off day",
    "no running",
    "no run",
    "rest",
    "off",
    "nowt",
    "nothing",
    "none",
    "nil",
    "ruhetag",
    "frei",
    "hviledag",
    "hvile",
    "vilodag",
    "vila",
    "rustdag",
    "vrij",
    "repos",
    "descanso",
    "riposo",
];

/// How strength is done: "off, lift heavy".
const LOADS: [&str; 3] = ["heavy", "light", "easy"];

/// Letters that stand for a day of rest in many a sheet, and for something else in others: they are asked about.
const CROSSES: [&str; 3] = ["x", "xx", "xxx"];

/// A day that begins with a word for rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Led<'a> {
    /// The word.
    pub(super) rest: &'a str,
    /// What stands behind it, as typed.
    pub(super) behind: &'a str,
}

/// What stands behind a word for rest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Behind<'a> {
    Nothing,
    /// Why, or a kind of training that is no running, of which no amount is told: "swim if legs heavy".
    Words(Cow<'a, str>),
    /// Such training with its amount, "30 min swim", or strength alone.
    Session(&'a str),
    /// Perhaps a run.
    Other,
}

impl<'a> Led<'a> {
    /// A line that begins with a word for rest, behind which something stands that no "or" and no "+" adds.
    pub(super) fn of(line: &'a str) -> Option<Self> {
        Self::behind_any(line, &LEADS)
    }

    /// The same for a line that begins with a cross.
    pub(super) fn by_cross(line: &'a str) -> Option<Self> {
        // "x 800 m" is one of some repetitions, "x-training" another sport.
        let is_alone = |led: &Self| {
            let behind = &line.trim()[led.rest.len()..];
            let goes_on = behind.starts_with(' ') && behind.trim_start().starts_with(char::is_alphanumeric);
            led.behind.is_empty() || !(goes_on || behind.starts_with('-'))
        };
        Self::behind_any(line, &CROSSES).filter(is_alone)
    }

    fn behind_any(line: &'a str, leads: &[&str]) -> Option<Self> {
        let start = Text::new(line.trim());
        let mut text = start;
        if { text }.take_any_phrase(&["off road", "offroad"]) || !text.take_any_phrase(leads) {
            return None;
        }
        let rest = text.since(&start);
        if text.peek().is_some_and(char::is_alphanumeric) {
            return None;
        }
        let marks = ['.', '!', ',', ';', ':', '-', '\u{2013}', '\u{2014}', ' '];
        let behind = text.left().trim_matches(marks);
        // "off am, 6 pm": half a day of rest.
        let is_half = text.left().starts_with(char::is_alphabetic) && { text }
            .take_any_phrase(&["am", "pm", "a.m", "p.m", "morning", "evening"]);
        let adds = { Text::new(behind) }.take_phrase("or") || behind.starts_with(['+', '|', '=']) || is_half;
        (!adds).then_some(Self { rest, behind })
    }

    /// What stands behind.
    pub(super) fn read(self) -> Behind<'a> {
        // "rest: fri" says it twice.
        if self.behind.is_empty() || is_word(self.behind) {
            return Behind::Nothing;
        }
        let words = self.in_brackets().unwrap_or(self.behind);
        let aside = self.aside();
        let mut text = Text::new(words.trim_start_matches(['/', '&', ' ']));
        text.take_any_phrase(&["and", "with", "then"]);
        let bare = text.left();
        let amount = |text: &mut Text<'_>| RawAmount::take(text).ok().flatten();
        let sport = take_kind(&mut text).map(|(kind, _)| kind);
        if let Some(kind) = sport.filter(|kind| !kind.is_running()) {
            return match amount(&mut text) {
                Some(_) => Behind::Session(bare),
                // "rest, gym": a day without running, on which somebody lifts.
                None if kind == Kind::Strength && (text.is_done() || LOADS.contains(&text.left())) => {
                    Behind::Session(bare)
                }
                None => Behind::Words(Cow::Borrowed(bare)),
            };
        }
        let mut text = Text::new(bare);
        let has_amount = amount(&mut text).is_some();
        if has_amount && take_kind(&mut text).is_some_and(|(kind, _)| !kind.is_running()) {
            return Behind::Session(bare);
        }
        let names_run = sport.is_some() || words.starts_with('/') || tells_run(bare);
        match aside {
            Some(words) if words.is_empty() => Behind::Nothing,
            Some(words) => Behind::Words(Cow::Owned(words)),
            None if names_run => Behind::Other,
            None => Behind::Words(Cow::Borrowed(words)),
        }
    }

    /// The words of one bracket, where nothing else stands behind; those in quotes are a note and nothing else.
    fn in_brackets(self) -> Option<&'a str> {
        let inside = self.behind.strip_prefix('(')?.strip_suffix(')')?;
        (!inside.contains(['(', ')', '"', '\u{201c}', '\u{201d}', '\u{201e}'])).then_some(inside.trim())
    }

    /// The words, where all that stands behind is brackets or quotes: they are no session.
    fn aside(self) -> Option<String> {
        let slots = cut(self.behind).ok()?;
        let all: Vec<&Part> = slots.iter().flatten().flatten().collect();
        let is_aside = slots.len() == 1 && all.iter().all(|part| part.words.is_empty());
        is_aside.then(|| joined(all.into_iter().flat_map(aside), ", "))
    }
}

/// Whether an amount with its unit stands in words, or they begin with a number or with a kind of running.
fn tells_run(words: &str) -> bool {
    words.starts_with(|first: char| first.is_ascii_digit()) || words_have_unit(words) || {
        let starts = words.match_indices(' ').map(|(at, _)| at + 1);
        starts.into_iter().any(|at| starts_with_reps(Text::new(&words[at..])))
    }
}

//! Cuts a line into slots, options and parts, with quotes and brackets kept whole.

use std::ops::Range;

use crate::plain::joined;
use crate::problem::{Expected, ProblemKind};

/// What stands between two commas.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Part {
    /// The plain words, one space between them.
    pub(super) words: String,
    /// Texts in double quotes.
    pub(super) quoted: Vec<String>,
    /// Texts in brackets.
    pub(super) notes: Vec<Note>,
}

/// A text in brackets, and whether quotes inside said that it is a note and nothing else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Note {
    Plain(String),
    Quoted(String),
    /// The half of the day: it was typed without brackets, and stands first in the note of its session.
    Half(String),
}

impl Part {
    /// The part as it may be typed: what stands in brackets comes last, the half of the day in front.
    pub(super) fn written(&self) -> String {
        let half =
            self.notes.iter().find_map(|note| if let Note::Half(half) = note { Some(half.clone()) } else { None });
        let mut pieces: Vec<String> = half.into_iter().chain([self.words.clone()]).collect();
        pieces.extend(self.quoted.iter().map(|text| quote(text)));
        pieces.extend(self.notes.iter().filter_map(|note| match note {
            Note::Plain(words) => Some(format!("({words})")),
            Note::Quoted(words) => Some(format!("({})", quote(words))),
            Note::Half(_) => None,
        }));
        joined(pieces, " ")
    }

    fn is_empty(&self) -> bool {
        self.words.is_empty() && self.quoted.is_empty() && self.notes.is_empty()
    }
}

/// A session not yet read: its parts.
pub(super) type Parts = Vec<Part>;

/// The slots of a line, each with its options. A line of nothing has one slot with one empty option.
///
/// # Errors
///
/// A quote or a bracket that is opened or closed alone.
pub(super) fn cut(line: &str) -> Result<Vec<Vec<Parts>>, ProblemKind> {
    let mut cutter = Cutter::default();
    let mut left = line;
    while let Some(next) = left.chars().next() {
        let rest = &left[next.len_utf8()..];
        left = match next {
            '(' => {
                cutter.end_word();
                let (note, rest) = bracketed(left)?;
                cutter.part.notes.push(note);
                rest
            }
            ')' => return Err(unreadable(line, Expected::Bracket)),
            _ if is_opening_quote(next) && !cutter.word.ends_with(|last: char| last.is_ascii_digit()) => {
                cutter.end_word();
                let (text, rest) = quoted(left)?;
                cutter.part.quoted.push(text);
                rest
            }
            ',' if cutter.word.ends_with(|last: char| last.is_ascii_digit())
                && rest.starts_with(|after: char| after.is_ascii_digit()) =>
            {
                cutter.word.push(next);
                rest
            }
            ',' | ';' => {
                cutter.end_part();
                rest
            }
            '+' if cutter.ends_with_pace() && is_seconds(rest) => {
                cutter.word.push(next);
                rest
            }
            '+' => {
                cutter.end_slot();
                rest
            }
            _ if is_space(next) => {
                cutter.end_word();
                rest
            }
            _ => {
                cutter.word.push(next);
                rest
            }
        };
    }
    Ok(cutter.finish())
}

/// "MP+10": what stands behind the mark is so many seconds slower, no session.
fn is_seconds(behind: &str) -> bool {
    let end = behind.find(|next: char| !next.is_ascii_digit()).unwrap_or(behind.len());
    let unit = behind[end..].split(|next: char| is_space(next) || matches!(next, ',' | ';' | ')')).next();
    (1..=2).contains(&end) && unit.is_some_and(|unit| matches!(unit, "" | "s" | "sec" | "secs" | "\""))
}

/// A bracket or a text in quotes: words that [`cut`] keeps as they are.
pub(super) struct Aside {
    /// Where it ends in its line.
    pub(super) end: usize,
    /// Whether quotes say where.
    is_quoted: bool,
}

impl Aside {
    /// The one that begins at a place of a line, up to where [`cut`] ends it; nothing where none does, or it is never closed.
    pub(super) fn at(line: &str, place: usize) -> Option<Self> {
        if !Self::opens(line, place) {
            return None;
        }
        let left = &line[place..];
        let (behind, is_quoted) = if left.starts_with('(') {
            bracketed(left).ok().map(|(note, behind)| (behind, matches!(note, Note::Quoted(_))))?
        } else {
            (quoted(left).ok()?.1, true)
        };
        Some(Self { end: line.len() - behind.len(), is_quoted })
    }

    /// Whether one begins there, closed or not.
    fn opens(line: &str, place: usize) -> bool {
        let (front, left) = line.split_at(place);
        // `12"` is as long as it takes.
        let may_be_quote = !front.ends_with(|last: char| last.is_ascii_digit());
        left.starts_with('(') || may_be_quote && left.starts_with(is_opening_quote)
    }
}

/// Where texts in quotes stand in a line, those inside of its brackets too: a quote that stands alone in one opens nothing
/// behind it.
pub(super) fn quoted_spans(line: &str) -> Vec<Range<usize>> {
    let mut spans = Vec::new();
    let mut at = 0;
    while let Some(next) = line[at..].chars().next() {
        let inside = at + next.len_utf8();
        at = match Aside::at(line, at) {
            Some(Aside { end, is_quoted: true }) => {
                spans.push(at..end);
                end
            }
            Some(Aside { end, is_quoted: false }) => {
                let words = quoted_spans(&line[inside..end - 1]);
                spans.extend(words.into_iter().map(|span| inside + span.start..inside + span.end));
                end
            }
            None => inside,
        };
    }
    spans
}

/// Where the texts in brackets and in quotes stand, which are no words of the line. What is never closed goes on to the end.
pub(super) fn aside_spans(line: &str) -> Vec<Range<usize>> {
    let mut spans = Vec::new();
    let mut at = 0;
    while let Some(next) = line[at..].chars().next() {
        let end = Aside::opens(line, at).then(|| Aside::at(line, at).map_or(line.len(), |aside| aside.end));
        spans.extend(end.map(|end| at..end));
        at = end.unwrap_or(at + next.len_utf8());
    }
    spans
}

/// Whether texts are parted here: every space of Unicode, and the invisible marks that come along
/// when text is pasted.
pub(super) fn is_space(next: char) -> bool {
    next.is_whitespace() || next.is_control() || matches!(next, '\u{feff}' | '\u{200b}' | '\u{2060}')
}

/// A line up to its first bracket or quote, and what is left: there words are notes, and stay as they are.
pub(super) fn apart_from_notes(line: &str) -> (&str, &str) {
    line.split_at(aside_spans(line).first().map_or(line.len(), |aside| aside.start))
}

pub(super) fn is_opening_quote(next: char) -> bool {
    matches!(next, '"' | '\u{201c}' | '\u{201d}' | '\u{201e}')
}

#[derive(Default)]
struct Cutter {
    word: String,
    part: Part,
    parts: Parts,
    options: Vec<Parts>,
    slots: Vec<Vec<Parts>>,
}

impl Cutter {
    /// Whether the last word is the name of a race's pace.
    fn ends_with_pace(&self) -> bool {
        const PACES: [&str; 5] = ["mp", "gmp", "hmp", "rp", "pace"];
        let last = if self.word.is_empty() { self.part.words.rsplit(' ').next() } else { Some(self.word.as_str()) };
        last.is_some_and(|last| PACES.iter().any(|pace| last.trim_start_matches('@').eq_ignore_ascii_case(pace)))
    }

    fn end_word(&mut self) {
        let word = std::mem::take(&mut self.word);
        if word.eq_ignore_ascii_case("or") {
            self.end_option();
        } else if !word.is_empty() {
            if !self.part.words.is_empty() {
                self.part.words.push(' ');
            }
            self.part.words.push_str(&word);
        }
    }

    fn end_part(&mut self) {
        self.end_word();
        let part = std::mem::take(&mut self.part);
        if !part.is_empty() {
            self.parts.push(part);
        }
    }

    fn end_option(&mut self) {
        self.end_part();
        self.options.push(std::mem::take(&mut self.parts));
    }

    fn end_slot(&mut self) {
        self.end_option();
        self.slots.push(std::mem::take(&mut self.options));
    }

    fn finish(mut self) -> Vec<Vec<Parts>> {
        self.end_slot();
        self.slots
    }
}

/// A text in brackets, the brackets inside it counted; the text left behind it.
fn bracketed(text: &str) -> Result<(Note, &str), ProblemKind> {
    let inside = text.get(1..).unwrap_or_default().trim_start_matches(is_space);
    if inside.starts_with(is_opening_quote)
        && let Ok((note, rest)) = quoted(inside)
        && let Some(rest) = rest.trim_start_matches(is_space).strip_prefix(')')
    {
        return Ok((Note::Quoted(note), rest));
    }
    let mut depth = 0_usize;
    for (index, next) in text.char_indices() {
        match next {
            '(' => depth += 1,
            ')' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            let note = joined(text[1..index].split(is_space), " ");
            return Ok((Note::Plain(note), &text[index + 1..]));
        }
    }
    Err(unreadable(text, Expected::Bracket))
}

/// A text in quotes, its escapes resolved; the text left behind it.
fn quoted(text: &str) -> Result<(String, &str), ProblemKind> {
    let fault = || unreadable(text, Expected::Quote);
    let mut characters = text.char_indices();
    let opening = characters.next().map_or('"', |(_, opening)| opening);
    let closes = |next: char| match opening {
        '"' => next == '"',
        '\u{201e}' => matches!(next, '\u{201c}' | '\u{201d}'),
        _ => next == '\u{201d}',
    };
    let mut found = String::new();
    while let Some((index, next)) = characters.next() {
        if closes(next) {
            return Ok((found, &text[index + next.len_utf8()..]));
        }
        if next != '\\' {
            found.push(next);
            continue;
        }
        match characters.next().ok_or_else(fault)?.1 {
            'n' => found.push('\n'),
            'u' => {
                let code: String = characters.by_ref().map(|(_, next)| next).take_while(|next| *next != '}').collect();
                let code = code.strip_prefix('{').and_then(|code| u32::from_str_radix(code, 16).ok());
                found.push(code.and_then(char::from_u32).ok_or_else(fault)?);
            }
            other => found.push(other),
        }
    }
    Err(fault())
}

pub(super) fn unreadable(text: &str, expected: Expected) -> ProblemKind {
    ProblemKind::Unreadable { text: text.trim().to_owned(), expected }
}

/// A text in quotes, which [`cut`] gives back as it is.
pub(super) fn quote(text: &str) -> String {
    let mut quoted = String::from("\"");
    for next in text.chars() {
        match next {
            '"' | '\\' => quoted.extend(['\\', next]),
            '\n' => quoted.push_str("\\n"),
            _ if next.is_control() || matches!(next, '\u{2028}' | '\u{2029}') => {
                quoted.extend(next.escape_unicode());
            }
            _ => quoted.push(next),
        }
    }
    quoted.push('"');
    quoted
}

/// The line that is cut into these slots.
pub(super) fn written(slots: &[Vec<Parts>]) -> String {
    let session = |parts: &Parts| parts.iter().map(Part::written).collect::<Vec<_>>().join(", ");
    let slot = |options: &Vec<Parts>| options.iter().map(session).collect::<Vec<_>>().join(" or ");
    slots.iter().map(slot).collect::<Vec<_>>().join(" + ")
}

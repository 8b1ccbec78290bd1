//! The signs by which an answer is known: marks before a line, a question's number, its words or its name. Lengths
//! are in bytes.

use super::number::{digit, is_blank, number};
use super::time::is_time;
use super::{Question, Sent};

/// How many bytes of spaces, quotation and list marks stand before a line.
pub(super) fn marks(line: &str) -> usize {
    let rest = line.trim_start_matches(|c: char| is_blank(c) || ['>', '*', '\u{2022}', '\u{b7}', '_'].contains(&c));
    let rest = rest.strip_prefix("- ").or_else(|| rest.strip_prefix("\u{2013} ")).unwrap_or(rest);
    line.len() - rest.trim_start_matches(is_blank).len()
}

/// Where the sign of a question stands inside a text: its number, or for goals their letter.
pub(super) fn sign_within(question: Question, text: &str) -> Option<(usize, usize)> {
    let letter = match question {
        Question::GoalA => "a",
        Question::GoalB => "b",
        Question::GoalC => "c",
        _ => "",
    };
    let mut before = None;
    text.char_indices().find_map(|(at, c)| {
        let is_apart = before.is_some_and(|c| is_blank(c) || [',', ';', '/', '|', '.'].contains(&c));
        // A number in a circle needs nothing around it.
        let is_enclosed = c.is_numeric() && digit(c).is_none();
        before = Some(c);
        if !is_apart && !is_enclosed {
            return None;
        }
        let here = &text[at..];
        let numbered = number(here, None).filter(|(found, _)| *found == question).map(|(_, length)| length);
        let length = numbered.or_else(|| is_apart.then(|| letter_length(here, letter)).flatten())?;
        Some((at, length))
    })
}

/// How many bytes a goal's letter takes with the mark behind it.
fn letter_length(text: &str, letter: &str) -> Option<usize> {
    let goal = text.get(..5).filter(|word| word.eq_ignore_ascii_case("goal ")).map_or(0, str::len);
    let end = goal + text[goal..].chars().next().map_or(0, char::len_utf8);
    let behind = text[end..].trim_start_matches([' ', '\t']);
    let is_marked = behind.starts_with([':', '=', ')', '\u{ff1a}', '\u{ff09}']);
    let is_time_of_goal = text[goal..end].chars().all(char::is_uppercase) && behind.len() < text[end..].len();
    let is_sign = text[goal..end].eq_ignore_ascii_case(letter) && !letter.is_empty();
    let marked = behind.trim_start_matches([':', '=', ')', '\u{ff1a}', '\u{ff09}']).trim_start_matches(is_blank);
    (is_sign && (is_marked || is_time_of_goal && is_time(behind))).then_some(text.len() - marked.len())
}

/// How many bytes the question's own words take behind its number. A name that fills the line and has no
/// mark behind it may begin the answer: "My best day", and below "would be 1:45".
pub(super) fn own_words(question: Question, text: &str, sent: &Sent) -> usize {
    let asked = sent.questions.get(question.index()).and_then(|asked| asked_length(text, asked));
    if let Some(length) = asked {
        return length;
    }
    let name = |text: &str| named(text).filter(|(named, _)| *named == question).map_or(0, |(_, length)| length);
    let length = name(text);
    let said = text[..length].to_lowercase();
    let is_marked = said.trim_end().ends_with([':', '=', '?', '-', '\u{2013}', '\u{2014}', '\u{2192}', '>']);
    let is_plain = ["goal", "third", "stretch"].iter().any(|word| said.contains(word));
    if text[length..].trim().is_empty() && !is_marked && !is_plain {
        return 0;
    }
    let again = name(&text[length..]);
    if text[length..][..again].trim_end().ends_with(':') { length + again } else { length }
}

/// Whether two lines have the same letters and digits.
pub(super) fn is_same(one: &str, other: &str) -> bool {
    let mut of_one = letters(one).map(|(_, c)| c).peekable();
    of_one.peek().is_some() && of_one.eq(letters(other).map(|(_, c)| c))
}

/// How many bytes a question as it was sent takes at the beginning of a text, with what parts it from the
/// answer; spaces, marks and capitals do not matter.
fn question_length(text: &str, question: &str) -> Option<usize> {
    let mut asked = letters(question).map(|(_, c)| c).peekable();
    asked.peek()?;
    for (at, c) in letters(text) {
        match asked.next() {
            None => return Some(behind_marks(text, at)),
            Some(wanted) if wanted == c => {}
            Some(_) => return None,
        }
    }
    asked.next().is_none().then_some(text.len())
}

/// How many bytes a question takes at the beginning of a text: all of it, or what stands before its colon.
pub(super) fn asked_length(text: &str, question: &str) -> Option<usize> {
    let head = || {
        let head = question.split_inclusive([':', '?']).next()?;
        let length = question_length(text, head)?;
        let is_parted = !text[..length].trim_end().ends_with(char::is_alphanumeric);
        let behind = &text[length..];
        (is_parted || behind.trim().is_empty() || is_time(behind)).then_some(length)
    };
    question_length(text, question).or_else(head)
}

fn letters(text: &str) -> impl Iterator<Item = (usize, char)> {
    text.char_indices().filter(|(_, c)| c.is_alphanumeric()).map(|(at, c)| (at, c.to_lowercase().next().unwrap_or(c)))
}

/// Back over quotation marks and the like that belong to what begins here.
fn behind_marks(text: &str, at: usize) -> usize {
    let before = &text[..at];
    at - (before.len() - before.trim_end_matches(['"', '(', '\u{201c}', '<', '+', '~']).len())
}

/// A question by one of its names, with the mark behind it.
pub(super) fn named(text: &str) -> Option<(Question, usize)> {
    let names = Question::ALL.into_iter().flat_map(|one| one.names().iter().map(move |name| (one, *name)));
    let found = names.filter_map(|(question, name)| Some((question, name_length(text, name)?)));
    found.max_by_key(|(_, length)| *length)
}

/// How many bytes a name takes at the beginning of a text, the mark behind it with it. A name that may
/// begin a sentence as well needs a mark, or a time behind it.
fn name_length(text: &str, name: &str) -> Option<usize> {
    let end = text.char_indices().nth(name.chars().count()).map_or(text.len(), |(at, _)| at);
    let written = &text[..end];
    if written.to_lowercase() != name {
        return None;
    }
    let rest = &text[end..];
    let spaced = rest.trim_start_matches([' ', '\t']);
    let marked = spaced
        .trim_start_matches([':', '=', ')', '.', '?', '\u{2013}', '\u{2014}', '-', '*', '_', ',', '\u{2192}', '>']);
    let answer = marked.trim_start_matches([' ', '\t']);
    let is_word = rest.chars().next().is_none_or(|c| !c.is_alphanumeric());
    let is_marked = marked.len() < spaced.len();
    let is_alone = answer.trim().is_empty() && !rest.is_empty();
    // A capital B or C alone begins no sentence, as A does.
    let is_letter = matches!(written, "B" | "C") && spaced.len() < rest.len();
    let is_plain = name.starts_with("goal ") || name.contains("third") || name.contains("stretch");
    let is_known = is_marked || is_alone || is_letter || is_plain || is_time(answer);
    (is_word && is_known).then_some(text.len() - answer.len())
}

/// A part of a stretch by its name: `effort:`, `focus`, `cue word`.
pub(super) fn part_name(text: &str) -> Option<(usize, usize)> {
    let names = [(0, "effort"), (1, "focus"), (1, "mind"), (2, "cue word"), (2, "cue"), (2, "word")];
    let found = names.into_iter().filter_map(|(part, name)| Some((part, name_length(text, name)?)));
    found.max_by_key(|(_, length)| *length)
}

/// Where the next goal's letter stands on the same line: its place, its length with the mark, and whose
/// it is.
pub(super) fn next_goal(question: Question, text: &str) -> Option<(usize, usize, Question)> {
    let next = match question {
        Question::GoalA => Question::GoalB,
        Question::GoalB => Question::GoalC,
        _ => return None,
    };
    let letter = if next == Question::GoalB { "b" } else { "c" };
    text.char_indices().filter(|(at, c)| *at > 0 && c.is_alphabetic()).find_map(|(at, _)| {
        let before = text[..at].trim_end_matches([' ', '\t']);
        let is_parted = before.len() < at && before.ends_with([',', ';', '/', '|', '.']) || before.ends_with('\n');
        let length = is_parted
            .then(|| name_length(&text[at..], letter).or_else(|| name_length(&text[at..], &format!("goal {letter}"))));
        length.flatten().map(|length| (at, length, next))
    })
}

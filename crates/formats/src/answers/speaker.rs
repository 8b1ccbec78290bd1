//! The name and the time that a messenger puts before a line.

use super::number::{digit, is_blank};

/// The longest time or name that a messenger puts before a line, in characters.
const SPEAKER_MOST: usize = 40;

/// Who wrote a line, where a messenger put it in front: the name, the length of everything before the
/// line's own words, and whether a time stands with it.
pub(super) fn speaker(text: &str) -> Option<(&str, usize, bool)> {
    let bracketed = text.strip_prefix('[').and_then(|rest| rest.split_once(']'));
    // Without brackets, only a whole day and time is more than a time of the athlete's own.
    let dated = || text.split_once(" - ").filter(|(stamp, _)| figures(stamp) >= 5);
    let stamped = bracketed.or_else(dated).filter(|(stamp, _)| is_stamp(stamp));
    let behind = stamped.map_or(text, |(_, behind)| behind).trim_start_matches(is_blank);
    let (name, said) = behind.split_once(':')?;
    let answer = said.trim_start_matches(is_blank);
    let is_name = if stamped.is_some() { name.chars().count() <= SPEAKER_MOST } else { is_speaker(name) };
    (is_name && answer.len() < said.len()).then_some((name, text.len() - answer.len(), stamped.is_some()))
}

/// Whether a text may be a day and a time: figures, their marks, and the letters of half a day.
fn is_stamp(text: &str) -> bool {
    let is_short = text.chars().count() <= SPEAKER_MOST;
    let mut words = text.split(|c: char| !c.is_alphabetic());
    is_short && figures(text) >= 2 && words.all(|word| word.chars().count() <= 2)
}

/// How many numbers stand in a text.
fn figures(text: &str) -> usize {
    text.split(|c| digit(c).is_none()).filter(|number| !number.is_empty()).count()
}

/// Whether a text may be a name: a few words without figures, none of them in lower case.
fn is_speaker(text: &str) -> bool {
    let is_of_name = |c: char| c.is_alphabetic() || ['\'', '\u{2019}', '-', '.'].contains(&c);
    let is_name =
        |word: &str| word.starts_with(|c: char| c.is_alphabetic() && !c.is_lowercase()) && word.chars().all(is_of_name);
    let words = text.split_whitespace().count();
    (1..=4).contains(&words) && text.chars().count() <= SPEAKER_MOST && text.split_whitespace().all(is_name)
}

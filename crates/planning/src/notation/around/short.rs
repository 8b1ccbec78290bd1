//! Short forms of a warm-up and a cool-down that are words of their own elsewhere, and so need an amount beside them:
//! "2k EL, 6x800, 2k AL".

use std::borrow::Cow;

use super::super::amounts::RawAmount;
use super::super::line::apart_from_notes;
use super::super::text::Text;

const SHORT: [(&str, &str); 2] = [("EL", "einlaufen"), ("AL", "auslaufen")];

/// The line with these in full, up to the first bracket or quote.
pub(in super::super) fn in_full(line: &str) -> Cow<'_, str> {
    if !SHORT.iter().any(|(short, _)| line.contains(short)) {
        return Cow::Borrowed(line);
    }
    let (front, behind) = apart_from_notes(line);
    let words: Vec<&str> = front.split(' ').collect();
    let is_amount = |at: usize| {
        let mut text = Text::new(words.get(at).map_or("", |word| word.trim_end_matches(',')));
        matches!(RawAmount::take(&mut text), Ok(Some(_))) && text.is_done()
    };
    let is_unit = |at: usize| ["km", "k", "mi", "min"].contains(&words[at]);
    let is_beside = |at: usize| {
        let ends = words[at].ends_with(',');
        let in_front = at > 0 && (is_amount(at - 1) || (at > 1 && is_unit(at - 1) && is_amount(at - 2)));
        (in_front && !words[at - 1].ends_with(',')) || (!ends && is_amount(at + 1))
    };
    let full = |(at, word): (usize, &&str)| {
        let bare = word.trim_end_matches(',');
        let comma = &word[bare.len()..];
        // "2EL"
        let number = bare.trim_end_matches(char::is_alphabetic);
        let named = SHORT.iter().find(|(short, _)| &bare[number.len()..] == *short).map(|(_, full)| *full);
        let is_number = !number.is_empty() && number.bytes().all(|one| one.is_ascii_digit() || one == b'.');
        match named {
            Some(full) if number.is_empty() && is_beside(at) => format!("{full}{comma}"),
            Some(full) if is_number => format!("{number} {full}{comma}"),
            _ => (*word).to_owned(),
        }
    };
    Cow::Owned(words.iter().enumerate().map(full).collect::<Vec<_>>().join(" ") + behind)
}

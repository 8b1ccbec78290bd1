//! The number of a question at the beginning of a text, however it is written.

use super::Question;
use super::time::is_time;

/// The zeros of the decimal digits of all scripts; one to nine follow each.
///
/// # Source
///
/// The Unicode Character Database, general category Nd.
const ZEROS: [u32; 68] = [
    0x30, 0x660, 0x6f0, 0x7c0, 0x966, 0x9e6, 0xa66, 0xae6, 0xb66, 0xbe6, 0xc66, 0xce6, 0xd66, 0xde6, 0xe50, 0xed0,
    0xf20, 0x1040, 0x1090, 0x17e0, 0x1810, 0x1946, 0x19d0, 0x1a80, 0x1a90, 0x1b50, 0x1bb0, 0x1c40, 0x1c50, 0xa620,
    0xa8d0, 0xa900, 0xa9d0, 0xa9f0, 0xaa50, 0xabf0, 0xff10, 0x104a0, 0x10d30, 0x11066, 0x110f0, 0x11136, 0x111d0,
    0x112f0, 0x11450, 0x114d0, 0x11650, 0x116c0, 0x11730, 0x118e0, 0x11950, 0x11c50, 0x11d50, 0x11da0, 0x11f50,
    0x16a60, 0x16ac0, 0x16b50, 0x1d7ce, 0x1d7d8, 0x1d7e2, 0x1d7ec, 0x1d7f6, 0x1e140, 0x1e2f0, 0x1e4f0, 0x1e950,
    0x1fbf0,
];

/// The ones of the rows of numbers in circles, in brackets or with a full stop.
const ENCLOSED_ONES: [u32; 7] = [0x2460, 0x2474, 0x2488, 0x24f5, 0x2776, 0x2780, 0x278a];

/// Roman numbers, a longer one before what it begins with.
const ROMAN: [(&str, usize); 9] =
    [("VIII", 8), ("VII", 7), ("VI", 6), ("IV", 4), ("IX", 9), ("III", 3), ("II", 2), ("V", 5), ("I", 1)];

/// The marks behind a number that need a space before a digit: without one it is a time or an amount.
const OPEN_MARKS: [char; 7] = ['.', ':', '-', '\u{2013}', '\u{2014}', '\u{ff0e}', '\u{ff1a}'];

/// The marks that end a number whatever follows. A digit in a box, as telephones write it, is the digit
/// with two marks behind it.
const CLOSED_MARKS: [char; 6] = [')', ']', '\u{ff09}', '\u{3001}', '\u{fe0f}', '\u{20e3}'];

/// The value of a decimal digit of any script.
pub(super) fn digit(c: char) -> Option<usize> {
    let code = u32::from(c);
    let zero = ZEROS.into_iter().find(|zero| (*zero..zero + 10).contains(&code))?;
    usize::try_from(code - zero).ok()
}

/// Whether a letter takes no room: it turns the direction of text, joins nothing, or opens a file.
pub(super) fn is_blank(c: char) -> bool {
    c.is_whitespace()
        || matches!(c, '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// How a number is written.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Look {
    Digits,
    /// `1st`.
    Ordinal,
    /// It carries its own mark.
    Enclosed,
    Roman,
}

/// The number of a question with the mark behind it: `1.`, `(2)`, `3:`, `Q4:`, `V.`; a time is no number.
/// The number that comes next may also stand alone before a time, or before a dash or a comma.
pub(super) fn number(text: &str, next: Option<Question>) -> Option<(Question, usize)> {
    let (is_asked, rest) = unworded(text);
    let (which, length, look) = figure(rest)?;
    let question = *Question::ALL.get(which.checked_sub(1)?)?;
    let is_next = next == Some(question);
    let behind = &rest[length..];
    let marked = behind.trim_start_matches(|c| OPEN_MARKS.contains(&c) || CLOSED_MARKS.contains(&c));
    let mark = &behind[..behind.len() - marked.len()];
    let answer = marked.trim_start_matches(is_blank);
    let found = |answer: &str| Some((question, text.len() - answer.len()));
    if text.starts_with('[') && !mark.starts_with(']') {
        return None;
    }
    if look == Look::Enclosed || !mark.is_empty() && is_ended(mark, marked, answer) {
        let is_sure = look != Look::Roman || is_next || length > 1;
        return if is_sure { found(answer) } else { None };
    }
    if look != Look::Digits {
        return None;
    }
    if let Some(parted) = behind.strip_prefix([',', '\u{ff0c}', '\u{60c}']) {
        let answer = parted.trim_start_matches(is_blank);
        let is_amount = answer.starts_with(|c| digit(c).is_some()) && !is_time(answer);
        let is_apart = answer.len() < parted.len() || !behind.starts_with(',');
        return if is_next && is_apart && !is_amount { found(answer) } else { None };
    }
    let spaced = behind.trim_start_matches(is_blank);
    if spaced.len() == behind.len() || !(is_next || is_asked) {
        return None;
    }
    let dashed = spaced.trim_start_matches(['-', '\u{2013}', '\u{2014}', '=']).trim_start_matches(is_blank);
    if dashed.len() < spaced.len() || is_time(dashed) || is_asked && is_next { found(dashed) } else { None }
}

/// Whether a mark ends a number: what follows stands apart, or cannot go on with it.
fn is_ended(mark: &str, marked: &str, answer: &str) -> bool {
    let is_apart = answer.len() < marked.len() || !marked.starts_with(|c| digit(c).is_some());
    // Where marks are as wide as letters, no space follows them.
    let is_wide = mark.ends_with(['\u{ff0e}', '\u{ff1a}']) && is_time(answer);
    is_apart || is_wide || mark.ends_with(CLOSED_MARKS)
}

/// A text without what may stand before a number, and whether that was a word: `Question 3`, `Q3`, `(3`.
fn unworded(text: &str) -> (bool, &str) {
    let bare = text.strip_prefix(['(', '#', '[', '\u{ff08}']).unwrap_or(text);
    let worded = ["question", "answer", "q", "a"].into_iter().find_map(|word| {
        let begin = bare.get(..word.len()).filter(|begin| begin.eq_ignore_ascii_case(word))?;
        let behind = &bare[begin.len()..];
        // "A 1:45" is goal A.
        let behind = if word == "a" { behind } else { behind.trim_start_matches([' ', '\t', '#']) };
        behind.starts_with(|c| digit(c).is_some()).then_some(behind)
    });
    worded.map_or((false, bare), |behind| (true, behind))
}

/// A number at the beginning, its length and its look.
fn figure(text: &str) -> Option<(usize, usize, Look)> {
    let first = text.chars().next()?;
    let code = u32::from(first);
    if let Some(one) = ENCLOSED_ONES.into_iter().find(|one| (*one..one + 9).contains(&code)) {
        return Some((usize::try_from(code - one).ok()? + 1, first.len_utf8(), Look::Enclosed));
    }
    if let '\u{2160}'..='\u{2168}' = first {
        return Some((usize::try_from(code - 0x2160).ok()? + 1, first.len_utf8(), Look::Roman));
    }
    let behind = text.trim_start_matches(|c| digit(c).is_some());
    let length = text.len() - behind.len();
    if length > 0 {
        let value = |value: usize, c: char| value.checked_mul(10)?.checked_add(digit(c)?);
        let which = text[..length].chars().try_fold(0, value)?;
        let suffix = ["st", "nd", "rd", "th"].into_iter().find(|suffix| behind.starts_with(suffix));
        return Some(
            suffix.map_or((which, length, Look::Digits), |suffix| (which, length + suffix.len(), Look::Ordinal)),
        );
    }
    let (roman, which) = ROMAN.into_iter().find(|(roman, _)| text.starts_with(roman))?;
    let is_dashed = text[roman.len()..].starts_with(['-', '\u{2013}', '\u{2014}']);
    (!is_dashed).then_some((which, roman.len(), Look::Roman))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_digits_is_ten_numbers_of_a_script() {
        for zero in ZEROS {
            for value in 0..10 {
                let c = char::from_u32(zero + value).unwrap();
                assert!(c.is_numeric(), "{c}");
                assert_eq!(digit(c), usize::try_from(value).ok());
            }
        }
        assert_eq!(["a", "\u{b2}", "\u{bd}", "\u{2460}"].map(|text| digit(text.chars().next().unwrap())), [None; 4]);
    }

    #[test]
    fn a_time_an_amount_or_a_word_is_no_number_of_a_question() {
        for text in [
            "1:45",
            "1.5 km",
            "1,5 h",
            "1-2 weeks",
            "\u{661}:\u{664}\u{665}",
            "\u{ff11}\u{ff0e}\u{ff15}",
            "10. May",
            "2 half marathons",
            "I am",
            "I-95",
            "VI",
            "IIb.",
            "1st half",
            "Q3",
            "A 1:45",
            "[5. 11. 2026]",
            "0. x",
            "1",
        ] {
            assert_eq!(number(text, None), None, "{text}");
        }
        assert_eq!(number("1, 2 or 3 weeks", Some(Question::GoalA)), None);
    }
}

//! Text of properties: what people typed, made harmless and escaped.

/// Escapes a text for SUMMARY, DESCRIPTION, LOCATION and every other property of type TEXT.
///
/// # Source
///
/// RFC 5545, 3.3.11: backslash, semicolon and comma take a backslash, a line break is `\n`; a colon
/// stays as it is.
///
/// # Example
///
/// ```
/// assert_eq!(formats::calendar::escape("3x5 min; path C:\\runs\nCool down"), "3x5 min\\; path C:\\\\runs\\nCool down");
/// ```
pub fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len() + 8);
    for next in plain(text).chars() {
        match next {
            '\\' | ';' | ',' => escaped.extend(['\\', next]),
            '\n' => escaped.push_str("\\n"),
            _ => escaped.push(next),
        }
    }
    escaped
}

/// The text with one kind of line break and without characters that no calendar may carry or that
/// turn the reading direction of what follows.
///
/// # Source
///
/// RFC 5545, 3.1: no control characters but the tab. Unicode Standard Annex 9, 2: embeddings,
/// overrides and isolates.
pub(super) fn plain(text: &str) -> String {
    let breaks = text.replace("\r\n", "\n").replace(['\r', '\u{b}', '\u{c}', '\u{85}', '\u{2028}', '\u{2029}'], "\n");
    breaks.chars().filter(|next| matches!(next, '\n' | '\t') || !is_unwanted(*next)).collect()
}

fn is_unwanted(next: char) -> bool {
    next.is_control() || matches!(next, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// What a calendar does with an escaped text.
    fn unescape(text: &str) -> String {
        let mut plain = String::new();
        let mut letters = text.chars();
        while let Some(next) = letters.next() {
            match (next, if next == '\\' { letters.next() } else { None }) {
                ('\\', Some('n' | 'N')) => plain.push('\n'),
                ('\\', Some(escaped)) => plain.push(escaped),
                _ => plain.push(next),
            }
        }
        plain
    }

    #[test]
    fn backslash_semicolon_comma_and_line_break_are_escaped_and_the_colon_is_not() {
        let typed = "Tempo; 3x5 min, path C:\\runs\nCool down";
        assert_eq!(escape(typed), "Tempo\\; 3x5 min\\, path C:\\\\runs\\nCool down");
    }

    #[test]
    fn characters_that_hide_or_turn_text_are_left_out() {
        assert_eq!(escape("a\u{0}b\u{7f}c\u{202e}d\u{2066}e\u{feff}f\u{9b}g"), "abcdefg");
        assert_eq!(escape("a\r\nb\rc\u{2028}d\te"), "a\\nb\\nc\\nd\te");
        assert_eq!(escape("نور \u{200f}🏃🏽‍♀️"), "نور \u{200f}🏃🏽‍♀️", "marks that belong to a script stay");
    }

    proptest! {
        #[test]
        fn what_was_escaped_reads_as_it_was(text in any::<String>()) {
            prop_assert_eq!(unescape(&escape(&text)), plain(&text));
        }

        #[test]
        fn what_needs_no_escape_and_what_does_read_as_they_were(text in "[a-z;,\\\\: \nß→🏃]{0,120}") {
            prop_assert_eq!(unescape(&escape(&text)), text);
        }
    }
}

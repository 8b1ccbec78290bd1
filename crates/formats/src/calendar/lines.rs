//! Lines of a calendar file: CRLF behind each, none longer than 75 octets.

use super::text::escape;

/// The most octets of one line, its end not counted.
///
/// # Source
///
/// RFC 5545, 3.1.
const OCTETS_MOST: usize = 75;

/// A file that grows line by line.
#[derive(Debug, Default)]
pub(super) struct Lines(String);

impl Lines {
    /// A line whose value holds nothing that people typed: a date, a number, a name of the format.
    pub(super) fn put(&mut self, name: &str, value: &str) {
        self.fold(&format!("{name}:{value}"));
    }

    /// A line whose value is text; none where there is no text.
    pub(super) fn text(&mut self, name: &str, text: &str) {
        if !text.is_empty() {
            self.fold(&format!("{name}:{}", escape(text)));
        }
    }

    pub(super) fn finish(self) -> String {
        self.0
    }

    /// Breaks a line before the character that no longer fits, never inside one.
    fn fold(&mut self, line: &str) {
        let mut octets = 0;
        for next in line.chars() {
            let size = next.len_utf8();
            if octets + size > OCTETS_MOST {
                self.0.push_str("\r\n ");
                octets = 1;
            }
            self.0.push(next);
            octets += size;
        }
        self.0.push_str("\r\n");
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::text::plain;
    use super::*;

    fn folded(text: &str) -> String {
        let mut lines = Lines::default();
        lines.text("SUMMARY", text);
        lines.finish()
    }

    fn check(folded: &str) {
        assert!(folded.is_empty() || folded.ends_with("\r\n"));
        for line in folded.split_terminator("\r\n") {
            assert!(line.len() <= OCTETS_MOST && !line.is_empty() && !line.contains(['\r', '\n']), "{line:?}");
        }
    }

    #[test]
    fn a_long_line_is_cut_by_octets_and_between_characters() {
        let typed = "Schlüsseleinheit: 3 × 1600 m im Schwellentempo, dazwischen 90 s traben – locker bleiben, nicht \
                     früher antreten";
        let file = folded(typed);
        check(&file);
        assert!(file.matches("\r\n ").count() >= 1);
        assert_eq!(file.replace("\r\n ", ""), format!("SUMMARY:{}\r\n", typed.replace(',', "\\,")));
    }

    #[test]
    fn a_line_of_exactly_the_limit_is_not_cut() {
        assert_eq!(folded(&"x".repeat(67)).matches("\r\n").count(), 1);
        assert_eq!(folded(&"x".repeat(68)).matches("\r\n").count(), 2);
        assert_eq!(folded(&"é".repeat(34)).matches("\r\n").count(), 2);
    }

    proptest! {
        #[test]
        fn what_was_folded_unfolds_to_what_it_was(text in any::<String>()) {
            let file = folded(&text);
            check(&file);
            let kept = plain(&text);
            let expected = if text.is_empty() { String::new() } else { format!("SUMMARY:{}\r\n", escape(&kept)) };
            prop_assert_eq!(file.replace("\r\n ", ""), expected);
        }

        #[test]
        fn wide_characters_fold_as_well(text in "[🏃ß→é a\\\\;,\n]{0,400}") {
            let file = folded(&text);
            check(&file);
            if !text.is_empty() {
                prop_assert_eq!(file.replace("\r\n ", ""), format!("SUMMARY:{}\r\n", escape(&text)));
            }
        }
    }
}

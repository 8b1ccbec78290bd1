//! What looks like a time to run a race in.

use super::number::digit;

/// Whether a text begins with what looks like a time: `1:45`, `1h45`, `under 50 min`, `sub 50`.
pub(super) fn is_time(text: &str) -> bool {
    is_finish(text) || {
        let text = beginning(text);
        let behind = text.trim_start_matches(|c| digit(c).is_some());
        let digits = text[..text.len() - behind.len()].chars().count();
        let behind = behind.trim_start();
        let is_unit = ["min", "m ", "h", "'"].iter().any(|unit| behind.starts_with(unit)) && !behind.starts_with("mi ");
        (1..=3).contains(&digits) && is_unit
    }
}

/// As much of a text as a time may take, in lower case: how long the text is costs nothing.
fn beginning(text: &str) -> String {
    let begin: String = text.trim_start().chars().take(TIME_MOST).collect();
    begin.trim_end().to_lowercase()
}

/// The longest words of a time, in characters.
const TIME_MOST: usize = 40;

/// Whether a text begins with what can only be a time to finish in: `1:45`, `1h45`, `sub 50`, but not `3 h`.
pub(super) fn is_finish(text: &str) -> bool {
    let text = beginning(text);
    let limited = ["under", "sub", "below", "faster than", "about", "around", "<", "~"]
        .into_iter()
        .find_map(|word| text.strip_prefix(word).map(|rest| rest.trim_start_matches([' ', '-'])));
    let rest = limited.unwrap_or(&text);
    let behind = rest.trim_start_matches(|c| digit(c).is_some());
    let digits = rest[..rest.len() - behind.len()].chars().count();
    let is_clock = behind
        .trim_start()
        .strip_prefix([':', '.', 'h', '\''])
        .is_some_and(|rest| rest.trim_start().starts_with(|c| digit(c).is_some()));
    (1..=3).contains(&digits) && (is_clock || limited.is_some())
}

//! What of a note says in which zone or with which pulse a run is run: that is true of the run wherever it stands and
//! however short it becomes.

/// The pieces of a note that say nothing but a zone, a pulse or an effort: "with club, Z1-Z2" is "Z1-Z2".
///
/// # Source
///
/// Common practice, no published source.
pub(crate) fn zones_alone(note: &str) -> String {
    let pieces = note.split(", ").flat_map(|piece| piece.split("; "));
    pieces.filter(|piece| is_zone(piece)).collect::<Vec<_>>().join(", ")
}

/// What a zone, a pulse or an effort is called before its number.
const NAMES: [&str; 8] = ["z", "zone", "zones", "hr", "pulse", "bpm", "rpe", "effort"];

/// Words and signs between two ends, and behind a number.
const BETWEEN: [&str; 9] = ["to", "and", "or", "in", "under", "below", "max", "low", "high"];

/// Whether a piece has one of the names, a number, and nothing else.
fn is_zone(piece: &str) -> bool {
    let lower = piece.to_lowercase();
    let is_sign =
        |c: char| c.is_whitespace() || matches!(c, '-' | '\u{2013}' | '/' | '<' | '>' | '\u{2264}' | '~' | '+' | '.');
    let words: Vec<&str> = lower.split(is_sign).filter(|word| !word.is_empty()).collect();
    let (mut is_named, mut has_number) = (false, false);
    for word in words {
        let name = word.trim_end_matches(|c: char| c.is_ascii_digit());
        let has_digits = name.len() < word.len();
        if !(NAMES.contains(&name) || BETWEEN.contains(&name) || (name.is_empty() && has_digits)) {
            return false;
        }
        is_named |= NAMES.contains(&name);
        has_number |= has_digits;
    }
    is_named && has_number
}

#[cfg(test)]
mod tests {
    use super::zones_alone;

    #[test]
    fn zones_pulse_and_effort_are_left_and_nothing_else() {
        for (note, left) in [
            ("Z2", "Z2"),
            ("Z1-Z2", "Z1-Z2"),
            ("z1/2", "z1/2"),
            ("zone 2", "zone 2"),
            ("in zones 1 to 2", "in zones 1 to 2"),
            ("HR < 140", "HR < 140"),
            ("RPE 3", "RPE 3"),
            ("with club, Z2", "Z2"),
            ("with club; Z2, on grass", "Z2"),
            ("with club", ""),
            ("zone of the park", ""),
            ("effort", ""),
            ("last 4 km Z3", ""),
            ("2 km wu", ""),
            ("6", ""),
            ("", ""),
        ] {
            assert_eq!(zones_alone(note), left, "{note}");
        }
    }
}

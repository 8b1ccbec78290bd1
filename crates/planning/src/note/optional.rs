//! Whether a note says that a run may as well be left out.

/// Words with which a piece of such a note begins: "or off", "if time".
const BEGINNINGS: [&str; 14] = [
    "or off",
    "or rest",
    "or day off",
    "or a day off",
    "or nothing",
    "or skip",
    "or not",
    "if time",
    "if there is time",
    "if you have time",
    "if you want",
    "if you like",
    "if you feel like it",
    "time permitting",
];

/// Words of what is optional beside a run or in it, and leaves the run to be run: "strides optional".
const OTHER: [&str; 23] = [
    "stride",
    "strides",
    "drill",
    "drills",
    "surges",
    "pickups",
    "reps",
    "hills",
    "finish",
    "last",
    "core",
    "gym",
    "strength",
    "weights",
    "mobility",
    "stretching",
    "yoga",
    "gel",
    "gels",
    "wu",
    "cd",
    "warm",
    "cool",
];

/// Whether a run with this note is optional: "very easy, optional", "or off", "if time".
///
/// # Source
///
/// Common practice, no published source.
pub(crate) fn is_optional(note: &str) -> bool {
    note.split([',', ';', '(', ')']).any(|piece| {
        let piece = piece.trim().to_lowercase();
        let piece = ["only ", "just "].iter().find_map(|word| piece.strip_prefix(word)).unwrap_or(&piece);
        let words = || piece.split(' ').map(|word| word.trim_matches(['.', ':', '!', '?']));
        let begins = |beginning: &str| {
            piece.strip_prefix(beginning).is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphanumeric()))
        };
        let says_it = words().any(|word| matches!(word, "optional" | "opt" | "optionally"));
        BEGINNINGS.iter().any(|beginning| begins(beginning)) || (says_it && !words().any(|word| OTHER.contains(&word)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_run_is_optional_where_its_note_says_so_of_the_run() {
        for optional in [
            "optional",
            "very easy, optional",
            "Optional: with Jo",
            "optional 20-25 min very easy",
            "or off",
            "or off, swim",
            "or rest (tired)",
            "if time",
            "only if time allows",
            "with Jo, if you have time",
        ] {
            assert!(is_optional(optional), "{optional}");
        }
        for due in
            ["", "strides optional", "optional gym", "strides if time", "90 s jog or rest", "or offroad", "with Jo"]
        {
            assert!(!is_optional(due), "{due}");
        }
    }
}

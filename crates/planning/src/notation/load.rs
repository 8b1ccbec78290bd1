//! Words of a strength session that stay true of it where nothing but the own body is the load.

use super::text::Text;

/// What needs no weight.
const WITHOUT_LOAD: [&str; 22] = [
    "core",
    "trunk",
    "abs",
    "plank",
    "planks",
    "body weight",
    "bodyweight",
    "no weights",
    "without weights",
    "mobility",
    "stability",
    "balance",
    "stretching",
    "stretches",
    "feet",
    "foot",
    "calf raises",
    "bands",
    "band",
    "posture",
    "pilates",
    "yoga",
];

/// Words that part one from the next.
const BETWEEN: [&str; 4] = ["and", "&", "/", "only"];

/// Whether a note of strength work holds nothing but such words.
pub(crate) fn is_without_load(note: &str) -> bool {
    let mut text = Text::new(note);
    while !text.is_done() {
        let next =
            text.take_any_phrase(&WITHOUT_LOAD) || text.take_any_phrase(&BETWEEN) || text.take_any(&[',']).is_some();
        if !next {
            return false;
        }
        text.skip_space();
    }
    !note.is_empty()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_needs_no_weight_is_without_load() {
        for note in ["core", "Core", "core and feet", "planks, balance", "body weight only", "mobility / stretching"] {
            assert!(is_without_load(note), "{note}");
        }
        for note in ["", "legs", "core, then squats", "upper body", "5 x 5 squats", "corework with bar"] {
            assert!(!is_without_load(note), "{note}");
        }
    }
}

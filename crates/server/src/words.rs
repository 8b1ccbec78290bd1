//! What only pages have to say about what was typed; everything else is said by `formats::words`.

use planning::Problem;

/// What is wrong and what would be right, as a sentence.
pub(crate) fn problem(problem: &Problem) -> String {
    let said = formats::words::problem(problem);
    if said.ends_with(['.', '?', '!']) { said } else { format!("{said}.") }
}

/// What is missing where minutes and distance cannot be compared.
pub(crate) const NEEDS_A_PACE: &str =
    "Minutes and distance can be compared only with a pace of easy running; it belongs to the athlete.";

/// Text that is longer than what is kept.
pub(crate) fn too_long(what: &str, length: usize, most: usize) -> String {
    format!("{what}: {length} characters are too many; at most {most} are kept.")
}

/// More of something than is kept.
pub(crate) fn too_many(what: &str, count: usize, most: usize) -> String {
    format!("{what}: {count} are too many; at most {most} are kept.")
}

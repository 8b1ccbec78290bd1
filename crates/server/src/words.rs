//! The one place where the pages ask for the program's English: problems, rules, reasons and the
//! names of things are said in `formats::words`, the same there as here.

use planning::Problem;

/// What is wrong, and what would be right.
pub(crate) fn problem(problem: &Problem) -> String {
    format!("{:?}: {:?}", problem.at, problem.kind)
}

/// Text that is longer than what is kept.
pub(crate) fn too_long(what: &str, length: usize, most: usize) -> String {
    format!("{what} has {length} characters; up to {most} are kept.")
}

/// More of something than is kept.
pub(crate) fn too_many(what: &str, count: usize, most: usize) -> String {
    format!("These are {count} {what}; up to {most} are kept.")
}

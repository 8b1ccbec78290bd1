//! The one place where the pages ask for the program's English: problems, rules, reasons and the
//! names of things are said in `formats::words`, the same there as here.

use planning::{DistanceUnit, Problem};

/// What is wrong, and what would be right.
pub(crate) fn problem(problem: &Problem) -> String {
    format!("{:?}: {:?}", problem.at, problem.kind)
}

/// A unit of distance in full: `kilometres`.
pub(crate) const fn units(units: DistanceUnit) -> &'static str {
    match units {
        DistanceUnit::Km => "kilometres",
        DistanceUnit::Mi => "miles",
    }
}

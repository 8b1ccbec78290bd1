//! What only pages have to say about what was typed; everything else is said by `formats::words`.

use planning::{DistanceUnit, Problem, Weight, WeightUnit};
use store::{ArchiveProblem, WrongField};

/// What is wrong and what would be right, as a sentence.
pub(crate) fn problem(problem: &Problem) -> String {
    let said = formats::words::problem(problem);
    if said.ends_with(['.', '?', '!']) { said } else { format!("{said}.") }
}

/// What is missing where minutes and distance cannot be compared.
pub(crate) const NEEDS_A_PACE: &str =
    "Minutes and distance can be compared only with a pace of easy running; it belongs to the athlete.";

/// A weight in the unit that goes with a unit of distance: `62.5 kg`, `140 lb`.
pub(crate) fn weight(weight: Weight, units: DistanceUnit) -> String {
    let unit = WeightUnit::beside(units);
    format!("{} {}", weight.in_unit(unit), unit.symbol())
}

/// Text that is longer than what is kept.
pub(crate) fn too_long(what: &str, length: usize, most: usize) -> String {
    format!("{what}: {length} characters are too many; at most {most} are kept.")
}

/// More of something than is kept.
pub(crate) fn too_many(what: &str, count: usize, most: usize) -> String {
    format!("{what}: {count} are too many; at most {most} are kept.")
}

/// What is wrong with a file of a squad that is brought in: where, what stands there, what would be right.
pub(crate) fn archive_problem(file: &str, problem: &ArchiveProblem) -> String {
    let file = format!("json/{file}.json");
    match problem {
        ArchiveProblem::NoFile => format!("{file} is missing from the zip."),
        ArchiveProblem::Syntax { line, column } => {
            format!("{file}, line {line}, column {column}: from here on it is not JSON any more.")
        }
        ArchiveProblem::NoRecords => format!("{file} is not a list of records, [ {{ ... }}, ... ]."),
        ArchiveProblem::NotOne { count } => format!("{file} holds {count} records; it has to hold exactly one."),
        ArchiveProblem::PointsNowhere { record } => {
            format!("{file}, record {record}: it belongs to an athlete, a race or a block that is not in the zip.")
        }
        ArchiveProblem::Twice { record } => format!("{file}, record {record}: the same record stands there already."),
        ArchiveProblem::Field { record, field, value, wrong } => {
            let place = format!("{file}, record {record}, field “{field}”");
            let not = |what: &str| format!("{place}: “{value}” is not {what}.");
            match wrong {
                WrongField::Missing => format!("{place}: it is missing."),
                WrongField::Unknown => format!("{place}: there is no such field here; it holds “{value}”."),
                WrongField::NotWhole => not("a whole number"),
                WrongField::NotNumber => not("a number"),
                WrongField::NotText => not("text in quotation marks"),
                WrongField::NotFlag => not("true or false"),
                WrongField::NotDay => not("a date; write it like 2027-05-09"),
                WrongField::NotInstant => not("an instant; write it like 2027-05-09T07:30:00.000000Z"),
                WrongField::NotJson => not("a list or an object"),
                WrongField::NotAllowed => {
                    format!("{place}: “{value}” is outside what may stand there; README.txt in the zip says what may.")
                }
                WrongField::Refused(found) => {
                    let sentences: Vec<String> = found.iter().map(self::problem).collect();
                    format!("{place}: “{value}”. {}", sentences.join(" "))
                }
            }
        }
    }
}

//! What is said of a squad as one file.

use super::plural;
use crate::bundle::{BundleProblem, MOST_BYTES, MOST_FILES, MOST_UNPACKED};

/// The page that goes with every squad file: what is in it, field by field.
pub const SQUAD_README: &str = include_str!("squad_file.txt");

/// Why a zip is not taken, as a sentence.
pub fn bundle_problem(problem: &BundleProblem) -> String {
    match problem {
        BundleProblem::NotZip => {
            "This is not a zip file, or it is damaged. Choose the file that “Everything as one file” gave you."
                .to_owned()
        }
        BundleProblem::TooLarge => format!("The file is larger than {} MB; more is not taken.", MOST_BYTES / 1_048_576),
        BundleProblem::TooMany { count } => {
            format!("The zip holds {}; at most {MOST_FILES} are taken.", plural(*count, "file"))
        }
        BundleProblem::TooLargeUnpacked => {
            format!("Unpacked, the zip is larger than {} MB; more is not taken.", MOST_UNPACKED / 1_048_576)
        }
        BundleProblem::OddName { name } => {
            format!("The zip holds a file named “{name}”, which leads out of its folder. Nothing of it was taken.")
        }
        BundleProblem::Twice => {
            "The zip holds two files of the same name. Leave one of them out, and bring it in again.".to_owned()
        }
        BundleProblem::Unreadable { name } => {
            format!("“{name}” cannot be unpacked: it is damaged, locked with a password or packed in another way.")
        }
        BundleProblem::NotText { name } => format!("“{name}” is not text in UTF-8."),
    }
}

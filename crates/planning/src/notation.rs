//! A training day on one line, as a coach writes it.

use crate::problem::ProblemKind;
use crate::units::DistanceUnit;
use crate::week::Slot;

/// Reads one day of a base week: `6 x 800 m 10k pace, 10 km`, `7`, `5 + strength 30`, `50 min`.
///
/// # Errors
///
/// Everything that cannot be read, in the order of the line.
pub fn read_day(line: &str, units: DistanceUnit) -> Result<Vec<Slot>, Vec<ProblemKind>> {
    let _ = (line, units);
    todo!("helper")
}

/// Writes one day in the form that [`read_day`] reads back to the same slots.
pub fn write_day(slots: &[Slot]) -> String {
    let _ = slots;
    todo!("helper")
}

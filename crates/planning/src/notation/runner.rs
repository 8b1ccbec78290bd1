//! Who runs what a line says.

use crate::athlete::Athlete;
use crate::units::{DistanceUnit, Pace};

/// What a line needs to know of whoever runs it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Runner {
    /// The unit of numbers without one.
    pub units: DistanceUnit,
    /// At which minutes count where the whole of a run is offered; no line is read differently for it.
    pub easy_pace: Option<Pace>,
}

impl From<DistanceUnit> for Runner {
    fn from(units: DistanceUnit) -> Self {
        Self { units, easy_pace: None }
    }
}

impl From<&Athlete> for Runner {
    fn from(athlete: &Athlete) -> Self {
        Self { units: athlete.units, easy_pace: athlete.easy_pace }
    }
}

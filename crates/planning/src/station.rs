//! Places along a race: where there is something to drink, and where the coach stands.

use crate::race_time::RaceTime;
use crate::units::{Distance, DistanceUnit, Milli};

/// A place along the course, as it was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    value: Milli,
    unit: DistanceUnit,
    /// From the start, never beyond the finish.
    distance: Distance,
}

impl Place {
    /// How far a typed place may lie beyond the finish and still be it: 42.2 km in a marathon.
    ///
    /// # Source
    ///
    /// A convention of ours: above what rounding to a tenth of a kilometre adds to the usual distances.
    pub const ROUNDING: Distance = Distance::metres(10);

    /// A place in a race of some length; nothing at the start or before it, nor beyond the finish.
    pub fn within(value: Milli, unit: DistanceUnit, length: Distance) -> Option<Self> {
        let typed = Distance::from_milli(value, unit);
        let most = length.as_millimetres() + Self::ROUNDING.as_millimetres();
        let inside = value > Milli::ZERO && typed.as_millimetres() <= most;
        inside.then_some(Self { value, unit, distance: typed.min(length) })
    }

    /// The finish of a race.
    pub fn finish(length: Distance, unit: DistanceUnit) -> Self {
        Self { value: length.in_unit(unit), unit, distance: length }
    }

    /// As typed.
    pub const fn value(self) -> Milli {
        self.value
    }

    /// The unit in which it was typed.
    pub const fn unit(self) -> DistanceUnit {
        self.unit
    }

    /// From the start along the course.
    pub const fn distance(self) -> Distance {
        self.distance
    }
}

/// A place where athletes are looked after, or have to be in time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Station {
    /// Where.
    pub at: Place,
    /// What it is called; may be empty.
    pub name: String,
    /// What is there, in the coach's words; may be empty.
    pub what: String,
    /// Until when it has to be reached, from the start of the race.
    pub cut_off: Option<RaceTime>,
}

/// A place where the coach stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stand {
    /// Where.
    pub at: Place,
    /// What it is called; may be empty.
    pub name: String,
}

impl Station {
    /// The most that are kept for one race.
    pub const MOST: usize = 60;
    /// The longest line, in characters.
    pub const LINE_MOST: usize = 200;
}

impl Stand {
    /// The most that are kept for one race: more fit on no card.
    pub const MOST: usize = 6;
    /// The longest line, in characters: each heads a narrow column.
    pub const LINE_MOST: usize = 60;
}

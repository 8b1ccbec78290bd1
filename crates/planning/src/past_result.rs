//! A race or a time trial that was run.

use chrono::NaiveDate;

use crate::race::RaceDistance;
use crate::race_time::RaceTime;

/// What came out of one race or time trial.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PastResult {
    /// The day.
    pub date: NaiveDate,
    /// How far.
    pub distance: RaceDistance,
    /// How long it took.
    pub time: RaceTime,
    /// What was said beside it; may be empty.
    pub note: String,
}

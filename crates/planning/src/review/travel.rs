//! The race lies in another time zone.

use super::look::Look;
use super::{Figure, Finding, Level, RuleId};
use crate::units::Unit;

/// How far the clocks at the race are ahead of those at home, in minutes from -719 to 720; behind is
/// below zero.
///
/// The body knows the hour, not the date: 23 hours ahead are one hour behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClockShift(i32);

impl ClockShift {
    const DAY: i32 = 24 * 60;

    /// From the minutes by which the race's clocks are ahead of those at home, whatever the date there.
    pub const fn ahead(minutes: i32) -> Self {
        let wrapped = minutes.rem_euclid(Self::DAY);
        Self(if wrapped > Self::DAY / 2 { wrapped - Self::DAY } else { wrapped })
    }

    /// The minutes; behind is below zero.
    pub const fn minutes(self) -> i32 {
        self.0
    }
}

/// From this difference on the body notices.
///
/// # Source
///
/// Common practice, no published source.
pub const NOTICED: u32 = 3 * 60;

/// From this difference on a few days are not enough.
///
/// # Source
///
/// Common practice, no published source.
const FAR: u32 = 6 * 60;

/// Fires for a race whose clocks differ by three hours or more from those at home: a note, from six
/// hours a caution. Silent where either zone is unknown.
///
/// # Source
///
/// Common practice, no published source: about a day for each hour, sleep shifted beforehand, nothing
/// hard around travel.
pub(super) fn judge(look: &Look<'_>) -> Vec<Finding> {
    let Some(shift) = look.subject.clock_shift else { return Vec::new() };
    let far = shift.minutes().unsigned_abs();
    if far < NOTICED {
        return Vec::new();
    }
    let level = if far < FAR { Level::Note } else { Level::Caution };
    let figure = Figure::Amount(f64::from(shift.minutes()), Unit::Min);
    let limit = Figure::Amount(f64::from(NOTICED), Unit::Min);
    vec![Finding::new(RuleId::Travel, level, figure, limit).on(look.block.race_day)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::race::RaceDistance;
    use crate::review::sample::{SILENT, Sample, WEEK};

    fn said(minutes: i32) -> Vec<String> {
        let mut sample = Sample::new(WEEK, RaceDistance::Half);
        sample.clock_shift = Some(ClockShift::ahead(minutes));
        sample.says(RuleId::Travel)
    }

    #[test]
    fn three_hours_are_noted_and_six_are_a_caution_in_either_direction() {
        for silent in [0, 60, 179, -60, -179] {
            assert_eq!(said(silent), SILENT, "{silent}");
        }
        assert_eq!(said(180), ["note: 180.00 min for 180.00 min on D0"]);
        assert_eq!(said(-180), ["note: -180.00 min for 180.00 min on D0"]);
        assert_eq!(said(210), ["note: 210.00 min for 180.00 min on D0"], "half hours count");
        assert_eq!(said(359), ["note: 359.00 min for 180.00 min on D0"]);
        assert_eq!(said(360), ["caution: 360.00 min for 180.00 min on D0"]);
        assert_eq!(said(-345), ["note: -345.00 min for 180.00 min on D0"]);
        assert_eq!(said(-360), ["caution: -360.00 min for 180.00 min on D0"]);
    }

    #[test]
    fn the_body_knows_the_hour_and_not_the_date() {
        let minutes = |ahead: i32| ClockShift::ahead(ahead).minutes();
        assert_eq!((minutes(24 * 60), minutes(-24 * 60)), (0, 0));
        assert_eq!((minutes(18 * 60), minutes(-18 * 60)), (-6 * 60, 6 * 60));
        assert_eq!((minutes(12 * 60), minutes(-12 * 60), minutes(12 * 60 + 1)), (720, 720, -719));
        assert_eq!(said(22 * 60), SILENT);
    }

    #[test]
    fn an_unknown_zone_says_nothing() {
        assert_eq!(Sample::new(WEEK, RaceDistance::Half).says(RuleId::Travel), SILENT);
    }
}

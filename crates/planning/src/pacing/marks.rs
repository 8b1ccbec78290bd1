//! The places on a course at which a time is worth knowing.

use crate::race::RaceDistance;
use crate::units::{Distance, DistanceUnit};

/// A place with a name of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark {
    /// Where.
    pub at: Distance,
    /// Its name.
    pub name: MarkName,
}

/// The names of places.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "the names say it")]
pub enum MarkName {
    Km(u16),
    Miles(u16),
    Half,
    Marathon,
    Finish,
}

/// A last mark within a few steps of the line would be the finish once more: 10 m, in millimetres.
const AT_THE_FINISH: i64 = 10_000;

/// Every whole unit before the end, and the end.
pub fn every(unit: DistanceUnit, step: u16, length: Distance) -> Vec<Distance> {
    let step = unit.millimetres() * i64::from(step.max(1));
    let end = length.as_millimetres() - AT_THE_FINISH;
    let whole = (1..).map(|count| count * step).take_while(|at| *at < end).map(Distance::millimetres);
    whole.chain([length]).collect()
}

/// Every how many units a time stands on paper, so that a sheet has about ten rows.
///
/// # Source
///
/// Common practice, no published source: every 5 km or 3 miles, more often where that gives too few rows.
pub fn paper_step(unit: DistanceUnit, length: Distance) -> u16 {
    let units = length.as_millimetres() / unit.millimetres();
    match unit {
        DistanceUnit::Km if units <= 10 => 1,
        DistanceUnit::Km if units <= 16 => 2,
        DistanceUnit::Km => 5,
        DistanceUnit::Mi if units <= 10 => 1,
        DistanceUnit::Mi => 3,
    }
}

/// The places at which everybody who thinks in a unit knows their times, with the end.
///
/// # Source
///
/// Common practice, no published source.
pub fn usual_marks(length: Distance, unit: DistanceUnit) -> Vec<Mark> {
    let km = |count: u16| Mark { at: Distance::metres(i64::from(count) * 1000), name: MarkName::Km(count) };
    let miles = |count: u16| Mark {
        at: Distance::millimetres(i64::from(count) * DistanceUnit::Mi.millimetres()),
        name: MarkName::Miles(count),
    };
    let mut marks: Vec<Mark> = match unit {
        DistanceUnit::Km => [5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 90, 100].map(km).into(),
        DistanceUnit::Mi if length < miles(10).at => (1..10).map(miles).collect(),
        DistanceUnit::Mi => (1..=13).map(|fives| miles(5 * fives)).collect(),
    };
    marks.push(Mark { at: RaceDistance::Half.distance(), name: MarkName::Half });
    marks.push(Mark { at: RaceDistance::Marathon.distance(), name: MarkName::Marathon });
    marks.retain(|mark| mark.at.as_millimetres() < length.as_millimetres() - AT_THE_FINISH);
    marks.sort_by_key(|mark| mark.at);
    marks.push(Mark { at: length, name: MarkName::Finish });
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_stand_at_whole_units_and_at_the_end_once() {
        let half = RaceDistance::Half.distance();
        let marks = every(DistanceUnit::Km, 5, half);
        assert_eq!(marks.iter().map(|mark| mark.as_km()).collect::<Vec<_>>(), [5.0, 10.0, 15.0, 20.0, 21.0975]);
        assert_eq!(every(DistanceUnit::Km, 1, Distance::metres(10_000)).len(), 10);
        assert_eq!(every(DistanceUnit::Mi, 1, RaceDistance::TenMiles.distance()).len(), 10);
        assert_eq!(every(DistanceUnit::Mi, 1, Distance::metres(10_000)).len(), 7);
        assert_eq!(every(DistanceUnit::Km, 5, Distance::metres(800)), [Distance::metres(800)]);
    }

    #[test]
    fn a_sheet_has_at_most_ten_rows_up_to_the_marathon() {
        for distance in RaceDistance::STANDARD.map(RaceDistance::distance) {
            for unit in [DistanceUnit::Km, DistanceUnit::Mi] {
                let rows = every(unit, paper_step(unit, distance), distance).len();
                assert!((4..=10).contains(&rows), "{rows} for {distance:?} in {unit:?}");
            }
        }
    }

    #[test]
    fn usual_marks_are_in_order_and_end_at_the_finish() {
        let of = |length, unit| usual_marks(length, unit).into_iter().map(|mark| mark.name).collect::<Vec<_>>();
        let names = |length| of(length, DistanceUnit::Km);
        assert_eq!(names(Distance::metres(5000)), [MarkName::Finish]);
        let km = MarkName::Km;
        assert_eq!(names(RaceDistance::Half.distance()), [km(5), km(10), km(15), km(20), MarkName::Finish]);
        assert!(names(Distance::metres(50_000)).contains(&MarkName::Marathon));
        let in_miles = |length| of(length, DistanceUnit::Mi);
        let mi = MarkName::Miles;
        assert_eq!(in_miles(Distance::metres(5000)), [mi(1), mi(2), mi(3), MarkName::Finish]);
        assert_eq!(in_miles(RaceDistance::Half.distance()), [mi(5), mi(10), MarkName::Finish]);
        let marathon = [mi(5), mi(10), MarkName::Half, mi(15), mi(20), mi(25), MarkName::Finish];
        assert_eq!(in_miles(RaceDistance::Marathon.distance()), marathon);
    }
}

//! The course of a race: how far, and how high where.

use crate::problem::ProblemKind;
use crate::units::Distance;

/// A point of a course as it was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredPoint {
    /// How far along the course.
    pub along: Distance,
    /// Its height in metres, where it was measured.
    pub height: Option<f64>,
}

/// Heights along a course of exactly the official length, smoothed, in cells of one length.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    length: Distance,
    measured: Option<Distance>,
    /// In metres, at both ends of every cell; none where the course is taken as flat.
    heights: Vec<f64>,
    cells: usize,
}

/// How far a measured course may differ from the official distance and still be that course.
///
/// # Source
///
/// A convention of ours: watches err by some per cent, another loop or a missing part by more.
pub const LENGTH_TOLERANCE: f64 = 0.10;

/// Heights are averaged over this many metres to either side; nearer an end they lie on the straight line that
/// fits best over the first or last twice as many. A watch that is 2 m off each second then climbs nothing on
/// the flat, and a hill of 200 m stays one.
///
/// # Source
///
/// A convention of ours, held by a test on noise.
const SMOOTHED_OVER: f64 = 100.0;

/// The longest cell in metres: over it a grade is taken.
pub(crate) const CELL: f64 = 100.0;

/// A rise or fall counts from this many metres on.
///
/// # Source
///
/// A convention of ours: less is below what receivers measure.
const COUNTS_FROM: f64 = 5.0;

impl Profile {
    /// A course of this length without hills.
    pub fn flat(length: Distance) -> Self {
        Self { length, measured: None, heights: Vec::new(), cells: cells(length, CELL) }
    }

    /// A measured course, stretched or shrunk to the official distance; flat where no height was measured.
    /// Points come in the order of the course.
    ///
    /// # Errors
    ///
    /// [`ProblemKind::CourseTooShort`] for less than two places, [`ProblemKind::CourseOfOtherLength`] where
    /// it differs from the official distance by more than [`LENGTH_TOLERANCE`].
    pub fn fit(points: &[MeasuredPoint], official: Distance) -> Result<Self, ProblemKind> {
        Self::fit_in_cells(points, official, CELL)
    }

    /// As [`Profile::fit`], in cells of so many metres at most.
    pub(crate) fn fit_in_cells(points: &[MeasuredPoint], official: Distance, cell: f64) -> Result<Self, ProblemKind> {
        let along = |point: Option<&MeasuredPoint>| point.map_or(0, |point| point.along.as_millimetres());
        let measured = Distance::millimetres(along(points.last()) - along(points.first()));
        if measured.as_millimetres() <= 0 {
            return Err(ProblemKind::CourseTooShort { points: points.len() });
        }
        let (measured_km, official_km) = (measured.as_km(), official.as_km());
        if (measured_km / official_km - 1.0).abs() > LENGTH_TOLERANCE {
            return Err(ProblemKind::CourseOfOtherLength { measured_km, official_km });
        }
        let (start, scale) = (along(points.first()), official_km / measured_km);
        let metres = |point: &MeasuredPoint| (point.along.as_millimetres() - start) as f64 / 1000.0 * scale;
        let raw: Vec<(f64, f64)> = points
            .iter()
            .filter_map(|point| point.height.filter(|height| height.is_finite()).map(|height| (metres(point), height)))
            .collect();
        let cells = cells(official, cell);
        let heights = if raw.len() < 2 { Vec::new() } else { Line::through(&raw).smoothed(official, cells) };
        Ok(Self { length: official, measured: Some(measured), heights, cells })
    }

    /// The official length.
    pub const fn length(&self) -> Distance {
        self.length
    }

    /// How long the course was before it was fitted, where one was measured.
    pub const fn measured(&self) -> Option<Distance> {
        self.measured
    }

    /// Whether heights are known.
    pub const fn has_heights(&self) -> bool {
        !self.heights.is_empty()
    }

    /// The length of a cell in metres.
    pub(crate) fn cell(&self) -> f64 {
        metres(self.length) / self.cells as f64
    }

    /// Rise over run of every cell, from the start.
    pub(crate) fn grades(&self) -> Vec<f64> {
        if self.heights.is_empty() {
            return vec![0.0; self.cells];
        }
        let cell = self.cell();
        self.heights.windows(2).map(|ends| (ends[1] - ends[0]) / cell).collect()
    }

    /// The height in metres somewhere on the course; 0 where none is known.
    pub fn height_at(&self, at: Distance) -> f64 {
        let place = (metres(at) / self.cell()).clamp(0.0, self.cells as f64);
        let cell = (place as usize).min(self.cells - 1);
        match self.heights.get(cell..=cell + 1) {
            Some(ends) => ends[0] + (ends[1] - ends[0]) * (place - cell as f64),
            None => 0.0,
        }
    }

    /// The lowest and the highest point in metres.
    pub fn range(&self) -> Option<(f64, f64)> {
        let low = self.heights.iter().copied().reduce(f64::min)?;
        Some((low, self.heights.iter().copied().reduce(f64::max)?))
    }

    /// All rises that count, added up, in metres.
    pub fn climb(&self) -> f64 {
        counted(self.heights.iter().copied())
    }

    /// All falls that count, added up, in metres.
    pub fn descent(&self) -> f64 {
        counted(self.heights.iter().map(|height| -height))
    }
}

/// An even number, so that the half-way mark is a border between two.
fn cells(length: Distance, cell: f64) -> usize {
    2 * ((metres(length) / cell / 2.0).ceil() as usize).max(1)
}

fn metres(distance: Distance) -> f64 {
    distance.as_millimetres() as f64 / 1000.0
}

/// The rises from each low to the high after it, where they reach [`COUNTS_FROM`].
fn counted(heights: impl Iterator<Item = f64>) -> f64 {
    let mut total = 0.0;
    let mut ends: Option<(f64, f64)> = None;
    for height in heights {
        let (low, high) = ends.unwrap_or((height, height));
        ends = Some(if high - height >= COUNTS_FROM || height < low {
            // A new low: what rose up to here is over.
            total += rise(low, high);
            (height, height)
        } else {
            (low, high.max(height))
        });
    }
    total + ends.map_or(0.0, |(low, high)| rise(low, high))
}

fn rise(low: f64, high: f64) -> f64 {
    if high - low >= COUNTS_FROM { high - low } else { 0.0 }
}

/// Heights as straight lines between points, with what lies under them up to each.
struct Line<'a> {
    points: &'a [(f64, f64)],
    under: Vec<f64>,
}

impl<'a> Line<'a> {
    fn through(points: &'a [(f64, f64)]) -> Self {
        let mut under = Vec::with_capacity(points.len());
        let mut total = 0.0;
        under.push(total);
        for ends in points.windows(2) {
            total += (ends[1].0 - ends[0].0).max(0.0) * f64::midpoint(ends[0].1, ends[1].1);
            under.push(total);
        }
        Self { points, under }
    }

    /// The height at a place, and what lies under the line up to there. Before the first and after the
    /// last point it is level.
    fn at(&self, place: f64) -> (f64, f64) {
        let behind = self.points.partition_point(|point| point.0 <= place);
        let (first, last) = (self.points[0], self.points[self.points.len() - 1]);
        if behind == 0 {
            return (first.1, (place - first.0) * first.1);
        }
        if behind == self.points.len() {
            return (last.1, self.under[behind - 1] + (place - last.0) * last.1);
        }
        let (from, to) = (self.points[behind - 1], self.points[behind]);
        let height = from.1 + (to.1 - from.1) * (place - from.0) / (to.0 - from.0);
        (height, self.under[behind - 1] + (place - from.0) * f64::midpoint(from.1, height))
    }

    fn mean(&self, from: f64, to: f64) -> f64 {
        (self.at(to).1 - self.at(from).1) / (to - from)
    }

    /// The smoothed heights at the ends of every cell.
    fn smoothed(&self, length: Distance, cells: usize) -> Vec<f64> {
        let length = metres(length);
        let over = SMOOTHED_OVER.min(length / 4.0);
        (0..=cells)
            .map(|cell| {
                let place = length * cell as f64 / cells as f64;
                if place >= over && place <= length - over {
                    return self.mean(place - over, place + over);
                }
                // Near an end the straight line that fits best over as long a stretch: a mean alone would
                // flatten a slope on which the race begins, a shorter line would follow the noise.
                let (from, to) = if place < over { (0.0, 2.0 * over) } else { (length - 2.0 * over, length) };
                self.line_over(from, to, place)
            })
            .collect()
    }

    /// The best straight line over a stretch, at a place in it.
    fn line_over(&self, from: f64, to: f64, place: f64) -> f64 {
        const PARTS: usize = 32;
        let (wide, middle) = ((to - from) / PARTS as f64, f64::midpoint(from, to));
        let (mut mean, mut tilt, mut square) = (0.0, 0.0, 0.0);
        for part in 0..PARTS {
            let start = from + wide * part as f64;
            let (height, off) = (self.mean(start, start + wide), start + wide / 2.0 - middle);
            mean += height / PARTS as f64;
            tilt += height * off;
            square += off * off;
        }
        mean + tilt / square * (place - middle)
    }
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "values that are computed the same way")]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn course(heights: &[(f64, Option<f64>)]) -> Vec<MeasuredPoint> {
        let point = |(metres, height): &(f64, Option<f64>)| MeasuredPoint {
            along: Distance::millimetres((metres * 1000.0).round() as i64),
            height: *height,
        };
        heights.iter().map(point).collect()
    }

    /// Noise that is the same each time, between -1 and 1, without memory from one call to the next.
    fn noise(place: u64) -> f64 {
        let mut bits = place.wrapping_add(1).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (bits ^ (bits >> 31)) as f64 / u64::MAX as f64 * 2.0 - 1.0
    }

    #[test]
    fn two_metres_of_noise_each_second_climb_nothing_and_missing_heights_are_skipped() {
        let noisy = |missing: bool| {
            let height =
                |second: u64| (!missing || !(1500..1502).contains(&second)).then(|| 120.0 + 2.0 * noise(second));
            let points: Vec<_> = (0..=3000).map(|second| (second as f64 / 0.3, height(second))).collect();
            Profile::fit(&course(&points), Distance::metres(10_000)).unwrap()
        };
        for profile in [noisy(false), noisy(true)] {
            assert_eq!((profile.climb(), profile.descent()), (0.0, 0.0));
            assert!(profile.grades().iter().all(|grade| grade.abs() < 0.008), "{:?}", profile.grades());
        }
    }

    /// The first and the last cell have ground on one side only.
    #[test]
    fn noise_tilts_the_ends_less_than_twice_as_much_as_the_middle() {
        let (mut ends, mut middle) = (0.0_f64, 0.0_f64);
        for course_number in 0..100 {
            let height = |second: u64| Some(120.0 + 2.0 * noise(course_number * 10_000 + second));
            let points: Vec<_> = (0..=3000).map(|second| (second as f64 / 0.3, height(second))).collect();
            let grades = Profile::fit(&course(&points), Distance::metres(10_000)).unwrap().grades();
            ends += (grades[0].powi(2) + grades[99].powi(2)) / 200.0;
            middle += grades[1..99].iter().map(|grade| grade.powi(2)).sum::<f64>() / 9_800.0;
        }
        assert!(ends.sqrt() < 2.0 * middle.sqrt(), "{} and {}", ends.sqrt(), middle.sqrt());
    }

    #[test]
    fn a_hill_keeps_its_height_and_its_slope_up_to_both_ends() {
        let points = course(&[(0.0, Some(50.0)), (2500.0, Some(150.0)), (5000.0, Some(50.0))]);
        let profile = Profile::fit(&points, Distance::metres(5000)).unwrap();
        assert!((profile.climb() - 100.0).abs() < 3.0 && (profile.descent() - 100.0).abs() < 3.0);
        let grades = profile.grades();
        assert!((grades[0] - 0.04).abs() < 1e-9 && (grades[49] + 0.04).abs() < 1e-9, "{grades:?}");
        assert!((profile.height_at(Distance::metres(1250)) - 100.0).abs() < 1e-6);
    }

    #[test]
    fn another_length_is_scaled_up_to_a_tenth_and_refused_beyond() {
        let of = |metres: f64| Profile::fit(&course(&[(0.0, None), (metres, None)]), Distance::metres(10_000));
        for (metres, fits) in [(8_999.0, false), (9_001.0, true), (10_999.0, true), (11_001.0, false)] {
            assert_eq!(of(metres).is_ok(), fits, "{metres}");
        }
        let fitted = of(10_150.0).unwrap();
        assert_eq!((fitted.length(), fitted.measured()), (Distance::metres(10_000), Some(Distance::metres(10_150))));
        assert!(!fitted.has_heights());
        assert!(matches!(of(0.0), Err(ProblemKind::CourseTooShort { points: 2 })));
        assert!(matches!(Profile::fit(&[], Distance::metres(10_000)), Err(ProblemKind::CourseTooShort { points: 0 })));
    }

    #[test]
    fn small_bumps_do_not_add_up_to_a_mountain() {
        assert_eq!(counted([0.0, 4.0, 0.0, 4.0, 0.0].into_iter()), 0.0);
        assert_eq!(counted([0.0, 4.0, 1.0, 9.0].into_iter()), 9.0);
        assert_eq!(counted([0.0, 10.0, 4.0, 12.0, -3.0, 6.0].into_iter()), 10.0 + 8.0 + 9.0);
    }

    proptest! {
        #[test]
        fn climb_less_descent_is_what_the_ends_differ_by(heights in prop::collection::vec(-50.0..400.0_f64, 3..60)) {
            let points: Vec<_> = heights.iter().enumerate().map(|(at, height)| (at as f64 * 700.0, Some(*height))).collect();
            let official = Distance::metres((points.len() as i64 - 1) * 700);
            let profile = Profile::fit(&course(&points), official).unwrap();
            let ends = profile.height_at(official) - profile.height_at(Distance::metres(0));
            prop_assert!((profile.climb() - profile.descent() - ends).abs() <= 2.0 * COUNTS_FROM);
            prop_assert!(profile.grades().iter().all(|grade| grade.is_finite()));
        }
    }
}

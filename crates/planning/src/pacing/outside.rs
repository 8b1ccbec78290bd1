//! Our times beside those that scripts in `tests/reference` wrote with outside libraries; what they do is said
//! there.

use super::*;
use crate::profile::{CELL, MeasuredPoint};

fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("{text} is a number"))
}

/// A course, and beside each strategy and goal the seconds since the start at every kilometre.
struct Course {
    is_road: bool,
    official: Distance,
    points: Vec<MeasuredPoint>,
    times: Vec<(Strategy, RaceTime, Vec<f64>)>,
}

fn courses() -> Vec<Course> {
    let mut courses: Vec<Course> = Vec::new();
    for row in include_str!("../../../../tests/reference/pacing.csv").lines() {
        match (&row.split(',').collect::<Vec<_>>()[..], courses.last_mut()) {
            (["course", kind, length], _) => {
                let official = Distance::millimetres(length.parse().unwrap());
                courses.push(Course { is_road: *kind == "road", official, points: Vec::new(), times: Vec::new() });
            }
            (["point", along, height], Some(course)) => course.points.push(MeasuredPoint {
                along: Distance::millimetres((number(along) * 1000.0).round() as i64),
                height: (!height.is_empty()).then(|| number(height)),
            }),
            (["times", goal, slower, descent, easier, times @ ..], Some(course)) => {
                let strategy = Strategy {
                    slower_half_tenths: slower.parse().unwrap(),
                    descent_percent: descent.parse().unwrap(),
                    first_easier_tenths: easier.parse().unwrap(),
                };
                let times = times.iter().map(|time| number(time)).collect();
                course.times.push((strategy, RaceTime::seconds(goal.parse().unwrap()), times));
            }
            _ => panic!("{row}"),
        }
    }
    courses
}

/// By how many seconds our times at the kilometres are off at most, in cells of so many metres.
fn most_off(course: &Course, cell: f64, time: impl Fn(&Pacing, Distance) -> f64) -> f64 {
    let profile = Profile::fit_in_cells(&course.points, course.official, cell).unwrap();
    let mut most = 0.0_f64;
    for (strategy, goal, times) in &course.times {
        let pacing = Pacing::new(&profile, *strategy, *goal);
        for (km, expected) in (1..).zip(times) {
            most = most.max((time(&pacing, Distance::metres(km * 1000)) - expected).abs());
        }
    }
    most
}

fn shown(pacing: &Pacing, at: Distance) -> f64 {
    f64::from(pacing.elapsed(at).as_seconds())
}

/// As they are shown: half a second is rounding, the rest that a cell has one grade though the ground in it has many.
#[test]
fn an_outside_library_passes_every_kilometre_of_a_course_in_the_same_seconds() {
    let courses = courses();
    assert_eq!(courses.len(), 10);
    for course in courses {
        assert_eq!(course.times.len(), 18, "six strategies, three goals");
        for (.., times) in &course.times {
            assert_eq!(times.len() as i64, course.official.as_millimetres() / 1_000_000, "each kilometre");
        }
        let (most, allowed) = (most_off(&course, CELL, shown), if course.is_road { 2.5 } else { 9.0 });
        println!("{:.1} km: {most:.2} s", course.official.as_km());
        assert!(most <= allowed, "{:.1} km: {most} s", course.official.as_km());
    }
}

/// That the seconds above come from the length of the cells and from nothing else.
#[test]
fn in_cells_of_four_metres_the_outside_library_differs_by_less_than_a_fifth_of_a_second() {
    for course in courses() {
        let most = most_off(&course, 4.0, Pacing::seconds_at);
        println!("{:.1} km: {most:.3} s", course.official.as_km());
        assert!(most < 0.2, "{:.1} km: {most} s", course.official.as_km());
    }
}

/// Two metres to either side each second on the flat, at 5:00 for a kilometre.
#[test]
fn noise_of_a_watch_climbs_nothing_and_moves_no_kilometre_by_a_second() {
    let heights: Vec<f64> = include_str!("../../../../tests/reference/noise.csv").lines().skip(1).map(number).collect();
    let (seconds, length) = (3000, Distance::metres(10_000));
    assert_eq!(heights.len(), seconds + 1);
    assert!(heights.iter().any(|height| *height < 118.1) && heights.iter().any(|height| *height > 121.9));
    let point = |(second, height): (usize, &f64)| MeasuredPoint {
        along: Distance::millimetres(length.as_millimetres() * second as i64 / seconds as i64),
        height: Some(*height),
    };
    let points: Vec<MeasuredPoint> = heights.iter().enumerate().map(point).collect();
    let noisy = Profile::fit(&points, length).unwrap();
    assert_eq!((noisy.climb(), noisy.descent()), (0.0, 0.0));
    for descent_percent in [0, 50, 100] {
        let strategy = Strategy { descent_percent, ..Strategy::default() };
        let pacing = Pacing::new(&noisy, strategy, RaceTime::seconds(3000));
        let at = |km: i64| pacing.seconds_at(Distance::metres(km * 1000));
        for km in 1..=10 {
            let off = at(km) - at(km - 1) - 300.0;
            assert!(off.abs() < 1.0, "{descent_percent} %, kilometre {km}: {off}");
        }
    }
}

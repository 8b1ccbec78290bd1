//! What a race sheet's times cost: a course of 10,000 points fitted to a marathon, three goals spread over
//! it, a time for every kilometre. Beside it a plain copy of the points: nothing that reads them all is faster.
//!
//! `cargo xtask bench` runs it. The ratio of the two says what is left to gain.

use std::hint::black_box;

use divan::Bencher;
use divan::counter::ItemsCount;
use planning::profile::MeasuredPoint;
use planning::{Distance, DistanceUnit, Pacing, Profile, RaceTime, Strategy, pacing};

/// As many as a watch writes down in a slow marathon, every second or two.
const POINTS: usize = 10_000;

/// Goals A, B and C, in seconds.
const GOALS: [u32; 3] = [3 * 3600 + 25 * 60, 3 * 3600 + 30 * 60, 3 * 3600 + 45 * 60];

fn main() {
    divan::main();
}

fn marathon() -> Distance {
    Distance::metres(42_195)
}

/// Rolling hills a little longer than the race, as courses are measured.
fn course() -> Vec<MeasuredPoint> {
    let point = |number: usize| {
        let metres = number as f64 * 42_400.0 / (POINTS - 1) as f64;
        let height = 80.0 + 40.0 * (metres / 1_700.0).sin() + 6.0 * (metres / 230.0).cos();
        MeasuredPoint { along: Distance::millimetres((metres * 1000.0) as i64), height: Some(height) }
    };
    (0..POINTS).map(point).collect()
}

#[divan::bench(sample_count = 200)]
fn three_goals_every_kilometre(bencher: Bencher<'_, '_>) {
    let (points, marks) = (course(), pacing::every(DistanceUnit::Km, 1, marathon()));
    assert!(Profile::fit(&points, marathon()).is_ok(), "a course that is refused measures nothing");
    bencher.counter(ItemsCount::new(POINTS)).bench_local(|| {
        let profile = Profile::fit(black_box(&points), marathon()).ok()?;
        Some(GOALS.map(|goal| Pacing::new(&profile, Strategy::default(), RaceTime::seconds(goal)).splits(&marks)))
    });
}

#[divan::bench(sample_count = 200)]
fn copy_of_the_points(bencher: Bencher<'_, '_>) {
    let points = course();
    bencher.counter(ItemsCount::new(POINTS)).bench_local(|| black_box(&points).clone());
}

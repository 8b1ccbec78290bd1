use proptest::prelude::{prop, prop_assert, prop_assert_eq, proptest};
use proptest::strategy::Strategy as _;

use super::*;
use crate::RaceDistance;
use crate::profile::MeasuredPoint;
use crate::units::DistanceUnit;

fn time(hours: u32, minutes: u32, seconds: u32) -> RaceTime {
    RaceTime::seconds(hours * 3600 + minutes * 60 + seconds)
}

fn hilly(length: f64, heights: &[f64]) -> Profile {
    let gap = length / (heights.len() - 1) as f64;
    let point = |(place, height): (usize, &f64)| MeasuredPoint {
        along: Distance::millimetres((place as f64 * gap * 1000.0).round() as i64),
        height: Some(*height),
    };
    let points: Vec<MeasuredPoint> = heights.iter().enumerate().map(point).collect();
    Profile::fit(&points, Distance::millimetres((length * 1000.0) as i64)).unwrap()
}

fn slower(tenths: i16) -> Strategy {
    Strategy { slower_half_tenths: tenths, ..Strategy::default() }
}

/// Mean half-difference of 69,814 men in six big marathons (doi 10.3390/medicina55010014): 3.44 %, which
/// splits 3:30:00 into 1:43:13.5 and 1:46:46.5 by T / (2 + s).
#[test]
fn halves_differ_by_what_is_set() {
    let free = Held { until: 0.0, easier: 0.0 };
    for (slower, first, second) in [(0.0344, 6193.5, 6406.5), (0.0, 6300.0, 6300.0), (-0.02, 6363.6, 6236.4)] {
        let seconds = spread(&[1.0; 422], slower, free, 12_600.0);
        let halves = (seconds[..211].iter().sum::<f64>(), seconds[211..].iter().sum::<f64>());
        assert!((halves.0 - first).abs() < 0.05 && (halves.1 - second).abs() < 0.05, "{slower}: {halves:?}");
    }
    let marathon = RaceDistance::Marathon.distance();
    let half = Distance::millimetres(marathon.as_millimetres() / 2);
    let pacing = Pacing::new(&Profile::flat(marathon), slower(-20), time(3, 30, 0));
    assert_eq!(pacing.elapsed(half), time(1, 46, 4));
}

#[test]
fn no_start_is_faster_than_the_average_on_equal_terms() {
    let marathon = RaceDistance::Marathon.distance();
    let goal = time(3, 30, 0);
    for (strategy, first_5_km) in [
        (slower(50), 12_600.0 / 42.195 * 5.0),
        (Strategy { first_easier_tenths: 20, ..Strategy::default() }, 12_600.0 / 42.195 * 5.0 * 1.02),
    ] {
        let pacing = Pacing::new(&Profile::flat(marathon), strategy, goal);
        let found = f64::from(pacing.elapsed(Distance::metres(5000)).as_seconds());
        assert!((found - first_5_km).abs() <= 1.0, "{strategy:?}: {found} for {first_5_km}");
        assert_eq!(pacing.elapsed(marathon), goal);
    }
}

/// A third of 5 km ends inside a cell: 40 minutes are 0.48 s a metre, so 1,666.7 m 10 % easier take 880 s and what is
/// left 0.456 s a metre.
#[test]
fn the_first_kilometres_end_where_they_end_and_not_with_a_cell() {
    let strategy = Strategy { first_easier_tenths: 100, ..Strategy::default() };
    let pacing = Pacing::new(&Profile::flat(Distance::metres(5000)), strategy, time(0, 40, 0));
    assert_eq!(pacing.elapsed(Distance::metres(1000)), time(0, 8, 48));
    assert_eq!(pacing.elapsed(Distance::metres(2000)), time(0, 17, 12));
}

/// Constant effort out and back on 2 %: 334.01 s up and 269.07 s down for a pace of 5:00 on the flat, 301.54 s in
/// the mean, by the polynomial of Minetti 2002 computed with another program.
#[test]
fn a_hill_out_and_back_costs_what_the_polynomial_says() {
    let course = hilly(10_000.0, &[100.0, 200.0, 100.0]);
    let all = Strategy { descent_percent: 100, ..Strategy::default() };
    let pacing = Pacing::new(&course, all, RaceTime::seconds(3015));
    let up = pacing.elapsed(Distance::metres(4000)).as_seconds();
    let down = 3015 - pacing.elapsed(Distance::metres(6000)).as_seconds();
    assert!((f64::from(up) / 4.0 - 334.01).abs() < 0.5, "{up}");
    assert!((f64::from(down) / 4.0 - 269.07).abs() < 0.5, "{down}");
}

#[test]
fn a_place_is_found_again_by_its_time() {
    let pacing = Pacing::new(&hilly(21_097.5, &[0.0, 80.0, 20.0, 90.0]), Strategy::default(), time(1, 45, 0));
    for km in 1..21 {
        let at = Distance::metres(km * 1000);
        let found = pacing.place_at(pacing.elapsed(at));
        assert!((found.as_km() - at.as_km()).abs() < 0.003, "{km}: {found:?}");
    }
    assert_eq!(pacing.place_at(time(2, 0, 0)), RaceDistance::Half.distance());
    assert_eq!(pacing.place_at(time(0, 0, 0)), Distance::metres(0));
}

fn any_strategy() -> impl proptest::strategy::Strategy<Value = Strategy> {
    (Strategy::SLOWER_HALF, 0_u8..=100, Strategy::FIRST_EASIER).prop_map(|(half, descent, first)| Strategy {
        slower_half_tenths: half,
        descent_percent: descent,
        first_easier_tenths: first,
    })
}

proptest! {
    #[test]
    fn splits_add_up_to_the_goal_and_every_place_comes_later_than_the_one_before(
        heights in prop::collection::vec(0.0..300.0_f64, 2..40),
        length in 3_000.0..60_000.0_f64,
        pace in 170.0..800.0_f64,
        strategy in any_strategy(),
    ) {
        let profile = hilly(length, &heights);
        let goal = RaceTime::seconds((length / 1000.0 * pace) as u32);
        let pacing = Pacing::new(&profile, strategy, goal);
        for unit in [DistanceUnit::Km, DistanceUnit::Mi] {
            let splits = pacing.splits(&every(unit, 1, profile.length()));
            let sum: u32 = splits.iter().map(|split| split.split.as_seconds()).sum();
            prop_assert_eq!(sum, goal.as_seconds());
            prop_assert!(splits.windows(2).all(|pair| pair[0].elapsed < pair[1].elapsed));
            prop_assert_eq!(splits.last().map(|split| split.elapsed), Some(goal));
        }
        // Before rounding too: the level found meets the goal.
        prop_assert!((pacing.elapsed[pacing.elapsed.len() - 1] - f64::from(goal.as_seconds())).abs() < 1e-3);
    }

    #[test]
    fn a_faster_goal_is_nowhere_behind(
        heights in prop::collection::vec(0.0..300.0_f64, 2..40),
        strategy in any_strategy(),
        faster in 1_u32..600,
    ) {
        let profile = hilly(42_195.0, &heights);
        let of = |seconds| Pacing::new(&profile, strategy, RaceTime::seconds(seconds));
        let (ahead, behind) = (of(12_600 - faster), of(12_600));
        for mark in every(DistanceUnit::Km, 1, profile.length()) {
            prop_assert!(ahead.elapsed(mark) <= behind.elapsed(mark));
        }
    }

    #[test]
    fn steeper_cells_of_a_rising_course_take_longer(strategy in any_strategy()) {
        let profile = hilly(12_000.0, &[0.0, 20.0, 80.0, 80.0, 80.0]);
        let even = Strategy { slower_half_tenths: 0, first_easier_tenths: 0, ..strategy };
        let pacing = Pacing::new(&profile, even, RaceTime::seconds(3600));
        let between = |from: i64, to: i64| {
            pacing.elapsed(Distance::metres(to)).as_seconds() - pacing.elapsed(Distance::metres(from)).as_seconds()
        };
        prop_assert!(between(4000, 5000) > between(1000, 2000));
        prop_assert!(between(4000, 5000) > between(7000, 8000));
    }
}

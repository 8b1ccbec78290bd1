use proptest::prelude::*;

use super::*;
use crate::notation::{read_result, read_week};
use crate::units::{DistanceUnit, Milli};

const TODAY: &str = "2027-04-20";
const RACE_DAY: &str = "2027-05-09";

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn week(km: &str) -> BaseWeek {
    let line = if km == "rest" { km.to_owned() } else { format!("{km} km") };
    read_week(&["-", &line, "-", "-", "-", "-", "-"], "", DistanceUnit::Km).unwrap()
}

fn pace(text: &str) -> Pace {
    crate::notation::read_pace(text, DistanceUnit::Km).unwrap()
}

fn of(goal: RaceDistance, lines: &[&str]) -> Estimates {
    let results: Vec<PastResult> = lines.iter().map(|line| read_result(line).unwrap()).collect();
    estimates((goal, day(RACE_DAY)), &results, (&week("60"), None), day(TODAY))
}

fn times(row: &FromResult) -> Vec<String> {
    row.by.iter().map(|one| one.map_or_else(|| "-".to_owned(), |one| one.time.to_string())).collect()
}

#[test]
fn each_result_stands_by_each_formula_the_latest_first() {
    let found = of(RaceDistance::Marathon, &["2027-02-14 half 1:30:00", "2027-04-11 10k 40:00"]);
    assert_eq!(found.from_results.len(), 2);
    assert_eq!(times(&found.from_results[0]), ["3:04:00", "3:04:38", "3:07:25"]);
    assert_eq!(found.from_results[1].result.distance, RaceDistance::Half);
    let (fastest, slowest) = found.spread().unwrap();
    assert_eq!(fastest.to_string(), "3:04:00");
    assert!(slowest.to_string().as_str() > "3:07:25", "the half is slower than the 10 km: {slowest}");
    assert!(!found.any_beyond());
}

#[test]
fn what_is_old_far_or_not_run_yet_is_left_out_with_its_reason() {
    let why = |line: &str| of(RaceDistance::Half, &[line]).left_out.first().map(|(_, why)| *why);
    assert_eq!(why("2026-11-03 10k 42:10"), None, "168 days before today");
    assert_eq!(why("2026-11-02 10k 42:10"), Some(LeftOut::TooOld));
    assert_eq!(why("2027-04-20 10k 42:10"), None, "today");
    assert_eq!(why("2027-04-21 10k 42:10"), Some(LeftOut::NotYet));
    assert_eq!(why("2027-04-11 5k 20:10"), None);
    assert_eq!(why("2027-04-11 3 km 11:40"), Some(LeftOut::TooFar));
    assert_eq!(why("2027-04-11 50 km 4:40:00"), Some(LeftOut::TooFar), "no formula knows what it is worth");
    let ultra = of(RaceDistance::Own(Milli::whole(50), DistanceUnit::Km), &["2027-04-11 marathon 3:25"]);
    assert_eq!((ultra.from_results.len(), ultra.spread()), (0, None), "no formula is meant for it");
    // A page that is looked at after the race says what was known before it.
    let results = [read_result("2027-05-09 half 1:31:00").unwrap(), read_result("2026-11-25 10k 42:10").unwrap()];
    let later = estimates((RaceDistance::Half, day(RACE_DAY)), &results, (&week("60"), None), day("2027-08-01"));
    assert_eq!((later.from_results.len(), later.left_out[0].1), (1, LeftOut::NotYet));
}

#[test]
fn a_formula_says_nothing_beyond_what_it_was_made_from_or_marks_it() {
    let short = of(RaceDistance::Own(Milli::whole(3), DistanceUnit::Km), &["2027-04-11 1 km 3:10"]);
    assert_eq!(times(&short.from_results[0])[..2], ["-", "-"], "3:10 is shorter than their shortest races");
    assert!(short.from_results[0].by[2].is_some());
    let slow = of(RaceDistance::Marathon, &["2027-04-11 half 2:10:00"]);
    let beyond: Vec<bool> = slow.from_results[0].by.iter().flatten().map(|one| one.is_beyond).collect();
    assert_eq!(beyond, [true, true, false]);
    assert!(slow.any_beyond());
}

#[test]
fn training_says_something_of_the_marathon_only_and_only_with_a_pace() {
    let of = |goal, km: &str, pace| {
        let found = estimates((goal, day(RACE_DAY)), &[], (&week(km), pace), day(TODAY));
        found.from_training.map(|training| (training.estimate.time.to_string(), training.estimate.is_beyond))
    };
    assert_eq!(of(RaceDistance::Marathon, "60", Some(pace("5:00"))), Some(("3:19:42".to_owned(), false)));
    assert_eq!(of(RaceDistance::Marathon, "50", Some(pace("5:30"))), Some(("3:35:12".to_owned(), false)));
    assert_eq!(of(RaceDistance::Marathon, "50", Some(pace("6:30"))).map(|(_, beyond)| beyond), Some(true));
    assert_eq!(of(RaceDistance::Marathon, "60", None), None);
    // A third of it hard is a mean of 4:43.
    let harder = of(RaceDistance::Marathon, "tempo 60 km, hard 20 km", Some(pace("5:00"))).map(|(time, _)| time);
    assert_eq!(harder.as_deref(), Some("3:13:07"));
    assert_eq!(of(RaceDistance::Marathon, "rest", Some(pace("5:00"))), None);
    assert_eq!(of(RaceDistance::Half, "60", Some(pace("5:00"))), None);
}

/// `tests/reference/equivalents.py` wrote the file; it looks for the root where we halve.
#[test]
fn an_outside_library_finds_the_same_times_to_a_hundredth_of_a_second() {
    let rows = include_str!("../../../../tests/reference/equivalents.csv").lines().skip(2);
    let mut count = (0, 0);
    for row in rows {
        let (kind, numbers) = row.split_once(',').unwrap();
        let numbers: Vec<f64> = numbers.split(',').map(|number| number.parse().unwrap()).collect();
        let (found, expected) = match (kind, &numbers[..]) {
            ("result", [from_km, to_km, seconds, expected @ ..]) => {
                count.0 += 1;
                (Formula::ALL.map(|formula| formula.minutes(seconds / 60.0, *from_km, *to_km)).to_vec(), expected)
            }
            ("training", [km_a_week, pace, expected @ ..]) => {
                count.1 += 1;
                (vec![tanda::marathon_minutes(*km_a_week, *pace)], expected)
            }
            _ => panic!("{row}"),
        };
        assert_eq!(found.len(), expected.len(), "{row}");
        for (minutes, seconds) in found.iter().zip(expected) {
            assert!((minutes * 60.0 - seconds).abs() < 0.01, "{row}: {}", minutes * 60.0);
        }
    }
    assert_eq!(count, (30, 30));
}

/// A distance that somebody races, and a time in which somebody may run it.
fn raced() -> impl Strategy<Value = PastResult> {
    (800_i32..43_000, 120_u32..1_800).prop_map(|(metres, pace)| PastResult {
        date: day("2027-04-11"),
        distance: RaceDistance::Own(Milli(metres), DistanceUnit::Km),
        time: RaceTime::seconds((f64::from(pace) * f64::from(metres) / 1000.0).round() as u32),
        note: String::new(),
    })
}

proptest! {
    #[test]
    fn a_longer_race_takes_longer(result in raced(), km in 1_i32..42, more in 1_i32..20) {
        let minutes = result.time.as_minutes();
        let from = result.distance.distance().as_km();
        let (near, far) = (f64::from(km), f64::from(km) + f64::from(more) / 10.0);
        for formula in Formula::ALL {
            let (short, long) = (formula.minutes(minutes, from, near), formula.minutes(minutes, from, far));
            prop_assert!(short.is_finite() && long > short, "{formula:?}: {short} and {long}");
        }
    }

    #[test]
    fn a_result_over_the_same_distance_stands_for_itself(result in raced()) {
        let found = estimates((result.distance, day(RACE_DAY)), std::slice::from_ref(&result), (&week("60"), None), day(TODAY));
        for estimate in found.all() {
            prop_assert_eq!(estimate.time, result.time);
        }
    }

    #[test]
    fn whatever_was_run_every_estimate_is_a_time_that_somebody_runs(
        result in raced(), metres in 800_i32..400_000, km in 0_u32..400, seconds in 120_u16..1200,
    ) {
        let goal = RaceDistance::Own(Milli(metres), DistanceUnit::Km);
        let pace = Pace::new(seconds, DistanceUnit::Km).ok();
        let week = week(&if km == 0 { "rest".to_owned() } else { km.min(200).to_string() });
        for goal in [goal, RaceDistance::Marathon] {
            let found = estimates((goal, day(RACE_DAY)), std::slice::from_ref(&result), (&week, pace), day(TODAY));
            for estimate in found.all() {
                prop_assert!(RaceTime::for_distance(estimate.time.as_seconds(), goal.distance()).is_ok());
            }
        }
    }
}

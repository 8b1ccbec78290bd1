//! Second runs of a day.

use planning::RaceDistance::{Half, Marathon, TenK};

use crate::coach::{before, hardly_cut, on};

const DOUBLES: &str = "10 + 8 | tempo 12, hard 5 + 8 | 12 + 8 | 10 + 8 | 10 | 10 | long 26";

#[test]
fn none_on_the_key_day_nor_in_the_last_days() {
    let coach = hardly_cut(before(Marathon, DOUBLES), 14);
    let runs = |to_race| on(&coach.block(), to_race).sessions.len();
    assert_eq!([6, 5, 4, 3].map(runs), [2, 1, 1, 1]);
    assert_eq!(coach.why(4).last().map(String::as_str), Some("second-run-off"));
    let ten = hardly_cut(before(TenK, &DOUBLES.replace("| 10 | long", "| - | long")), 10);
    // The key session stands on D5.
    assert_eq!([6, 5, 4, 3].map(|to_race| on(&ten.block(), to_race).sessions.len()), [2, 1, 1, 1]);
    let late_key = hardly_cut(before(TenK, "10 + 8 | 12 + 8 | tempo 12, hard 5 | 10 + 8 | 10 | - | long 26"), 10);
    assert_eq!([6, 5, 4, 3].map(|to_race| on(&late_key.block(), to_race).sessions.len()), [2, 2, 1, 1]);
}

#[test]
fn who_runs_twice_on_most_days_keeps_short_second_runs_longer_up_to_ten_miles() {
    let week = "16 + 8 | intervals 18, hard 10 + 8 | 16 + 8 | 18 + 8 | tempo 16, hard 10 + 6 | 15 | long 30";
    let runs = |coach: &crate::coach::Coach, to_race| on(&coach.block(), to_race).sessions.len();
    let ten = before(TenK, week);
    assert_eq!([4, 3, 2, 1].map(|to_race| runs(&ten, to_race)), [2, 2, 1, 1]);
    assert!(ten.block().weeks()[1].share.0 > 0.33, "{}", ten.race_week());
    let half = before(Half, week);
    assert_eq!([4, 3, 2].map(|to_race| runs(&half, to_race)), [1, 1, 1]);
}

#[test]
fn elsewhere_none_that_would_be_too_short() {
    // A step curve with a floor of 0.5 leaves 75 %.
    let at = |week: &str| {
        let coach = before(Marathon, week).set(|settings| {
            settings.days = Some(14);
            settings.floor = Some(0.5);
            settings.shape = planning::Shape::Step;
        });
        on(&coach.block(), 13).sessions.len()
    };
    assert_eq!(at("10 + 6 | 12 | 12 | 10 | 10 | 10 | long 26"), 2);
    assert_eq!(at("10 + 5.9 | 12 | 12 | 10 | 10 | 10 | long 26"), 1);
    assert_eq!(at("50 min + 34 min | 12 | 12 | 10 | 10 | 10 | long 26"), 2);
    assert_eq!(at("50 min + 33 min | 12 | 12 | 10 | 10 | 10 | long 26"), 1);
    assert_eq!(at("6 mi + 3.7 mi | 12 | 12 | 10 | 10 | 10 | long 26"), 2);
    assert_eq!(at("6 mi + 3.6 mi | 12 | 12 | 10 | 10 | 10 | long 26"), 1);
}

#[test]
fn the_hard_one_of_two_stays_whatever_its_length() {
    let coach = before(Half, "8 | 8 | 8 | tempo 6, hard 2 + 10 | - | 7 | long 18");
    assert_eq!(on(&coach.block(), 3).sessions.len(), 1);
    assert!(coach.day(3).contains("strides"), "{}", coach.day(3));
}

#[test]
fn a_run_that_is_left_alone_is_no_longer_the_one_of_the_morning() {
    let coach = before(Half, "10 | AM 8 easy, PM 6 easy | tempo 10, hard 4 | AM 8 easy, PM 6 easy | - | 8 | long 20");
    let notes = |to_race| -> Vec<String> {
        on(&coach.block(), to_race).sessions.iter().map(|planned| planned.session.note.clone()).collect()
    };
    assert_eq!(notes(12), ["AM", "PM"]);
    assert_eq!(notes(5), [""]);
}

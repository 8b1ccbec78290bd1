//! Warm-up and cool-down of hard sessions, which stay while the hard part becomes shorter.

use chrono::Weekday;
use planning::RaceDistance::{Half, Marathon, TenK};
use planning::notation::write_day;
use planning::{DistanceUnit, Milli, Slot};

use crate::coach::{Coach, before, on};

/// The sessions of a day as a coach writes them, with warm-up and cool-down.
fn written(coach: &Coach, to_race: u16) -> String {
    let block = coach.block();
    let sessions = on(&block, to_race).sessions.iter();
    write_day(&sessions.map(|planned| Slot::one(planned.session.clone())).collect::<Vec<_>>())
}

const IN_MINUTES: &str = "- | 10 min wu, tempo 20 min, 10 min cd | 45 min | 15 min wu, 5 x 3 min, 10 min cd, 50 min | - | 40 min | long 90 min";

#[test]
fn a_shorter_session_has_less_in_the_middle_and_as_much_around_it() {
    let coach = before(Marathon, IN_MINUTES);
    assert_eq!(written(&coach, 12), "tempo 35 min, hard 15 min (10 min wu, 10 min cd)");
    assert_eq!(written(&coach, 10), "4 x 3 min, 45 min (15 min wu, 10 min cd)");
    assert_eq!(written(&coach, 5), "tempo 30 min, hard 10 min (10 min wu, 10 min cd)");
    let coach =
        before(Half, "- | 3 km wu, 5 x 1 km, 2 km cd, 12 km | 12 | 2 km wu, tempo 10 km, 2 km cd | 10 | 8 | long 26");
    assert_eq!(written(&coach, 10), "tempo 12 km, hard 8 km (2 km wu, 2 km cd)");
    assert_eq!(written(&coach, 5), "3 x 1 km, 10 km (3 km wu, 2 km cd)");
}

#[test]
fn easy_runs_of_the_week_give_what_it_takes() {
    let told = before(Marathon, "8 | 3 km wu, tempo 4 km, 3 km cd | 8 | 9 | - | 8 | long 18");
    let untold = before(Marathon, "8 | tempo 10 km, hard 4 km | 8 | 9 | - | 8 | long 18");
    let amount = |coach: &Coach, to_race| -> Milli {
        on(&coach.block(), to_race).sessions.iter().map(|planned| planned.session.running_middle()).sum()
    };
    assert_eq!((amount(&told, 12), amount(&untold, 12)), (Milli(9000), Milli(8000)));
    let week = |coach: &Coach| (7..=13).map(|to_race| amount(coach, to_race)).sum::<Milli>();
    assert_eq!(week(&told), week(&untold));
}

#[test]
fn before_race_week_the_hard_part_keeps_most_of_itself() {
    // Where warm-up and cool-down are nearly all of it, they give too.
    let coach =
        before(Marathon, "8 | 4 km wu, tempo 2 km, 4 km cd | 8 | 4 km wu, tempo 2 km, 4 km cd | - | 8 | long 18");
    for to_race in [12, 10] {
        let hard = on(&coach.block(), to_race).sessions[0].session.hard_middle();
        assert!(hard >= Milli(1400), "D{to_race}: {}", written(&coach, to_race));
    }
}

#[test]
fn a_week_of_little_else_still_comes_down() {
    let coach =
        before(Marathon, "- | 3 km wu, tempo 6 km, 3 km cd | 5 | 3 km wu, tempo 6 km, 3 km cd | - | 5 | long 18");
    assert!(coach.block().weeks()[2].share.0 <= 0.75, "{}", coach.days(13, 7));
}

#[test]
fn an_early_hard_session_of_race_week_halves_its_middle_at_most() {
    let coach = before(TenK, "2 km wu, 8 x 400 m, 2 km cd, 9 km | 8 | tempo 10, hard 4 | 8 | - | 7 | long 18");
    assert_eq!(written(&coach, 6), "4 x 400 m, 6 km (2 km wu, 1.5 km cd)");
}

#[test]
fn where_the_coach_says_no_hard_part_the_session_is_simply_shorter() {
    let coach = before(Half, "- | tempo 40 min | 45 min | intervals 50 min | - | 40 min | long 90 min");
    assert!(!written(&coach, 10).contains("hard"), "{}", written(&coach, 10));
}

#[test]
fn jogs_between_repetitions_go_with_them_and_what_is_run_around_them_stays() {
    // 10 mi: 6 of them hard, five jogs of 0.2 mi, some 3 mi there and back. Three repetitions have two jogs.
    let mut coach = before(Half, "- | - | - | - | - | - | long 20");
    coach.athlete.units = DistanceUnit::Mi;
    let week = |quick: &str| {
        let lines = ["6", quick, "6", "8", "-", "6", "long 15"];
        planning::notation::read_week(&lines, "", DistanceUnit::Mi).expect("a week of the trade")
    };
    coach.week = week("6 x 1 mi HMP w/ 2' jog, 10 mi");
    assert_eq!(written(&coach, 5), "3 x 1 mi HMP, 2' jog, 6 mi");
    coach.week = week("6 x 1 mi HMP w/ 400 m jog, 10 mi");
    assert_eq!(written(&coach, 5), "3 x 1 mi HMP, 400 m jog, 6 mi");
    // Without a word of jogs all that is easy is run around them.
    coach.week = week("6 x 1 mi HMP, 10 mi");
    assert_eq!(written(&coach, 5), "3 x 1 mi HMP, 6 mi");
    // No more than is usual.
    coach.week = week("tempo 4 mi, hard 2.5 mi");
    assert_eq!(written(&coach, 5), "tempo 3 mi, hard 1.5 mi");
}

#[test]
fn jogs_that_would_leave_no_warm_up_were_not_counted_in_the_whole() {
    let coach = before(Half, "8 | 10 x 400 m, 400 m jog, 8 km | 8 | 8 | - | 7 | long 18");
    assert_eq!(written(&coach, 5), "5 x 400 m, 400 m jog, 6 km");
    let counted = before(Half, "8 | 10 x 400 m, 400 m jog, 10 km | 8 | 8 | - | 7 | long 18");
    assert_eq!(written(&counted, 5), "5 x 400 m, 400 m jog, 6 km");
}

#[test]
fn hills_on_the_flat_keep_their_warm_up_and_lose_the_hill() {
    let week = "- | 2 km wu, 8 x 60 s hill, jog down, 2 km cd, 9 km (Mill Lane) | 8 | 8 | - | 7 | long 18";
    let coach = before(Half, week);
    assert_eq!(written(&coach, 12), "8 x 60 s hill, jog down, 9 km (2 km wu, 2 km cd, Mill Lane)");
    assert_eq!(written(&coach, 5), "4 x 60 s, jog, 7 km (2 km wu, 2 km cd)");
    let rested = "- | 2 km wu, 6 x 3 min uphill (2' easy), 2 km cd, 9 km (steep) | 8 | 8 | - | 7 | long 18";
    assert_eq!(written(&before(Half, rested), 5), "3 x 3 min, 7 km (2 km wu, 2 km cd, 2' easy)");
    let late = before(TenK, "8 | 2 km wu, 8 x 60 s uphill, 2 km cd, 9 km | 8 | 8 | - | 7 | long 18").on(Weekday::Fri);
    assert_eq!(written(&late, 10), "8 x 60 s, 9 km (2 km wu, 2 km cd)");
}

#[test]
fn what_is_left_of_the_hard_part_is_what_is_told() {
    let coach = before(Half, "8 | 5 x 3 min, 60 min | 8 | 8 | - | 7 | long 18");
    assert_eq!(coach.why(5), ["key-session 0.6"], "{}", coach.day(5));
}

#[test]
fn both_sides_say_why() {
    let coach = before(Marathon, IN_MINUTES);
    assert_eq!(coach.why(12), ["warm-up-stays"], "no share that is far from what stands there");
    assert_eq!(coach.why(11), ["around-warm-ups"], "nor here");
}

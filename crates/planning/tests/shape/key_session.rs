//! The one hard session of race week.

use chrono::Weekday;
use planning::RaceDistance::{FiveK, Half, Marathon, TenK, TenMiles};
use planning::{RaceDistance, Role};

use crate::coach::{Coach, FIFTY_KM, before, on};

fn keys(coach: &Coach) -> Vec<(u16, String)> {
    let block = coach.block();
    let days = block.days.iter().filter(|day| day.sessions.iter().any(|planned| planned.role == Role::Key));
    days.map(|day| (day.to_race, coach.day(day.to_race))).collect()
}

fn key(race: RaceDistance, week: &str) -> (u16, String) {
    let found = keys(&before(race, week));
    assert_eq!(found.len(), 1, "{week}");
    found[0].clone()
}

#[test]
fn up_to_ten_miles_d4_goes_before_d5_and_d3() {
    for race in [FiveK, TenK, TenMiles] {
        let all = key(race, "8 | intervals 10, hard 4 | tempo 10, hard 4 | fartlek 10, hard 4 | 8 | - | long 18");
        assert_eq!((all.0, &all.1[..9]), (4, "key tempo"), "{race:?}");
        let d5 = key(race, "8 | intervals 10, hard 4 | 8 | fartlek 10, hard 4 | 8 | - | long 18");
        assert_eq!((d5.0, &d5.1[..13]), (5, "key intervals"), "{race:?}");
        let d3 = key(race, "8 | 8 | 8 | fartlek 10, hard 4 | 8 | - | long 18");
        assert_eq!((d3.0, &d3.1[..11]), (3, "key fartlek"), "{race:?}");
    }
}

#[test]
fn from_the_half_marathon_up_d5_goes_before_d4_and_d6() {
    for race in [Half, Marathon, FIFTY_KM] {
        let all = key(race, "fartlek 10, hard 4 | intervals 10, hard 4 | tempo 10, hard 4 | 8 | 8 | - | long 18");
        assert_eq!((all.0, &all.1[..13]), (5, "key intervals"), "{race:?}");
        let d4 = key(race, "fartlek 10, hard 4 | 8 | tempo 10, hard 4 | 8 | 8 | - | long 18");
        assert_eq!((d4.0, &d4.1[..9]), (4, "key tempo"), "{race:?}");
        let d6 = key(race, "fartlek 10, hard 4 | 8 | 8 | 8 | 8 | - | long 18");
        assert_eq!((d6.0, &d6.1[..11]), (6, "key fartlek"), "{race:?}");
    }
}

#[test]
fn half_of_the_hard_part_stays_and_60_per_cent_on_d6() {
    assert_eq!(key(Half, "8 | tempo 10, hard 4 | 8 | 8 | - | 7 | long 18").1, "key tempo 6 km, hard 2 km");
    assert_eq!(key(Half, "tempo 10, hard 5 | 8 | 8 | 8 | - | 7 | long 18").1, "key tempo 7 km, hard 3 km");
    assert_eq!(
        key(Half, "8 | 6 x 800 m 10k pace, 90 s jog, 10 km | 8 | 8 | - | 7 | long 18").1,
        "key 3 x 800 m 10k pace, 90 s jog, 7 km"
    );
}

#[test]
fn the_whole_session_is_at_least_half_and_the_easy_part_4_km_or_as_usual() {
    // Half of 14 km; 2 km hard and the usual 3 km easy; 2.5 km hard and the usual kilometre easy.
    assert_eq!(key(Half, "8 | tempo 14, hard 4 | 8 | 8 | - | 7 | long 18").1, "key tempo 7 km, hard 2 km");
    assert_eq!(key(Half, "8 | tempo 7, hard 4 | 8 | 8 | - | 7 | long 18").1, "key tempo 5 km, hard 2 km");
    assert_eq!(key(Half, "8 | tempo 6, hard 5 | 8 | 8 | - | 7 | long 18").1, "key tempo 3.5 km, hard 2.5 km");
    assert_eq!(
        key(Half, "50 min | tempo 50 min, hard 20 min | - | 45 min | - | 40 min | long 100 min").1,
        "key tempo 35 min, hard 10 min"
    );
    assert_eq!(
        key(Half, "5 mi | tempo 5 mi, hard 2 mi | - | 5 mi | - | 4 mi | long 11 mi").1,
        "key tempo 3.5 mi, hard 1 mi"
    );
}

#[test]
fn hills_are_the_key_session_only_if_nothing_else_is_and_on_the_flat() {
    assert_eq!(
        key(Half, "8 | hills 10, hard 3 | tempo 10, hard 4 | 8 | - | 7 | long 18"),
        (4, "key tempo 6 km, hard 2 km".into())
    );
    assert_eq!(
        key(Half, "8 | hills 10, hard 3 | 8 | 8 | - | 7 | long 18"),
        (5, "key intervals 6 km, hard 1.5 km".into())
    );
}

#[test]
fn a_time_trial_never_is() {
    let coach = before(Half, "8 | time trial 8, hard 5 | 8 | 8 | - | 7 | long 18");
    assert_eq!(keys(&coach), []);
    assert_eq!(coach.day(5), "easy 6 km with strides");
    assert_eq!(coach.why(5)[..2], ["time-trial-off", "strides"]);
}

#[test]
fn a_long_run_with_a_hard_part_is_only_if_nothing_else_is_and_as_race_pace() {
    // The race on Friday puts the long run on D5.
    let both = before(Half, "tempo 10, hard 4 | 8 | 8 | 8 | - | - | long 20, hard 8").on(Weekday::Fri);
    assert_eq!(keys(&both), [(4, "key tempo 6 km, hard 2 km".into())]);
    let only = before(Half, "8 | 8 | 8 | 8 | - | - | long 20, hard 8").on(Weekday::Fri);
    assert_eq!(keys(&only), [(5, "key race pace 8 km, hard 4 km".into())]);
}

#[test]
fn one_that_cannot_stay_moves_to_the_easy_run_first_in_the_order() {
    let coach = before(Half, "- | 8 | - | 8 | tempo 9, hard 4 | - | long 18");
    assert_eq!(keys(&coach), [(5, "key tempo 6 km, hard 2 km".into())]);
    assert_eq!(coach.why(5), ["key-session 0.5", "key-moved-here 2027-05-07"]);
    assert!(coach.day(2).ends_with("with strides"), "{}", coach.day(2));
    assert_eq!(coach.why(2)[..2], ["key-moved-away 2027-05-04", "strides"]);
}

#[test]
fn up_to_ten_kilometres_repetitions_move_before_tempo_and_hills() {
    // The race on Thursday puts Friday on D6 and Tuesday on D2, each as far from D4.
    let week = |friday: &str| format!("8 | 8 x 400 m, 9 km | 9 | - | {friday} | - | long 16");
    for friday in ["tempo 9, hard 4", "progression 9, hard 4", "hills 9, hard 3"] {
        for race in [FiveK, TenK] {
            let coach = before(race, &week(friday)).on(Weekday::Thu);
            assert_eq!(coach.day(3), "key 4 x 400 m, 6 km", "{friday}: {}", coach.race_week());
            assert_eq!(coach.why(3), ["key-session 0.5", "key-moved-here 2027-05-04"]);
        }
        let longer = before(TenMiles, &week(friday)).on(Weekday::Thu);
        assert!(!longer.day(3).contains("400 m"), "{friday}: {}", longer.race_week());
    }
    // Nearer to the window, and tempo all the same.
    let nearer = before(FiveK, "8 | 8 | 8 x 400 m, 9 km | - | tempo 9, hard 4 | - | long 16").on(Weekday::Thu);
    assert!(nearer.day(3).starts_with("key 4 x 400 m"), "{}", nearer.race_week());
}

#[test]
fn none_in_race_week_the_nearest_of_the_week_before_gives_it_and_stays_itself() {
    let coach = before(Half, "tempo 9, hard 4 | 8 | - | 8 | - | 7 | long 18").on(Weekday::Mon);
    assert_eq!(keys(&coach), [(4, "key tempo 6 km, hard 2 km".into())]);
    assert_eq!(coach.why(4), ["key-session 0.5", "key-moved-here 2027-04-26"]);
    assert!(on(&coach.block(), 7).sessions[0].session.is_hard());
}

#[test]
fn it_moves_to_a_long_slot_last() {
    // Race on Thursday: Friday is D6, Sunday with the long run D4.
    let coach = before(Half, "8 | - | 8 | tempo 9, hard 4 | 8 | - | long 18").on(Weekday::Thu);
    assert_eq!(keys(&coach).len(), 1);
    assert_eq!(keys(&coach)[0].0, 6);
    let long_only = before(Half, "8 | - | 8 | tempo 9, hard 4 | - | - | long 18").on(Weekday::Thu);
    assert_eq!(keys(&long_only)[0].0, 4);
}

#[test]
fn a_single_run_goes_before_a_day_with_two() {
    let coach = before(Half, "6 | 6 + 5 | 8 | - | tempo 9, hard 4 | - | long 18");
    assert_eq!(keys(&coach)[0].0, 4);
}

#[test]
fn no_run_in_the_window_leaves_d3_with_a_third() {
    assert_eq!(key(Half, "- | - | - | tempo 9, hard 4 | 7 | 7 | long 16"), (3, "key tempo 6 km, hard 1.5 km".into()));
    let (day, words) = key(Half, "- | - | - | 8 | tempo 9, hard 4 | 7 | long 16");
    assert_eq!((day, words.as_str()), (3, "key tempo 6 km, hard 1.5 km"));
}

#[test]
fn up_to_ten_miles_it_leaves_d6_with_60_per_cent() {
    assert_eq!(key(TenK, "tempo 10, hard 5 | - | - | - | 7 | 7 | long 16"), (6, "key tempo 9 km, hard 3 km".into()));
}

#[test]
fn beyond_the_marathon_there_is_one_only_where_it_stands() {
    assert_eq!(keys(&before(FIFTY_KM, "8 | tempo 10, hard 4 | 8 | 8 | - | 7 | long 30")).len(), 1);
    let coach = before(FIFTY_KM, "8 | 8 | 8 | 8 | tempo 10, hard 4 | 7 | long 30");
    assert_eq!(keys(&coach), []);
    assert!(!on(&coach.block(), 2).sessions.iter().any(|planned| planned.session.is_hard()));
}

#[test]
fn without_hard_running_there_is_none_and_no_strides() {
    for race in [FiveK, TenK, Half, Marathon, FIFTY_KM] {
        let coach = before(race, "8 | 8 | 8 | 8 | - | 7 | long 18");
        assert_eq!(keys(&coach), []);
        assert!(!coach.race_week().contains("strides"));
    }
}

#[test]
fn it_has_less_easy_running_around_it_before_race_week_rises_above_the_week_before() {
    // Two runs a week: 11 hard minutes and 20 easy ones on D6 would make 55 minutes after 50.
    let coach = before(Marathon, "- | - | - | tempo 45 min, hard 18 min | - | - | long 45 min")
        .on(Weekday::Sat)
        .set(|settings| settings.floor = Some(0.1))
        .set(|settings| settings.curve = Some(1.0));
    assert_eq!(
        coach.race_week(),
        "key tempo 30 min, hard 11 min | rest | rest | rest | easy 20 min with strides | rest"
    );
}

#[test]
fn the_hard_part_of_a_long_run_is_no_key_session_where_another_hard_session_can_be_moved() {
    // Race day is a Wednesday: tempo stands on D6, the long run on D3.
    let week = "- | intervals 10, hard 6 | 9 | tempo 9, hard 4 | - | 9 | long 18, hard 3";
    let coach = before(TenK, week).on(chrono::Weekday::Wed);
    assert!(coach.day(4).starts_with("key intervals"), "{}", coach.race_week());
    assert!(!coach.day(3).contains("hard"), "{}", coach.race_week());
    let alone = before(TenK, "- | - | 9 | 8 | - | 9 | long 18, hard 3").on(chrono::Weekday::Wed);
    assert!(alone.day(3).starts_with("key race pace"), "{}", alone.race_week());
}

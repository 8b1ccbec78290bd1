//! Long runs come down by steps, and are easy in race week.

use chrono::Weekday;
use planning::RaceDistance;
use planning::RaceDistance::{FiveK, Half, Marathon, TenK, TenMiles};
use planning::week::WEEKDAYS;

use crate::coach::{FIFTY_KM, before, hardly_cut};

const SHARES: [(RaceDistance, [f64; 6]); 5] = [
    (FiveK, [1.0, 1.0, 1.0, 1.0, 1.0, 0.85]),
    (TenMiles, [1.0, 1.0, 1.0, 1.0, 1.0, 0.80]),
    (Half, [1.0, 1.0, 1.0, 0.90, 0.80, 0.70]),
    (Marathon, [1.0, 0.90, 0.75, 0.75, 0.55, 0.55]),
    (FIFTY_KM, [1.0, 0.80, 0.65, 0.65, 0.45, 0.45]),
];

fn step_of(to_race: u16) -> usize {
    match to_race {
        20.. => 0,
        17..=19 => 1,
        15..=16 => 2,
        12..=14 => 3,
        9..=11 => 4,
        _ => 5,
    }
}

#[test]
fn the_long_run_comes_down_by_steps_whatever_the_curve_leaves() {
    let mut seen = 0;
    for (race, shares) in SHARES {
        for weekday in WEEKDAYS {
            let coach = hardly_cut(before(race, "- | 10 | - | 10 | - | 10 | long 20").on(weekday), 24);
            let block = coach.block();
            for day in block.days.iter().filter(|day| (7..=24).contains(&day.to_race)) {
                if day.weekday() != Weekday::Sun {
                    continue;
                }
                let share = shares[step_of(day.to_race)];
                let km = day.sessions[0].session.running_middle().as_f64();
                let right = if share < 1.0 { (km - 20.0 * share).abs() < 1e-9 } else { km >= 19.0 };
                assert!(right, "{race:?} D{}: {km} km", day.to_race);
                let told = coach.why(day.to_race).contains(&format!("long-run {share}"));
                assert_eq!(told, share < 1.0, "{race:?} D{}", day.to_race);
                seen += 1;
            }
        }
    }
    assert!(seen > 80, "{seen} long runs");
}

#[test]
fn the_longest_run_comes_down_by_the_same_steps_whatever_its_kind() {
    let mut seen = 0;
    for (race, shares) in SHARES {
        for kind in ["race pace", "progression", "tempo", "fartlek", "intervals"] {
            for weekday in WEEKDAYS {
                let week = format!("- | 10 | - | 10 | - | 10 | {kind} 28, hard 10");
                let block = hardly_cut(before(race, &week).on(weekday), 24).block();
                for day in block.days.iter().filter(|day| (7..=24).contains(&day.to_race)) {
                    let Some(planned) = day.sessions.first().filter(|_| day.weekday() == Weekday::Sun) else {
                        continue;
                    };
                    let share = shares[step_of(day.to_race)];
                    let km = planned.session.running_middle().as_f64();
                    assert!(km <= 28.0 * share + 1e-9, "{race:?} {kind} D{}: {km} km", day.to_race);
                    let hard = planned.session.hard_middle().as_f64();
                    assert!(hard <= 10.0 * share + 0.5, "{race:?} {kind} D{}: {hard} km hard", day.to_race);
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 400, "{seen} runs");
}

#[test]
fn the_steps_hold_from_the_blocks_length_and_from_d8_in_the_shortest() {
    let short = |weekday| hardly_cut(before(Half, "- | 10 | - | 10 | - | 10 | long 20").on(weekday), 5);
    assert_eq!(short(Weekday::Mon).day(8), "long 14 km");
    assert_eq!(short(Weekday::Tue).days(9, 9), "long 20 km");
}

#[test]
fn the_hard_part_comes_down_with_the_long_run() {
    let coach = hardly_cut(before(Half, "- | 10 | - | 10 | - | 10 | long 20, hard 10"), 14);
    assert_eq!(coach.day(14), "long 18 km, hard 9 km");
    assert_eq!(coach.day(7), "long 14 km, hard 7 km");
}

#[test]
fn before_a_marathon_at_most_two_fifths_of_it_stay_from_d11_on() {
    let coach = |weekday| hardly_cut(before(Marathon, "- | 10 | - | 10 | - | 10 | long 20, hard 10").on(weekday), 21);
    assert_eq!(coach(Weekday::Sun).day(14), "long 15 km, hard 7.5 km");
    assert_eq!(coach(Weekday::Sun).day(7), "long 11 km, hard 4 km");
    assert_eq!(coach(Weekday::Thu).day(11), "long 11 km, hard 4 km");
    assert_eq!(coach(Weekday::Fri).day(12), "long 15 km, hard 7.5 km");
}

#[test]
fn a_second_long_run_is_at_most_45_per_cent_of_the_longest_from_d14_on() {
    let week = "6 | 6 | - | 6 | - | 12 | long 20";
    let half = hardly_cut(before(Half, week), 24);
    assert_eq!(half.day(8), "easy 9 km");
    assert_eq!(half.why(8), ["second-long-run 0.45"]);
    assert_ne!(half.day(15), "easy 9 km");
    assert_eq!(hardly_cut(before(Half, week).on(Weekday::Fri), 24).day(13), "easy 9 km");
    let ten = hardly_cut(before(TenK, week), 24);
    assert!(["easy 11 km", "easy 12 km"].contains(&ten.day(8).as_str()), "{}", ten.day(8));
}

#[test]
fn a_second_long_run_does_not_become_shorter_than_a_plain_run() {
    for (week, median) in [
        ("10 | 10 | - | 10 | - | 16 | long 18", 10),
        ("10 | 10 | - | 11 | - | long 17 | long 18", 11),
        ("tempo 12, hard 5 | 10 | 10 | 10 | - | 17 | 18", 11),
    ] {
        for (race, step) in [(Half, 0.70), (Marathon, 0.55)] {
            let coach = hardly_cut(before(race, week), 24);
            let second = coach.block().days.iter().find(|day| day.to_race == 8).map(planning::Day::planned_running);
            let km = second.expect("D8").of(planning::Unit::Km).middle().as_f64();
            // The steps of the longest run hold for it too.
            let most = f64::from(median).max(0.45 * 18.0).min(step * 18.0);
            assert!(km <= most && km > most - 2.0, "{race:?} {week}: {km} km for {most} km");
        }
    }
}

#[test]
fn a_run_of_one_and_a_half_times_the_median_is_a_long_run() {
    // The median of 8, 8, 8 and 12 is 8; of 8, 8, 8.1 and 12 it is 8.05.
    let day = |week| hardly_cut(before(Half, week), 14).why(7);
    assert!(day("- | 8 | - | 8 | - | 8 | 12")[0].starts_with("long-run"));
    assert_eq!(day("- | 8 | - | 8.1 | - | 8.1 | 12").len(), 0);
}

#[test]
fn in_race_week_a_long_slot_is_easy_and_shorter_day_by_day() {
    // The race's weekday puts the Sunday run on D6 to D2.
    let days = [Weekday::Sat, Weekday::Fri, Weekday::Thu, Weekday::Wed, Weekday::Tue];
    let long_slot = |race, week: &str| {
        let of = |(weekday, to_race)| hardly_cut(before(race, week).on(weekday), 10).day(to_race);
        days.into_iter().zip([6, 5, 4, 3, 2]).map(of).collect::<Vec<_>>()
    };
    // 50, 40, 33, 28, 22 % of 30 km, in whole kilometres.
    let week = "8 | 8 | 8 | 8 | 8 | 8 | long 30";
    assert_eq!(long_slot(Half, week), ["easy 15 km", "easy 12 km", "easy 9 km", "easy 8 km", "easy 6 km"]);
    // 60, 55, 50, 45, 35 % of 20 km.
    let week = "- | 8 | 8 | 8 | 8 | 8 | long 20";
    assert_eq!(long_slot(TenK, week), ["easy 12 km", "easy 11 km", "easy 10 km", "easy 9 km", "easy 7 km"]);
}

#[test]
fn nothing_is_longer_than_12_km_on_d4_and_d3_and_8_km_on_d2() {
    let week = "20 | 20 | 20 | 20 | 20 | 20 | 22";
    let coach = hardly_cut(before(TenK, week), 10);
    assert_eq!(
        coach.race_week().split(" | ").skip(2).collect::<Vec<_>>()[..3],
        ["easy 12 km", "easy 12 km", "easy 8 km"]
    );
    assert_eq!(coach.why(3), ["most-near 12 12 km"]);
}

#[test]
fn in_race_week_they_come_down_before_the_shortest_block_too() {
    let coach =
        before(FiveK, "8 | 8 | 8 | 8 | - | - | long 20").on(Weekday::Fri).set(|settings| settings.days = Some(4));
    assert_eq!(coach.day(5), "easy 11 km");
    assert_eq!(coach.why(5), ["long-slot-eased 0.55"]);
}

#[test]
fn one_too_short_to_be_cut_is_easy_and_says_why() {
    let coach = before(FiveK, "2 | 2 | 2 | 2 | - | - | long 3").on(Weekday::Fri);
    assert_eq!(coach.day(5), "easy 3 km");
    assert_eq!(coach.why(5), ["long-slot-eased 0.55"]);
}

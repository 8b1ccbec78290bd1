//! The shape of a block, rule by rule, on small weeks made for each.
//!
//! Source of the rules: common practice, no published source, unless a test names one. All weeks are
//! invented.

mod coach;

use chrono::Weekday;
use coach::{Coach, FIFTY_KM, before, on};
use planning::RaceDistance::{FiveK, Half, Marathon, TenK, TenMiles};
use planning::{DayBefore, ExtraRest, Kind, RaceDistance, Role};

const WEEKDAYS: [Weekday; 7] =
    [Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu, Weekday::Fri, Weekday::Sat, Weekday::Sun];

/// A block whose curve leaves nearly all, so that only the other bounds are seen.
fn hardly_cut(coach: Coach, days: u8) -> Coach {
    coach.set(|settings| {
        settings.days = Some(days);
        settings.curve = Some(4.0);
        settings.floor = Some(0.9);
    })
}

mod race_day {
    use super::*;

    #[test]
    fn the_race_takes_the_place_of_whatever_stood_there() {
        let coach = before(Half, "- | tempo 9, hard 4 | - | 8 | - | 7 | long 16 + strength 20");
        let block = coach.block();
        let day = on(&block, 0);
        assert!(day.sessions.is_empty() && !day.is_rest());
        assert_eq!(day.dropped.len(), 2);
        assert_eq!(coach.why(0), ["race", "race"]);
    }

    #[test]
    fn the_base_week_stands_on_its_weekdays_whatever_the_race_day() {
        for weekday in WEEKDAYS {
            let block = before(Half, "4 | 5 | 6 | 7 | 8 | 9 | 10").on(weekday).block();
            for day in &block.days {
                let km = 4 + day.weekday().num_days_from_monday() as i32;
                assert_eq!(day.usual[0].running_middle(), planning::Milli::whole(km));
            }
        }
    }
}

mod long_runs {
    use super::*;

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
        let coach =
            |weekday| hardly_cut(before(Marathon, "- | 10 | - | 10 | - | 10 | long 20, hard 10").on(weekday), 21);
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
}

mod key_session {
    use super::*;

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
        assert_eq!(key(Half, "8 | tempo 10, hard 4 | 8 | 8 | - | 7 | long 18").1, "key tempo 5 km, hard 2 km");
        assert_eq!(key(Half, "tempo 10, hard 5 | 8 | 8 | 8 | - | 7 | long 18").1, "key tempo 6 km, hard 3 km");
        assert_eq!(
            key(Half, "8 | 6 x 800 m 10k pace, 90 s jog, 10 km | 8 | 8 | - | 7 | long 18").1,
            "key 3 x 800 m 10k pace, 90 s jog, 6 km"
        );
    }

    #[test]
    fn the_whole_session_is_at_least_half_and_the_easy_part_3_km_or_as_usual() {
        // Half of 14 km; 2 km hard and 3 km easy; 2.5 km hard and the usual kilometre easy.
        assert_eq!(key(Half, "8 | tempo 14, hard 4 | 8 | 8 | - | 7 | long 18").1, "key tempo 7 km, hard 2 km");
        assert_eq!(key(Half, "8 | tempo 7, hard 4 | 8 | 8 | - | 7 | long 18").1, "key tempo 5 km, hard 2 km");
        assert_eq!(key(Half, "8 | tempo 6, hard 5 | 8 | 8 | - | 7 | long 18").1, "key tempo 3.5 km, hard 2.5 km");
        assert_eq!(
            key(Half, "50 min | tempo 50 min, hard 20 min | - | 45 min | - | 40 min | long 100 min").1,
            "key tempo 30 min, hard 10 min"
        );
        assert_eq!(
            key(Half, "5 mi | tempo 5 mi, hard 2 mi | - | 5 mi | - | 4 mi | long 11 mi").1,
            "key tempo 3 mi, hard 1 mi"
        );
    }

    #[test]
    fn hills_are_the_key_session_only_if_nothing_else_is_and_on_the_flat() {
        assert_eq!(
            key(Half, "8 | hills 10, hard 3 | tempo 10, hard 4 | 8 | - | 7 | long 18"),
            (4, "key tempo 5 km, hard 2 km".into())
        );
        assert_eq!(
            key(Half, "8 | hills 10, hard 3 | 8 | 8 | - | 7 | long 18"),
            (5, "key intervals 5 km, hard 1.5 km".into())
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
        assert_eq!(keys(&both), [(4, "key tempo 5 km, hard 2 km".into())]);
        let only = before(Half, "8 | 8 | 8 | 8 | - | - | long 20, hard 8").on(Weekday::Fri);
        assert_eq!(keys(&only), [(5, "key race pace 7 km, hard 4 km".into())]);
    }

    #[test]
    fn one_that_cannot_stay_moves_to_the_easy_run_first_in_the_order() {
        let coach = before(Half, "- | 8 | - | 8 | tempo 9, hard 4 | - | long 18");
        assert_eq!(keys(&coach), [(5, "key tempo 5 km, hard 2 km".into())]);
        assert_eq!(coach.why(5), ["key-session 0.5", "key-moved-here 2027-05-07"]);
        assert!(coach.day(2).ends_with("with strides"), "{}", coach.day(2));
        assert_eq!(coach.why(2)[..2], ["key-moved-away 2027-05-04", "strides"]);
    }

    #[test]
    fn none_in_race_week_the_nearest_of_the_week_before_gives_it_and_stays_itself() {
        let coach = before(Half, "tempo 9, hard 4 | 8 | - | 8 | - | 7 | long 18").on(Weekday::Mon);
        assert_eq!(keys(&coach), [(4, "key tempo 5 km, hard 2 km".into())]);
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
        assert_eq!(
            key(Half, "- | - | - | tempo 9, hard 4 | 7 | 7 | long 16"),
            (3, "key tempo 4.5 km, hard 1.5 km".into())
        );
        let (day, words) = key(Half, "- | - | - | 8 | tempo 9, hard 4 | 7 | long 16");
        assert_eq!((day, words.as_str()), (3, "key tempo 4.5 km, hard 1.5 km"));
    }

    #[test]
    fn up_to_ten_miles_it_leaves_d6_with_60_per_cent() {
        assert_eq!(
            key(TenK, "tempo 10, hard 5 | - | - | - | 7 | 7 | long 16"),
            (6, "key tempo 8 km, hard 3 km".into())
        );
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
}

mod other_hard_sessions {
    use super::*;

    #[test]
    fn in_race_week_they_become_easy_with_strides() {
        let coach = before(Half, "8 | tempo 10, hard 4 | 8 | intervals 10, hard 4 | - | 7 | long 18");
        assert_eq!(coach.day(3), "easy 6 km with strides");
        assert_eq!(coach.why(3)[..2], ["hard-eased intervals", "strides"]);
    }

    #[test]
    fn there_are_no_strides_on_the_day_before() {
        // A hard session on Saturday becomes the shake-out.
        let coach = before(Half, "- | tempo 10, hard 4 | - | 8 | - | intervals 10, hard 4 | long 18");
        assert_eq!(coach.day(1), "shake-out easy 3 km");
    }

    #[test]
    fn up_to_ten_miles_one_on_d6_stays_at_three_quarters_before_a_late_key_session() {
        let late = before(TenK, "intervals 12, hard 4 | 8 | tempo 10, hard 4 | 8 | - | 7 | long 18");
        let d6 = on(&late.block(), 6).sessions[0].session.clone();
        assert_eq!(d6.kind, Kind::Intervals);
        assert!(d6.running_middle().as_f64() <= 9.0 && d6.hard_middle().as_f64() <= 3.0, "{}", late.day(6));
        assert!(late.day(4).starts_with("key tempo"));
        let early = before(TenK, "intervals 12, hard 4 | tempo 10, hard 4 | 8 | 8 | - | 7 | long 18");
        assert!(early.day(6).ends_with("with strides"), "{}", early.day(6));
        let half = before(Half, "intervals 12, hard 4 | - | tempo 10, hard 4 | - | - | 7 | long 18");
        assert!(half.day(6).ends_with("with strides"), "{}", half.day(6));
    }

    fn hard_days(coach: &Coach, from: u16, to: u16) -> Vec<u16> {
        let block = coach.block();
        let days = block.days.iter().filter(|day| (to..=from).contains(&day.to_race));
        days.filter(|day| day.sessions.iter().any(|planned| planned.session.is_hard())).map(|day| day.to_race).collect()
    }

    #[test]
    fn from_the_half_marathon_up_two_stay_in_the_week_before_race_week() {
        let three = "tempo 10, hard 4 | - | intervals 10, hard 4 | - | fartlek 10, hard 4 | - | long 18";
        for race in [Half, Marathon, FIFTY_KM] {
            let coach = before(race, three);
            assert_eq!(hard_days(&coach, 13, 7), [13, 11], "{race:?}");
            assert!(coach.why(9).contains(&"third-hard-eased fartlek".to_owned()), "{race:?}");
            assert!(coach.day(9).ends_with("with strides"), "{race:?}");
        }
        assert_eq!(hard_days(&before(TenK, three), 13, 7), [13, 11, 9]);
    }

    #[test]
    fn a_time_trial_gives_way_first() {
        let coach =
            before(Half, "time trial 8, hard 5 | - | intervals 10, hard 4 | - | fartlek 10, hard 4 | - | long 18");
        assert_eq!(hard_days(&coach, 13, 7), [11, 9]);
        assert!(coach.why(13).contains(&"third-hard-eased time-trial".to_owned()));
    }

    #[test]
    fn a_long_run_with_a_hard_part_counts_and_stays_a_long_run_when_it_gives_way() {
        let coach = before(Half, "tempo 10, hard 4 | - | intervals 10, hard 4 | - | 8 | - | long 18, hard 6");
        assert_eq!(hard_days(&coach, 13, 7), [13, 11]);
        assert_eq!(coach.day(7), "long 12 km");
    }

    #[test]
    fn a_time_trial_is_run_whole_or_not_at_all() {
        // On D12 whole; on D9 and D8 not at all, half marathon up.
        let on_weekday = |race, day: usize| {
            let mut days = ["8", "8", "8", "8", "8", "-", "long 18"];
            days[day] = "time trial 8, hard 5";
            before(race, &days.join("|"))
        };
        assert_eq!(on_weekday(Half, 1).day(12), "time trial 8 km, hard 5 km");
        assert_eq!(on_weekday(Half, 3).day(10), "time trial 8 km, hard 5 km");
        assert!(on_weekday(Half, 4).day(9).ends_with("with strides"));
        assert_eq!(on_weekday(Half, 4).why(9)[0], "time-trial-off");
        assert_eq!(on_weekday(TenK, 4).day(9), "time trial 8 km, hard 5 km");
        assert_eq!(on_weekday(TenK, 6).day(7), "time trial 8 km, hard 5 km");
        assert!(on_weekday(TenK, 0).day(6).ends_with("with strides"));
    }

    #[test]
    fn hills_are_run_on_the_flat_from_d10_on() {
        let coach = before(Half, "8 | hills 10, hard 3 | - | hills 10, hard 3 | - | 7 | long 18");
        assert!(coach.day(12).starts_with("hills"), "{}", coach.day(12));
        assert!(coach.day(10).starts_with("intervals"), "{}", coach.day(10));
        assert!(coach.why(10).contains(&"hills-flat".to_owned()));
    }
}

mod second_runs {
    use super::*;

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
}

mod rest_days {
    use super::*;

    fn rests(coach: &Coach) -> Vec<u16> {
        let block = coach.block();
        block.days.iter().filter(|day| day.to_race <= 6 && day.is_rest()).map(|day| day.to_race).collect()
    }

    const FOUR: &str = "- | tempo 9, hard 4 | - | 8 | - | 7 | long 18";
    const FIVE: &str = "- | tempo 9, hard 4 | 8 | 8 | - | 7 | long 18";
    const SIX: &str = "8 | tempo 9, hard 4 | - | 8 | 8 | 7 | long 18";
    const SEVEN: &str = "8 | tempo 9, hard 4 | 8 | 8 | 8 | 7 | long 18";

    #[test]
    fn from_the_half_marathon_up_one_more_from_five_running_days() {
        assert_eq!(rests(&before(Half, FOUR)), [6, 4, 2]);
        assert_eq!(rests(&before(Half, SIX)), [4, 1]);
        assert_eq!(rests(&before(Half, SEVEN)), [1]);
        // D6 and D2 are rest; D4 is the only easy day that stands beside none of them.
        assert_eq!(rests(&before(Half, FIVE)), [6, 4, 2]);
    }

    #[test]
    fn up_to_ten_miles_one_only_where_there_is_none() {
        assert_eq!(rests(&before(TenK, FIVE)), [6, 2]);
        assert_eq!(rests(&before(TenK, SIX)), [4]);
        assert_eq!(rests(&before(TenK, SEVEN)).len(), 1);
    }

    #[test]
    fn never_fewer_running_days_for_under_18s() {
        assert_eq!(rests(&before(Half, SIX).aged(17)), [4]);
        assert_eq!(rests(&before(TenK, SEVEN).aged(17)), []);
    }

    #[test]
    fn it_goes_to_an_easy_day_farthest_from_other_rest_the_earliest_on_a_tie() {
        // Ten miles, no rest day, a shake-out on D1: every easy day is as far, D6 the earliest.
        assert_eq!(rests(&before(TenMiles, SEVEN)), [6]);
        // D5 and D4 hard or key: not on them.
        let coach = before(TenMiles, "intervals 9, hard 3 | 8 | tempo 9, hard 4 | 8 | 8 | 7 | long 18");
        assert_eq!(rests(&coach), [5]);
    }

    #[test]
    fn the_race_on_a_rest_day_is_a_run_more_and_so_a_rest_day_more() {
        // Five runs and the race would be six running days; two are to go and one place is free.
        let coach = before(Half, "8 | tempo 9, hard 4 | 8 | 8 | - | long 18 | -");
        assert_eq!(rests(&coach), [4, 2], "{}", coach.race_week());
    }

    #[test]
    fn where_there_is_no_place_there_is_none_and_the_review_says_so() {
        // D6, D4 and D2 are rest, the runs between stand beside them; D1 follows a rest day.
        let week = "- | tempo 9, hard 4 | 8 | - | 8 | 7 | long 18";
        let coach = before(Half, week).set(|settings| settings.day_before = DayBefore::ShakeOut);
        let block = coach.block();
        assert_eq!(rests(&coach), [6, 3]);
        let findings = planning::review(&planning::review::Subject {
            block: &block,
            athlete: &coach.athlete,
            week: &coach.week,
            other_races: &[],
        });
        assert!(findings.iter().any(|finding| finding.rule == planning::RuleId::NoRestPlace));
    }

    #[test]
    fn the_day_before_rests_where_it_always_does() {
        assert_eq!(before(Half, "8 | tempo 9, hard 4 | 8 | 8 | 8 | - | long 18").day(1), "rest");
        assert_eq!(before(FiveK, "8 | tempo 9, hard 4 | 8 | 8 | 8 | - | long 18").day(1), "rest");
    }

    #[test]
    fn from_the_half_marathon_up_it_is_the_extra_rest_day_after_a_run() {
        let coach = before(Half, SIX);
        assert_eq!(coach.day(1), "rest");
        assert_eq!(coach.why(1), ["day-before-rest"]);
        assert_eq!(before(TenK, SIX).day(1), "shake-out easy 3.5 km");
        assert_eq!(before(Half, FIVE).day(1), "shake-out easy 3.5 km");
    }

    #[test]
    fn a_shake_out_is_short_and_holds_strides_where_they_are_known() {
        assert_eq!(before(TenK, "8 | strides 7 | 8 | 8 | - | 7 | long 18").day(1), "shake-out strides 3.5 km");
        assert_eq!(before(TenK, "- | 30 min | - | 45 min | - | 40 min | long 80 min").day(1), "shake-out easy 15 min");
        assert_eq!(
            before(TenK, "60 min | 60 min | 60 min | 60 min | - | 60 min | long 120 min").day(1),
            "shake-out easy 20 min"
        );
        assert_eq!(
            before(TenK, "90 min | 90 min | 90 min | 90 min | - | 60 min | long 140 min").day(1),
            "shake-out easy 25 min"
        );
        assert_eq!(before(TenK, "5 mi | 6 mi | 5 mi | 5 mi | - | 5 mi | long 10 mi").day(1), "shake-out easy 2 mi");
        assert_eq!(before(TenK, "18 | 18 | 18 | 18 | - | 12 | long 22").day(1), "shake-out easy 4 km");
    }

    #[test]
    fn a_usual_run_shorter_than_a_shake_out_stays_as_it_is() {
        assert_eq!(before(TenK, "8 | 9 | 8 | 8 | - | 2 | long 18").day(1), "shake-out easy 2 km");
    }

    #[test]
    fn the_coach_sets_the_day_before() {
        let rest = before(TenK, SIX).set(|settings| settings.day_before = DayBefore::Rest);
        assert_eq!((rest.day(1), rest.why(1)), ("rest".into(), vec!["day-before-rest".into()]));
        let run = before(Half, SIX).set(|settings| settings.day_before = DayBefore::ShakeOut);
        assert_eq!(run.day(1), "shake-out easy 3.5 km");
        let on_a_rest_day = before(Half, "8 | tempo 9, hard 4 | 8 | 8 | 8 | - | long 18")
            .set(|settings| settings.day_before = DayBefore::ShakeOut);
        assert_eq!(on_a_rest_day.day(1), "shake-out easy 3.5 km");
    }

    #[test]
    fn what_suits_the_athlete_goes_before_the_rules_and_the_coachs_word_before_that() {
        let suited = before(TenK, SIX).suits(|suits| suits.day_before = Some(DayBefore::Rest));
        assert_eq!(suited.day(1), "rest");
        let overruled = suited.set(|settings| settings.day_before = DayBefore::ShakeOut);
        assert_eq!(overruled.day(1), "shake-out easy 3.5 km");
    }

    #[test]
    fn the_coach_sets_the_extra_rest_day() {
        let monday = before(Half, SIX).set(|settings| settings.extra_rest = ExtraRest::On(Weekday::Mon));
        assert_eq!(rests(&monday), [6, 4]);
        assert_eq!(monday.why(6), ["extra-rest"]);
        assert_eq!(monday.day(1), "shake-out easy 3.5 km");
        let none = before(Half, SIX).set(|settings| settings.extra_rest = ExtraRest::None);
        assert_eq!(rests(&none), [4]);
        let usual_rest = before(Half, SIX).set(|settings| settings.extra_rest = ExtraRest::On(Weekday::Wed));
        assert_eq!(rests(&usual_rest), [4, 1]);
    }

    #[test]
    fn the_weekday_that_suits_goes_first_and_the_coachs_word_before_that() {
        let suited = before(Half, SIX).suits(|suits| suits.extra_rest = Some(Weekday::Fri));
        assert_eq!(rests(&suited), [4, 2]);
        let overruled = suited.set(|settings| settings.extra_rest = ExtraRest::None);
        assert_eq!(rests(&overruled), [4]);
    }

    #[test]
    fn the_key_session_gives_way_to_a_rest_day_that_the_coach_sets() {
        let coach = before(Half, SEVEN).set(|settings| settings.extra_rest = ExtraRest::On(Weekday::Tue));
        assert_eq!(coach.day(5), "rest");
        assert!(coach.day(4).starts_with("key tempo"), "{}", coach.race_week());
    }
}

mod strength_and_cross_training {
    use super::*;

    /// Strength every day on which nothing heavy stands near.
    const EVERY_DAY: &str = "8 + strength 40 loaded | 8 + strength 40 loaded | 8 + strength 40 loaded | 8 + strength 40 loaded | 8 + strength 40 loaded | 8 + strength 40 loaded | 10";

    fn strength(coach: &Coach, to_race: u16) -> Option<(String, bool)> {
        let block = coach.block();
        let day = on(&block, to_race);
        let session = &day.sessions.iter().find(|planned| planned.session.kind == Kind::Strength)?.session;
        Some((session.amount.map(|amount| amount.to_string()).unwrap_or_default(), session.loaded))
    }

    #[test]
    fn as_usual_until_d10_then_light_then_body_weight_then_none() {
        let coach = before(Half, EVERY_DAY);
        assert_eq!(strength(&coach, 10), Some(("40 min".into(), true)));
        assert!(!coach.why(10).iter().any(|reason| reason.starts_with("strength")));
        for to_race in [9, 8] {
            let (_, loaded) = strength(&coach, to_race).expect("strength");
            assert!(!loaded, "D{to_race}");
            assert!(coach.why(to_race).contains(&"strength-light".to_owned()));
        }
        for to_race in [6, 5, 4] {
            let (_, loaded) = strength(&coach, to_race).expect("strength");
            assert!(!loaded, "D{to_race}");
            assert!(coach.why(to_race).contains(&"strength-body-weight".to_owned()));
        }
        for to_race in [3, 2, 1] {
            assert_eq!(strength(&coach, to_race), None, "D{to_race}");
            assert!(coach.why(to_race).contains(&"strength-off".to_owned()));
        }
    }

    #[test]
    fn it_is_so_before_a_short_block_too() {
        let coach = before(FiveK, EVERY_DAY);
        assert_eq!(strength(&coach, 10), Some(("40 min".into(), true)));
        assert_eq!(strength(&coach, 9).map(|(_, loaded)| loaded), Some(false));
    }

    #[test]
    fn loaded_legs_never_stand_next_to_a_hard_or_a_long_day() {
        let coach = before(
            Marathon,
            "8 + strength 30 loaded | 8 | tempo 10, hard 4 | 8 + strength 30 loaded | 8 | 8 + strength 30 loaded | long 28",
        );
        // Monday after the long run, Thursday after the hard day, Saturday before the long run.
        for to_race in [20, 17, 15] {
            assert_eq!(strength(&coach, to_race), Some(("30 min".into(), false)), "D{to_race}");
            assert!(coach.why(to_race).contains(&"loaded-legs-off".to_owned()), "D{to_race}");
        }
        let apart = before(Marathon, "8 | 8 + strength 30 loaded | 8 | 8 | 8 | 8 | long 28");
        assert_eq!(strength(&apart, 19), Some(("30 min".into(), true)));
    }

    #[test]
    fn strength_without_an_amount_stays_without_one() {
        let coach = before(Half, "8 | 8 | 8 + strength | 8 | 8 | 8 | 10");
        assert_eq!(strength(&coach, 4), Some((String::new(), false)));
        assert_eq!(strength(&coach, 11), Some((String::new(), false)));
    }

    #[test]
    fn loaded_strength_without_an_amount_loses_its_load_too() {
        let coach = before(Half, "8 | 8 | 8 + strength loaded | 8 | 8 | 8 | 10");
        assert_eq!(strength(&coach, 4), Some((String::new(), false)));
        assert!(coach.why(4).contains(&"strength-body-weight".to_owned()));
    }

    #[test]
    fn mobility_stays() {
        let coach = before(Half, "8 + mobility 15 | 8 | 8 | 8 | 8 + mobility 15 | 8 | 10");
        assert!(coach.day(6).ends_with("+ mobility 15 min"));
        assert!(coach.day(2).ends_with("+ mobility 15 min"));
    }

    #[test]
    fn cross_training_comes_down_with_the_curve() {
        // 47.8 % on D3 of 60 minutes, in fives; half marathon, 14 days.
        let coach = before(Half, "8 | 8 | cross-training 60 | cross-training 60 | - | 8 | long 14");
        assert_eq!(coach.day(11), "cross-training 55 min");
        assert_eq!(coach.day(3), "cross-training 30 min");
    }

    #[test]
    fn a_hard_part_of_cross_training_comes_down_and_goes_in_race_week() {
        let coach = before(Half, "8 | 8 | cross-training 60, hard 20 | 8 | - | 8 | long 14");
        assert_eq!(coach.day(18), "cross-training 60 min, hard 20 min");
        assert!(coach.day(11).contains("hard 1"), "{}", coach.day(11));
        assert_eq!(coach.day(4), "cross-training 35 min");
    }

    #[test]
    fn cross_training_is_at_most_40_minutes_on_d2() {
        let coach = hardly_cut(before(Half, "8 | 8 | 8 | 8 | cross-training 90 | 8 | long 14"), 10);
        assert_eq!(coach.day(2), "cross-training 40 min");
    }
}

mod slots_and_units {
    use super::*;
    use planning::{Milli, Unit};

    #[test]
    fn of_alternatives_the_flattest_and_nearest_to_racing_is_taken() {
        let coach = before(Half, "- | hills 9 or tempo 9, hard 4 | - | 8 | - | 7 | long 18");
        assert_eq!(coach.day(12), "tempo 9 km, hard 4 km");
        assert_eq!(coach.why(12), ["chosen"]);
        let coach = before(Half, "- | intervals 9, hard 3 or race pace 9, hard 3 | - | 8 | - | 7 | long 18");
        assert_eq!(on(&coach.block(), 12).sessions[0].session.kind, Kind::RacePace);
    }

    #[test]
    fn a_range_keeps_its_width_in_proportion() {
        let coach = before(Half, "- | 11-13 | - | 11-13 | - | 11-13 | long 22");
        for day in &coach.block().days {
            for planned in &day.sessions {
                let (now, usual) = (planned.session.amount, planned.usual.as_ref().and_then(|usual| usual.amount));
                let (Some(now), Some(usual)) = (now, usual) else { continue };
                if !usual.is_range() || now == usual || planned.role == Role::ShakeOut {
                    continue;
                }
                let width = (now.high() - now.low()).as_f64();
                let wanted = 2.0 * now.middle().as_f64() / 12.0;
                let right = if wanted < 1.0 { width.abs() < 1e-9 } else { (width - wanted).abs() <= 0.5 };
                assert!(right, "D{}: {now}", day.to_race);
            }
        }
        assert_eq!(coach.day(3), "easy 5 km");
    }

    #[test]
    fn minutes_stay_minutes_by_fives() {
        let coach = before(Marathon, "- | 50 min | tempo 70 min, hard 20 min | 45 min | - | 40 min | long 130 min");
        for day in &coach.block().days {
            for planned in &day.sessions {
                let amount = planned.session.amount.expect("an amount");
                assert_eq!(amount.unit(), Unit::Min);
                assert_eq!(amount.middle().0 % 5_000, 0, "D{}: {amount}", day.to_race);
            }
        }
    }

    #[test]
    fn mixed_units_are_cut_each_in_its_own() {
        let coach = before(Half, "- | tempo 9, hard 4 | - | 50 min | - | 4 mi | long 18");
        let block = coach.block();
        for day in &block.days {
            for planned in &day.sessions {
                assert_eq!(
                    planned.session.amount.map(planning::Amount::unit),
                    planned.usual.as_ref().and_then(|usual| usual.amount).map(planning::Amount::unit),
                    "D{}",
                    day.to_race
                );
            }
        }
        let week = &block.weeks()[1];
        assert!(week.planned.of(Unit::Km).middle() < week.usual.of(Unit::Km).middle());
        assert!(week.planned.of(Unit::Min).middle() < week.usual.of(Unit::Min).middle());
        assert!(week.planned.of(Unit::Mi).middle() < week.usual.of(Unit::Mi).middle());
    }

    #[test]
    fn running_that_a_rest_day_gave_away_is_taken_up_by_a_quarter_at_most() {
        let coach = before(Half, "8 | tempo 9, hard 4 | 8 | 8 | 8 | 8 | long 18");
        let block = coach.block();
        let took: Vec<u16> = (1..=6).filter(|to_race| coach.why(*to_race).contains(&"took-up".to_owned())).collect();
        assert!(!took.is_empty(), "{}", coach.race_week());
        for to_race in took {
            let wish = 8.0 * block.curve.share(to_race).0;
            let now = on(&block, to_race).sessions[0].session.running_middle();
            assert!(now <= Milli::nearest(1.25 * wish.max(4.0) + 0.5), "D{to_race}: {now} of {wish}");
        }
    }
}

mod pins {
    use super::*;

    #[test]
    fn a_pinned_day_stays_and_what_it_displaces_is_kept_with_the_reason() {
        let coach = before(Half, "8 | tempo 9, hard 4 | 8 | 8 + strength 20 | - | 7 | long 18").pin(3, "easy 5.3");
        assert_eq!(coach.day(3), "easy 5.3 km");
        assert_eq!(coach.why(3), ["pinned", "pinned"]);
        assert!(on(&coach.block(), 3).pinned);
    }

    #[test]
    fn a_pinned_rest_day_is_rest() {
        let coach = before(TenK, "8 | tempo 9, hard 4 | 8 | 8 | 8 | 7 | long 18").pin(4, "rest");
        assert_eq!(coach.day(4), "rest");
        // The one rest day that is due is there: no other.
        let rests = coach.block().days.iter().filter(|day| day.to_race <= 6 && day.is_rest()).count();
        assert_eq!(rests, 1);
    }

    #[test]
    fn a_pinned_hard_session_is_the_key_session() {
        let coach = before(Half, "8 | tempo 9, hard 4 | 8 | 8 | - | 7 | long 18").pin(4, "intervals 7, hard 2");
        assert_eq!(coach.day(4), "intervals 7 km, hard 2 km");
        assert!(coach.day(5).ends_with("with strides"), "{}", coach.day(5));
    }

    #[test]
    fn pinning_a_block_as_it_is_changes_nothing() {
        let coach = before(Half, "8 | tempo 9, hard 4 | 8 | 8 | - | 7 | long 18");
        let block = coach.block();
        for to_race in [13, 9, 6, 3] {
            let mut pinned = coach.clone();
            let day = on(&block, to_race);
            let sessions = day.sessions.iter().map(|planned| planned.session.clone()).collect();
            pinned.pins.push(planning::Pin { date: day.date, sessions });
            for (a, b) in block.days.iter().zip(&pinned.block().days) {
                let sessions = |day: &planning::Day| day.sessions.iter().map(|p| p.session.clone()).collect::<Vec<_>>();
                assert_eq!(sessions(a), sessions(b), "D{to_race} pinned, D{} changed", a.to_race);
            }
        }
    }

    #[test]
    fn the_rest_of_the_week_is_planned_around_a_pinned_long_day() {
        let coach = before(Half, "8 | 8 | 8 | 8 | - | 8 | long 18");
        let free = coach.block().weeks()[1].planned.middle_km(planning::Pace::ASSUMED);
        let pinned = coach.pin(10, "easy 8").block().weeks()[1].planned.middle_km(planning::Pace::ASSUMED);
        assert!((free - pinned).abs() <= 1.5, "{free} {pinned}");
    }
}

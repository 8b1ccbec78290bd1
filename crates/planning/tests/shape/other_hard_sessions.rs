//! Hard sessions other than the key session.

use planning::RaceDistance::{FiveK, Half, Marathon, TenK};
use planning::{Kind, Reason};

use crate::coach::{Coach, FIFTY_KM, before, on};

#[test]
fn a_touch_of_quick_running_is_no_hard_session_too_many() {
    let coach = before(Half, "6 km with 4 x 1 min | tempo 10, hard 4 | 8 | intervals 10, hard 4 | - | 7 | long 18");
    let week = coach.days(13, 7);
    assert!(week.contains("tempo") && week.contains("intervals") && week.contains("4 x 1 min"), "{week}");
}

#[test]
fn a_cut_is_told_as_what_it_is() {
    // 98 % of 5 km is nothing that anybody cuts; 4 km is the next that is worth writing.
    for race in [TenK, Half, Marathon] {
        for km in 4..=9 {
            let coach = before(race, &format!("{km} | tempo 10, hard 4 | {km} | {km} | - | {km} | long 20"));
            for day in coach.block().days.iter().filter(|day| day.to_race > 0) {
                for planned in &day.sessions {
                    let usual = planned.usual.as_ref().map_or(1.0, |usual| usual.running_middle().as_f64());
                    let part = planned.session.running_middle().as_f64() / usual;
                    let is_far = |why: &&Reason| matches!(why, Reason::Ebb(share) if (share.0 - part).abs() > 0.101);
                    let says_why = planned.why.iter().any(|why| matches!(why, Reason::LeastWorth(_)));
                    assert!(says_why || part >= 1.0 || !planned.why.iter().any(|why| is_far(&why)), "{planned:?}");
                }
            }
        }
    }
}

#[test]
fn in_race_week_they_become_easy_with_strides() {
    let coach = before(Half, "8 | tempo 10, hard 4 | 8 | intervals 10, hard 4 | - | 7 | long 18");
    assert_eq!(coach.day(3), "easy 5 km with strides");
    assert_eq!(coach.why(3)[..2], ["hard-eased intervals", "strides"]);
}

#[test]
fn before_a_half_marathon_one_of_them_holds_a_little_race_pace_where_the_key_session_is_faster() {
    let faster = before(Half, "8 | intervals 10, hard 4 | 8 | tempo 10, hard 4 | - | 7 | long 18");
    assert_eq!(faster.day(3), "easy 5 km with race pace");
    assert_eq!(faster.why(3).last().map(String::as_str), Some("race-pace-touch"), "{:?}", faster.why(3));
    assert!(!faster.why(3).contains(&"strides".to_owned()));
    // An easy run does it too; beside the key session none does, nor one that is too short.
    let easy = before(Half, "8 | intervals 10, hard 4 | 8 | 9 | - | 7 | long 18");
    assert!(easy.day(3).ends_with("with race pace"), "{}", easy.day(3));
    let beside = before(Half, "8 | 8 | intervals 10, hard 4 | 9 | - | 7 | long 18");
    assert!(!beside.day(3).ends_with("pace"), "{}", beside.day(3));
    let short = before(Half, "- | intervals 7, hard 3 | 7 | 6 | - | 6 | long 15");
    assert!(!short.day(3).ends_with("pace"), "{}", short.day(3));
    // A tempo session is near enough to it; nobody who runs nothing hard begins now; other races have other paces.
    let tempo = before(Half, "8 | tempo 10, hard 4 | 8 | intervals 10, hard 4 | - | 7 | long 18");
    assert!(tempo.day(3).ends_with("with strides"), "{}", tempo.day(3));
    assert!(!before(Half, "8 | 10 | 8 | 10 | - | 7 | long 18").day(3).contains("with"));
    let marathon = before(Marathon, "8 | intervals 10, hard 4 | 8 | tempo 10, hard 4 | - | 7 | long 28");
    assert!(marathon.day(3).ends_with("with strides"), "{}", marathon.day(3));
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
    let coach = before(Half, "time trial 8, hard 5 | - | intervals 10, hard 4 | - | fartlek 10, hard 4 | - | long 18");
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
fn one_that_is_as_long_as_a_long_run_comes_down_like_one() {
    let coach = before(Half, "tempo 10, hard 4 | - | intervals 10, hard 4 | - | 6 | tempo 15, hard 4 | long 16");
    let d8 = coach.day(8);
    assert!(d8.starts_with("easy 11 km") && d8.ends_with("with strides"), "{d8}");
    assert!(coach.why(8).contains(&"long-run 0.7".to_owned()), "{:?}", coach.why(8));
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

#[test]
fn one_on_d6_comes_down_before_the_shortest_block_too() {
    let coach = before(FiveK, "intervals 12, hard 4 | 8 | tempo 10, hard 4 | 8 | - | 7 | long 18")
        .set(|settings| settings.days = Some(4));
    assert_eq!(coach.day(6), "intervals 9 km, hard 3 km");
}

#[test]
fn a_time_trial_goes_whatever_is_said_of_its_hard_part() {
    let coach = before(Half, "8 | time trial 8, hard 0 | 8 | tempo 9, hard 4 | - | 7 | long 18");
    assert!(coach.day(5).starts_with("key tempo"), "{}", coach.race_week());
    let coach = before(Half, "8 | tempo 9, hard 4 | 8 | time trial 8, hard 0 | - | 7 | long 18");
    assert!(coach.day(3).starts_with("easy"), "{}", coach.day(3));
}

#[test]
fn hills_that_are_said_not_to_be_hard_stay_so_on_the_flat() {
    let coach = before(Half, "8 | tempo 9, hard 4 | - | hills 8, hard 0 | - | 7 | long 18");
    assert_eq!(coach.day(10), "intervals 7 km, hard 0 km");
}

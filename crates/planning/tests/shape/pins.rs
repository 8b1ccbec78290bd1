//! Days that the coach has fixed.

use chrono::Weekday;
use planning::RaceDistance::{Half, TenK};
use planning::review::Subject;
use planning::{Milli, RuleId};

use crate::coach::{Coach, FIFTY_KM, before, on};

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
        pinned.pins.push(planning::Pin::plain(day.date, sessions));
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

#[test]
fn what_makes_room_for_a_fixed_day_says_so_and_nothing_else_does() {
    let free = before(Half, "8 | 8 | 8 | 8 | - | 8 | long 18");
    assert!((0..14).all(|to_race| !free.why(to_race).iter().any(|why| why.starts_with("around-"))));
    let fixed = free.clone().pin(12, "easy 14");
    let made_room: Vec<u16> =
        (7..14).filter(|to_race| fixed.why(*to_race).iter().any(|why| why.starts_with("around-"))).collect();
    assert!(!made_room.is_empty(), "{}", fixed.days(13, 7));
    for to_race in 7..14 {
        let shorter = on(&fixed.block(), to_race).planned_running() != on(&free.block(), to_race).planned_running();
        assert!(!made_room.contains(&to_race) || shorter, "D{to_race}");
    }
    // A shorter fixed day takes nothing from the others.
    let short = free.pin(12, "easy 4");
    assert!((0..14).all(|to_race| !short.why(to_race).iter().any(|why| why.starts_with("around-"))));
}

#[test]
fn where_fixed_days_leave_nothing_to_the_others_they_are_as_short_as_may_be_and_the_review_says_so() {
    // 31 % of 40 km are 12.5 km; the fixed run alone is longer.
    let coach = before(Half, "- | tempo 9, hard 4 | - | 8 | - | 7 | long 16").pin(4, "easy 14");
    assert_eq!(
        coach.race_week(),
        "rest | key tempo 6 km, hard 2 km | easy 14 km | easy 3 km | rest | shake-out easy 3 km"
    );
    let rules = rules_of(&coach);
    assert!(rules.contains(&RuleId::CutTooSmall), "{rules:?}");
}

/// The rules that the review's findings are about.
fn rules_of(coach: &Coach) -> Vec<RuleId> {
    let block = coach.block();
    let subject = Subject::new(&block, &coach.athlete, &coach.week);
    planning::review(&subject).into_iter().map(|finding| finding.rule).collect()
}

/// Intervals, an easy Wednesday, a tempo run and a long run, before a half marathon.
fn with_two_hard_days() -> Coach {
    let week = "6 | intervals 11, hard 6 | 8 | tempo 9, hard 4 | - | 7 | long 18";
    before(Half, week).set(|settings| settings.days = Some(12))
}

#[test]
fn a_day_set_to_more_than_usual_does_not_hollow_out_the_rest_of_its_week() {
    let coach = with_two_hard_days();
    assert_eq!(
        coach.days(13, 7),
        "easy 6 km | intervals 11 km, hard 6 km | easy 8 km | tempo 9 km, hard 4 km | rest | easy 6 km | long 12 km"
    );
    // Hard sessions keep 70 %, the long run 60 % and easy runs 4 km, however much more the day holds.
    let rest = |line: &str| {
        let fixed = coach.clone().pin(11, line);
        [fixed.days(12, 12), fixed.days(10, 7)]
    };
    let least = ["intervals 8 km, hard 4.5 km", "tempo 7 km, hard 3 km | rest | easy 4 km | long 8 km"];
    assert_eq!(rest("easy 25"), least);
    assert_eq!(rest("easy 40 km"), least);
    // A little more is still taken from the others as before, and no more than usual is no case for it.
    assert_eq!(
        rest("easy 10"),
        ["intervals 11 km, hard 6 km", "tempo 8 km, hard 3.5 km | rest | easy 6 km | long 12 km"]
    );
    assert_eq!(rest("easy 8"), ["intervals 11 km, hard 6 km", "tempo 9 km, hard 4 km | rest | easy 6 km | long 12 km"]);
}

#[test]
fn nor_does_it_take_the_warm_up_of_a_short_hard_session() {
    let week = "5 | 2 x 1.2 km, 6 km | 6 | long 5, hard 1.5 | - | - | -";
    let free = before(FIFTY_KM, week);
    assert_eq!(free.day(12), "2 x 1.2 km, 6 km");
    let fixed = free.pin(13, "easy 7");
    assert!(on(&fixed.block(), 12).sessions[0].session.running_middle() >= Milli(4200), "{}", fixed.days(13, 7));
}

#[test]
fn nor_does_a_longer_day_leave_less_than_that_share_where_the_steps_are_wide() {
    let session = "tempo 35 min, hard 14 min (9 min wu, 9 min cd)";
    let week = format!("easy 35-45 min | - | {session} | - | easy 40-50 min | long 45 min, hard 13.5 min | -");
    let free = before(FIFTY_KM, &week).on(Weekday::Wed);
    assert_eq!(free.day(7), session);
    // 70 % of the 30 min that it would be at least: by fives 25, not 20. Whether the longer day is told in minutes or not.
    for longer in ["easy 45 min", "easy 60 min", "easy 7 km"] {
        assert!(free.clone().pin(9, longer).day(7).starts_with("tempo 25 min"), "{longer}");
    }
    assert_eq!(free.clone().pin(9, "easy 60 min").why(7), ["around-longer 2027-04-26"]);
    assert_eq!(free.pin(9, "easy 10 km").why(7), ["around-longer 2027-04-26"]);
}

#[test]
fn the_week_behind_it_is_as_it_was() {
    let coach = with_two_hard_days();
    assert_eq!(coach.clone().pin(11, "easy 25").race_week(), coach.race_week());
}

#[test]
fn what_makes_room_for_a_day_set_to_more_than_usual_names_the_day() {
    let fixed = with_two_hard_days().pin(11, "easy 25");
    assert_eq!(fixed.why(12), ["around-longer 2027-04-28"], "the curve takes nothing there yet");
    assert_eq!(fixed.why(7), ["around-longer 2027-04-28", "long-run 0.7"]);
    assert!(!fixed.why(9).iter().any(|why| why.starts_with("around")), "the usual rest day gives nothing");
}

#[test]
fn the_review_says_that_it_is_longer_than_the_longest_usual_run() {
    let said = |line: &str| rules_of(&with_two_hard_days().pin(11, line)).contains(&RuleId::LongRunBig);
    assert_eq!((said("easy 18"), said("easy 18.5"), said("easy 25")), (false, true, true));
    assert!(rules_of(&with_two_hard_days().pin(11, "easy 25")).contains(&RuleId::CutTooSmall));
}

//! A week whose only hard running is a touch of it has no key session: nothing is moved for a few minutes.

use planning::RaceDistance::{FiveK, Half, TenK};
use planning::review::Subject;
use planning::{RuleId, review};

use crate::coach::{Coach, before};

/// What the review says beside what it says of little running.
fn said(coach: &Coach) -> Vec<RuleId> {
    let block = coach.block();
    let findings = review(&Subject::new(&block, &coach.athlete, &coach.week));
    findings.iter().map(|finding| finding.rule).filter(|rule| *rule != RuleId::BaseTooThin).collect()
}

#[test]
fn it_stays_on_its_day_and_becomes_shorter() {
    let coach = before(TenK, "- | 5 km with 4 x 1 min brisk | - | 5 | - | - | 8").aged(55);
    assert_eq!(coach.race_week(), "rest | 3 x 1 min brisk, 4 km | rest | easy 3.5 km | rest | rest");
    assert_eq!(said(&coach), []);
}

#[test]
fn where_it_would_be_too_late_the_run_is_easy_and_no_other_day_gives_way() {
    let coach = before(TenK, "- | 5 | - | - | 5 km with 4 x 1 min brisk | - | 8").aged(55);
    assert_eq!(coach.race_week(), "rest | easy 4 km | rest | rest | easy 3.5 km with strides | rest");
    assert_eq!(coach.why(2)[..2], ["touch-off", "strides"]);
    assert_eq!(said(&coach), []);
    let on_d1 = before(TenK, "- | 5 | - | 5 | - | 5 km with 4 x 1 min brisk | 8").aged(55);
    assert_eq!(on_d1.race_week(), "rest | easy 4 km | rest | easy 3.5 km | rest | shake-out easy 3 km");
    assert_eq!(said(&on_d1), []);
}

#[test]
fn five_minutes_or_1200_metres_are_a_touch_and_more_is_a_session() {
    for (line, is_session) in [
        ("6 km with 5 x 1 min brisk", false),
        ("6 km with 6 x 1 min brisk", true),
        ("tempo 6, hard 1.2", false),
        ("tempo 6, hard 1.3", true),
        ("tempo 40 min, hard 5 min", false),
        ("tempo 40 min, hard 6 min", true),
        ("6 km with 6 x 200 m brisk", false),
        ("6 km with 4 x 400 m brisk", true),
        ("tempo 4 mi, hard 0.75 mi", false),
    ] {
        for race in [FiveK, Half] {
            let coach = before(race, &format!("8 | 8 | - | 8 | {line} | - | long 14"));
            assert_eq!(coach.race_week().contains("key"), is_session, "{line}: {}", coach.race_week());
            assert_eq!(said(&coach), [], "{line}");
        }
    }
}

#[test]
fn one_session_that_is_more_makes_a_key_session_and_the_touch_beside_it_becomes_easy() {
    let coach = before(TenK, "8 | tempo 9, hard 4 | - | 6 km with 4 x 1 min brisk | 8 | - | long 14");
    assert_eq!(coach.day(5), "key tempo 6 km, hard 2 km");
    assert_eq!(coach.why(3)[..2], ["hard-eased intervals", "strides"]);
}

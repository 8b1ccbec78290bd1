//! Runs that the coach left to the athlete: the first to go, and no place for anything hard.

use planning::RaceDistance::{Half, TenK};
use planning::review::Subject;
use planning::{DayBefore, Level, review};

use crate::coach::{Coach, before};

/// What the review says but for notes.
fn said(coach: &Coach) -> Vec<planning::Finding> {
    let block = coach.block();
    let findings = review(&Subject::new(&block, &coach.athlete, &coach.week));
    findings.into_iter().filter(|finding| finding.level != Level::Note).collect()
}

#[test]
fn they_are_no_place_for_the_key_session() {
    // D5 goes before D4 and D6, but for its run.
    for note in ["or off", "very easy, optional", "if time"] {
        let coach = before(Half, &format!("- | 8 ({note}) | 8 | 8 | tempo 9, hard 4 | - | long 18"));
        assert!(coach.day(4).starts_with("key tempo"), "{}", coach.race_week());
    }
    let coach = before(Half, "- | 8 (on grass) | 8 | 8 | tempo 9, hard 4 | - | long 18");
    assert!(coach.day(5).starts_with("key tempo"), "{}", coach.race_week());
    // Where there is no other run there is no key session, and nobody misses it.
    let none = before(TenK, "- | - | 8 (or off) | - | tempo 9, hard 4 | 7 | long 18");
    assert!(!none.race_week().contains("key"), "{}", none.race_week());
    assert_eq!(said(&none), []);
}

#[test]
fn they_are_the_first_to_become_the_extra_rest_day() {
    let six = |monday: &str, thursday: &str| {
        before(Half, &format!("{monday} | tempo 9, hard 4 | - | {thursday} | 8 | 7 | long 18"))
    };
    assert!(six("8", "8").race_week().ends_with("rest"), "the day before the race");
    let coach = six("8 (optional)", "8");
    assert!(coach.race_week().starts_with("rest | key"), "{}", coach.race_week());
    assert!(coach.day(1).starts_with("shake-out"), "{}", coach.race_week());
    assert_eq!(coach.why(6), ["extra-rest"]);
    assert_eq!(said(&coach), []);
    // Beside a usual rest day too.
    let beside = six("8", "8 (or off)");
    assert_eq!(beside.days(4, 3), "rest | rest");
    assert_eq!(said(&beside), []);
    // The day that the coach set goes first.
    let set = six("8 (optional)", "8").set(|settings| settings.day_before = DayBefore::Rest);
    assert!(!set.race_week().starts_with("rest") && set.race_week().ends_with("rest"), "{}", set.race_week());
}

#[test]
fn where_the_race_takes_a_usual_rest_day_the_optional_run_makes_room_for_it() {
    let week = "- | 6 | - | 6 | easy 25 min (optional, very easy) | - | 9";
    let coach = before(TenK, week).on(chrono::Weekday::Sat);
    assert_eq!(coach.day(1), "rest", "{}", coach.race_week());
    assert!(coach.day(2).starts_with("easy"), "{}", coach.race_week());
    assert_eq!(said(&coach), []);
}

#[test]
fn three_days_in_a_row_do_not_rest_for_it() {
    let coach = before(Half, "8 | tempo 9, hard 4 | - | 8 (or off) | - | 7 | long 18");
    assert!(coach.day(3).starts_with("easy"), "{}", coach.race_week());
}

//! Rest in race week, and the day before the race.

use chrono::Weekday;
use planning::RaceDistance::{FiveK, Half, Marathon, TenK, TenMiles};
use planning::review::Subject;
use planning::{DayBefore, ExtraRest, Session};

use crate::coach::{Coach, before};

fn rests(coach: &Coach) -> Vec<u16> {
    let block = coach.block();
    block.days.iter().filter(|day| day.to_race <= 6 && day.is_rest()).map(|day| day.to_race).collect()
}

const FOUR: &str = "- | tempo 9, hard 4 | - | 8 | - | 7 | long 18";
const FIVE: &str = "- | tempo 9, hard 4 | 8 | 8 | - | 7 | long 18";
const SIX: &str = "8 | tempo 9, hard 4 | - | 8 | 8 | 7 | long 18";
const SEVEN: &str = "8 | tempo 9, hard 4 | 8 | 8 | 8 | 7 | long 18";

#[test]
fn the_day_before_the_race_holds_no_cross_training() {
    let week = |line: &str| format!("8 | tempo 9, hard 4 | 8 | 8 | - | {line} | long 18");
    let spins = before(Marathon, &week("spinning 20 min"));
    assert_eq!(spins.day(1), "rest");
    assert_eq!(spins.why(1), ["day-before-rest"]);
    let walks = before(Marathon, &week("walk 30 min"));
    assert!(walks.day(1).contains("walk"), "{}", walks.day(1));
    let both = before(FiveK, &week("6 + spinning 20 min"));
    assert_eq!(both.day(1), "shake-out easy 3.5 km");
}

#[test]
fn a_shake_out_is_run_and_walked_where_the_usual_run_is() {
    let day_before = |note: &str| {
        let week = format!("30 min | - | 30 min | - | - | easy 30 min ({note}) | long 60 min");
        before(TenK, &week).day(1)
    };
    assert_eq!(day_before("run/walk"), "shake-out easy 15 min (\"run/walk\")");
    assert_eq!(day_before("r/w 4:1"), "shake-out easy 15 min (r/w 4:1)");
    assert_eq!(day_before("with Jo"), "shake-out easy 15 min");
}

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
fn it_takes_a_long_slot_only_where_nothing_else_is_left() {
    // Every day is run on; D6 would be the earliest of equals but for its long run. D5 is the key day.
    for race in [FiveK, TenK, TenMiles] {
        let coach = before(race, "long 18 | tempo 9, hard 4 | 8 | 8 | 8 | 8 | 8");
        assert_eq!(rests(&coach), [4], "{}", coach.race_week());
    }
    // D4 and D2 are rest and D5 is the key day.
    assert_eq!(rests(&before(Half, "long 18 | tempo 9, hard 4 | - | 8 | - | 8 | 8")), [6, 4, 2]);
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
    let findings = planning::review(&Subject::new(&block, &coach.athlete, &coach.week));
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

#[test]
fn words_beside_rest_stand_on_the_days_that_are_rest_and_change_nothing_else() {
    let physio = Session::rest_with("physio");
    let mut kept = 0;
    for week in [FOUR, FIVE, SIX] {
        for race in [FiveK, TenK, Half] {
            for weekday in [Weekday::Sun, Weekday::Sat, Weekday::Mon, Weekday::Wed] {
                let bare = before(race, week).on(weekday).block();
                let worded = before(race, &week.replace("| - |", "| Rest, physio |").replace("- |", "off (physio) |"));
                let worded = worded.on(weekday).block();
                for (bare, mut day) in bare.days.into_iter().zip(worded.days) {
                    let rests = day.usual.contains(&physio);
                    let stands = day.sessions.iter().any(|planned| planned.session == physio);
                    assert_eq!(stands, rests && bare.sessions.is_empty() && bare.to_race > 0, "{day:?}");
                    assert!(!rests || bare.usual.is_empty());
                    assert!(!stands || day.is_as_usual() && day.is_rest(), "{day:?}");
                    kept += usize::from(stands);
                    day.usual.retain(|usual| *usual != physio);
                    day.sessions.retain(|planned| planned.session != physio);
                    for planned in &mut day.sessions {
                        planned.usual = planned.usual.take().filter(|usual| *usual != physio);
                    }
                    assert_eq!(day, bare);
                }
            }
        }
    }
    assert!(kept > 50, "{kept}");
}

#[test]
fn words_that_are_fixed_on_a_day_stand_there_alone() {
    let coach = before(Half, SEVEN).pin(4, "rest (physio)");
    assert_eq!(coach.day(4), "rest (physio)");
    let coach = before(Half, SIX.replace("| - |", "| rest, physio |").as_str()).pin(4, "rest").pin(5, "6");
    assert_eq!(coach.day(4), "rest");
    assert!(coach.block().days.iter().flat_map(|day| &day.dropped).all(|gone| gone.usual.rest_words().is_none()));
}

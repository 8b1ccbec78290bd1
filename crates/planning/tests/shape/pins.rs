//! Days that the coach has fixed.

use planning::RaceDistance::{Half, TenK};

use crate::coach::{before, on};

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

#[test]
fn what_makes_room_for_a_fixed_day_says_so_and_nothing_else_does() {
    let free = before(Half, "8 | 8 | 8 | 8 | - | 8 | long 18");
    assert!((0..14).all(|to_race| !free.why(to_race).contains(&"around-fixed".to_owned())));
    let fixed = free.clone().pin(12, "easy 14");
    let made_room: Vec<u16> =
        (7..14).filter(|to_race| fixed.why(*to_race).contains(&"around-fixed".to_owned())).collect();
    assert!(!made_room.is_empty(), "{}", fixed.days(13, 7));
    for to_race in 7..14 {
        let shorter = on(&fixed.block(), to_race).planned_running() != on(&free.block(), to_race).planned_running();
        assert!(!made_room.contains(&to_race) || shorter, "D{to_race}");
    }
    // A shorter fixed day takes nothing from the others.
    let short = free.pin(12, "easy 4");
    assert!((0..14).all(|to_race| !short.why(to_race).contains(&"around-fixed".to_owned())));
}

#[test]
fn where_fixed_days_leave_nothing_to_the_others_they_are_as_short_as_may_be_and_the_review_says_so() {
    // 31 % of 40 km are 12.5 km; the fixed run alone is longer.
    let coach = before(Half, "- | tempo 9, hard 4 | - | 8 | - | 7 | long 16").pin(4, "easy 14");
    assert_eq!(
        coach.race_week(),
        "rest | key tempo 5 km, hard 2 km | easy 14 km | easy 3 km | rest | shake-out easy 3 km"
    );
    let block = coach.block();
    let subject = planning::review::Subject {
        block: &block,
        athlete: &coach.athlete,
        week: &coach.week,
        other_races: &[],
        events: &[],
        ran: None,
        clock_shift: None,
    };
    let rules: Vec<_> = planning::review(&subject).into_iter().map(|finding| finding.rule).collect();
    assert!(rules.contains(&planning::RuleId::CutTooSmall), "{rules:?}");
}
